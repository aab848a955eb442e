package secrets

import "strings"

// What follows weighs the words around a figure by what they are about: something
// that is locked, a code, whose code, an act that opens. One kind alone proves
// nothing, two that belong together do.

var (
	// locked are things that open by a code and hold no sums that people speak of.
	locked = set(`alarm panel siren door doors gate shutter shutters barrier lift elevator locker lockbox keysafe
		keybox padlock cage cabinet drawer ipad tablet laptop computer pc phone voicemail entrance building cellar
		basement storeroom stockroom office warehouse shed garage toilet bathroom cashbox wifi vault strongroom
		tresor keypad lock fence yard store cupboard fridge van intercom buzzer`)
	// holding are things with a code that hold sums, or show codes of their own.
	holding = set("safe till register box sejf coffre caja kluis cofre cassaforte kasa")
	// codes are words for what opens them.
	codes = set(`code codes pin pincode combo combi combination passcode password otp sequence
		código codigo codice kod clave`)
	// kinds say that a code is a person's, or what it is good for; a machine shows none of those.
	kinds = set(`personal master supervisor manager manager's operator engineer service admin duress panic holdup
		hostage override delay unset arming disarming opening entry access security door verification passcode
		staff till`)
	// acts open something.
	acts = set("open opens unlock unlocks disarm disarms unset release releases")
	// leads stand between an act and its figure.
	leads = set("with on by using is its it's use press type dial enter punch = : code")
	// parcels are what is fetched with a number that anybody may know.
	parcels = set("collection bottle plu product item article")
)

var (
	// parts are what a machine has, whose codes it shows.
	parts = set(`machine jam note notes cassette dispenser printer tray reader feed hopper transport hardware
		software network comms device system red light the a an this that same new another and with which what
		says said printed coupon bank four no same of is was other first last one some any got came gave`)
	// tells may stand between a code and its figure: "the code they texted".
	tells = set("they by text g")
	// places is where a code is used: "at the safe".
	places = set("at on for in into")
	// gates are what is said of a thing that opens beside its code: a time follows.
	gates = set("open opens opened close closed up down stuck rang test tested call shut rings")
)

// weighed finds a figure that the words around it make a secret.
func weighed(words []word, counting bool) bool {
	for i, w := range words {
		if pairOf(words, i) {
			return true
		}
		if len(w.digits) < 4 || len(w.digits) > 8 || w.unit || row(words, i) || timely(words, i) {
			continue
		}
		from, to := sentence(words, i)
		if coded(words, from, i, to) || acted(words, from, i, to) || mine(words, from, i, to) ||
			setTo(words, from, i, to) || !counting && long(words, from, i, to) {
			return true
		}
	}
	return false
}

// pairOf finds a code in two halves: "whatsapp code 884-201".
func pairOf(words []word, i int) bool {
	half := func(j int) bool { return j < len(words) && len(words[j].digits) == 3 && !words[j].unit }
	return i > 0 && half(i) && half(i+1) && !half(i+2) && words[i+1].sep != "," && codes[words[i-1].text] &&
		!shown(words, max(0, i-3), i, "")
}

// timely says that a figure may be a time of day, where a time is said.
func timely(words []word, i int) bool {
	d := words[i].digits
	return i > 0 && len(d) == 4 && d[:2] < "24" && d[2:] < "60" &&
		(moments[words[i-1].text] || gates[words[i-1].text])
}

// long finds what is said of a code and is longer than those that a machine shows,
// or has a word before it that is none of a machine's: "tech code 664120", "gym code
// 4417".
func long(words []word, from, at, to int) bool {
	for j := at - 1; j >= from && j >= at-4; j-- {
		if !codes[words[j].text] && !codeWords[words[j].text] {
			if t := words[j].text; !joins[t] && !states[t] && !gave[t] && !tells[t] {
				return false
			}
			continue
		}
		if shown(words, from, to, "machine") {
			return false
		}
		whose := j > from && words[j].sep == "" && !parts[words[j-1].text] && words[j-1].digits == ""
		banks := j > from && words[j-1].text == "bank" && at-j == 1 // its sort code
		return len(words[at].digits) >= 6 && !banks || whose && !joins[words[j-1].text]
	}
	return false
}

// setTo finds what something was set to, or what is used at it: "they reset the alarm
// to 5582", "try 226481 on the safe", "my locker is 4417".
func setTo(words []word, from, at, to int) bool {
	if strings.HasSuffix(words[at].digits, "00") || shown(words, from, to, "") {
		return false
	}
	thing := func(a, b int) bool {
		for _, w := range words[a:b] {
			if locked[w.text] || holding[w.text] {
				return true
			}
		}
		return false
	}
	if at > from && words[at-1].text == "to" && thing(from, at) {
		for _, w := range words[from:at] {
			if w.text == "set" || w.text == "reset" || w.text == "changed" {
				return true
			}
		}
	}
	if at >= from+1 && uses[words[at-1].text] && at+2 < to && places[words[at+1].text] {
		return words[at-1].text != "put" && thing(at+1, min(to, at+4))
	}
	is := at > from && (words[at-1].text == "is" || words[at-1].text == "still")
	return at >= from+2 && is && locked[words[at-2].text]
}

// uses are what one does with a code.
var uses = set("use uses try enter type press punch put using")

// row says that a figure is one of several.
func row(words []word, i int) bool {
	return i > 0 && words[i-1].digits != "" || i+1 < len(words) && words[i+1].digits != ""
}

// sentence gives the words around a figure that can be about it.
func sentence(words []word, at int) (from, to int) {
	for from = at; from > 0 && at-from < reach+1 && !strings.ContainsAny(words[from].sep, ".!?;\n"); {
		from--
	}
	for to = at + 1; to < len(words) && to-at < reach && !strings.ContainsAny(words[to].sep, ".!?;\n"); {
		to++
	}
	return from, to
}

// shown says that a machine, a slip or a letter says the figure.
func shown(words []word, from, to int, but string) bool {
	for _, w := range words[from:to] {
		if (noSecret[w.text] && !kinds[w.text] || otherCode[w.text] || parcels[w.text]) && w.text != but {
			return true
		}
	}
	return false
}

// coded finds a code with what it opens or whose it is beside it: "lift code 6624",
// "code for the cage is 9045", "panic code 3320".
func coded(words []word, from, at, to int) bool {
	for j := from; j < to; j++ {
		if !codes[words[j].text] || j == at {
			continue
		}
		kind := j > from && words[j].sep == "" && (kinds[words[j-1].text] || words[j-1].owner) ||
			j > from+1 && words[j].sep+words[j-1].sep == "" && kinds[words[j-2].text] &&
				!noSecret[words[j-1].text]
		thing := j > from && (locked[words[j-1].text] || holding[words[j-1].text]) || of(words[j+1:to])
		switch {
		case kind && !shown(words, from, to, "machine"), thing && !shown(words, from, to, ""):
			return at > j || at >= j-3
		}
	}
	return false
}

// of says that what a code is for follows it: "for the cage", "to the back door".
func of(words []word) bool {
	for i, w := range words {
		switch {
		case i == 0 && w.text != "for" && w.text != "of" && w.text != "to" && w.text != "on" && w.text != "from":
			return false
		case locked[w.text] || i > 0 && holding[w.text]:
			return true
		case i > 4 || w.digits != "":
			return false
		}
	}
	return false
}

// acted finds a figure that opens something: "the till opens with 4180", "to open it
// its 554433", "swipe then 6624 to unlock". A round one is a sum one opens with.
func acted(words []word, from, at, to int) bool {
	if strings.HasSuffix(words[at].digits, "00") || shown(words, from, to, "machine") {
		return false
	}
	for j := from; j < at; j++ {
		if acts[words[j].text] && at-j >= 2 && leads[words[at-1].text] ||
			j+1 < at && acts[words[j].text] && strings.Contains(words[at].sep, "=") {
			return true
		}
		if presses[words[j].text] && at-j <= 2 && beeps(words[at:to]) {
			return true
		}
	}
	for j := at + 1; j < to && j <= at+4; j++ {
		if (words[j].text == "opens" || words[j].text == "unlocks" || words[j].text == "unlock") &&
			words[j-1].text != "not" {
			return true
		}
	}
	return false
}

func beeps(words []word) bool {
	for _, w := range words {
		if strings.HasPrefix(w.text, "beep") {
			return true
		}
	}
	return false
}

// asks says that something asks for the figure.
func asks(words []word) bool {
	for _, w := range words {
		if w.text == "asks" || w.text == "asked" {
			return true
		}
	}
	return false
}

// mine finds a code by which somebody lends another their name: "sign with mine,
// 6624", "use my number 6624 to confirm", "i use 6624 on the shared phone".
func mine(words []word, from, at, to int) bool {
	if strings.HasSuffix(words[at].digits, "00") || shown(words, from, to, "") {
		return false
	}
	code := false
	for j := from; j < at; j++ {
		lends := words[j].text == "use" || words[j].text == "sign" || words[j].text == "confirm" ||
			words[j].text == "type" || words[j].text == "put"
		for k := j + 1; lends && k < at && k <= j+4; k++ {
			if (words[k].text == "mine" || words[k].text == "my" || words[k].owner) && at-k <= 3 {
				return true
			}
		}
		code = code || codes[words[j].text]
	}
	switch prev := words[max(0, at-1)]; {
	case at < 1:
		return false
	case uses[prev.text] && (code || asks(words[at:to])), prev.text == "with" && code, prev.text == "uses":
		return true
	case at >= 2 && prev.text == "is" && (words[at-2].text == "mine" || words[at-2].owner):
		return !strings.HasSuffix(words[at].digits, "0")
	case prev.text == "in" && at >= 2 && (uses[words[at-2].text] || words[at-2].text == "yourself"):
		return words[at].sep != "" || at+1 < to && words[at+1].text == "for"
	case prev.text == "pressing" || prev.text == "typing":
		return true
	}
	return at >= 2 && words[at-1].text == "use" && words[at-2].text == "i" &&
		(at+1 == to || words[at+1].text == "on" || words[at+1].text == "for" || words[at+1].text == "at")
}

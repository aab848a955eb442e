package rota

import (
	"slices"
	"strings"

	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
	"shopfloat/internal/when"
)

// readers read what is typed behind the command of a name.
var readers = map[string]func(*telling.Teller, string) ([]shop.Change, bool){
	"closed":     onDays(shop.Change{Closed: true}),
	"closing-at": atTime(func(change *shop.Change, m *int) { change.Close = m }),
	"opening-at": atTime(func(change *shop.Change, m *int) { change.Open = m }),
	"usual":      onDays(shop.Change{Usual: true}),
	"mute":       onDays(shop.Change{Mute: true}),
	"ill":        ill, "nobody": nobody, "duty": duty, "away": away,
}

// Read reads which days are different, and how: the whole sentence where it says so, else
// what stands behind the words of a command. A sentence that was only heard as the command
// has to say the days, and nothing that speaks against it. False: it is to be asked back.
func Read(t *telling.Teller, name, rest, typed string) ([]shop.Change, bool) {
	if list, ok := Said(t, typed); ok && name != "mute" && name != "duty" {
		return list, true
	}
	if list, ok := away(t, typed); ok {
		return list, true
	}
	n, _ := texts.Begins(typed, t.V.List("words."+name))
	if n > 0 && rest == "" && (name == "closed" || name == "nobody") { // closed over the holidays is not today
		rest = strings.Trim(typed[n:], " ,.!")
	}
	if typed != "" && n == 0 && rest != typed && (name == "closed" || name == "nobody") { // heard in a sentence
		_, left, why := telling.Reader(t).SomeDays(typed)
		if why != when.OK || rest == "" || speaksOfOpen(t, left) {
			return nil, false
		}
	}
	return readers[name](t, rest)
}

// speaksOfOpen reports whether a sentence has a figure, or a word of being open.
func speaksOfOpen(t *telling.Teller, s string) bool {
	return strings.ContainsAny(s, "0123456789") || slices.ContainsFunc(strings.Fields(s), func(w string) bool {
		return t.IsWord("of-open", strings.Trim(w, ",.!?"))
	})
}

// onDays reads the days of a change, of which nothing else is to be said; none are today.
func onDays(change shop.Change) func(*telling.Teller, string) ([]shop.Change, bool) {
	return func(t *telling.Teller, s string) ([]shop.Change, bool) {
		days, left, ok := daysIn(t, s)
		return over(change, days), ok && strings.Trim(left, " ,.!") == ""
	}
}

// daysIn finds the days in a text, and what else it says; where it names none that is today.
func daysIn(t *telling.Teller, s string) (days []when.Range, left string, ok bool) {
	days, left, why := telling.Reader(t).SomeDays(s)
	switch {
	case why == when.OK:
		return days, left, true
	case why == when.Unknown && !timely(t, s):
		return []when.Range{{From: t.Today(), To: t.Today()}}, s, true
	}
	return nil, s, false
}

// timely reports whether a text may speak of days all the same.
func timely(t *telling.Teller, s string) bool {
	r := telling.Reader(t)
	return strings.ContainsAny(s, "0123456789") || slices.ContainsFunc(strings.Fields(s), func(w string) bool {
		w = strings.Trim(w, ",.!?")
		_, why := r.Month(w, when.Ahead)
		_, weekday := r.Weekday(strings.TrimSuffix(w, "s"))
		return slices.Contains(r.Words.Units, w) || slices.Contains(r.Words.Until, w) || why == when.OK ||
			weekday || slices.Contains(r.Words.Weekend, w) || slices.Contains(r.Words.Workdays, w)
	})
}

// over lays a change on days.
func over(change shop.Change, days []when.Range) (list []shop.Change) {
	for _, d := range days {
		change.From, change.To = d.From, d.To
		list = append(list, change)
	}
	return list
}

// atTime reads a time of day and the days on which it is another one.
func atTime(set func(*shop.Change, *int)) func(*telling.Teller, string) ([]shop.Change, bool) {
	return func(t *telling.Teller, s string) (list []shop.Change, ok bool) {
		minutes, sure, rest, why := telling.Reader(t).Hour(s)
		days, left, ok := daysIn(t, rest)
		for _, d := range days {
			at, change := minutes, shop.Change{From: d.From, To: d.To}
			if !sure {
				at = t.F.Shop.Weekly(d.From).Likely(minutes) // 3 is three in the afternoon
			}
			if set(&change, &at); change.Close != nil && !sure {
				at = t.F.Shop.Weekly(d.From).LikelyClose(minutes)
			}
			list = append(list, change)
		}
		return list, ok && why == when.OK && strings.Trim(left, " ,.!") == ""
	}
}

// ill takes "until friday, fever", which the speaker says of themselves, or of somebody
// whose name stands before it. What else is said of it is nobody's business.
func ill(t *telling.Teller, s string) ([]shop.Change, bool) {
	who := t.F.Person
	if p, rest, ok := person(t, s+" "); ok {
		who, s = p, rest
	}
	days, _, ok := daysIn(t, s)
	return over(shop.Change{Absent: who.ID}, days), ok
}

// nobody takes "nobody comes, machine stays off" and days, in any order.
func nobody(t *telling.Teller, s string) ([]shop.Change, bool) {
	for _, filler := range t.V.List("words.nobody") {
		s = strings.ReplaceAll(s, filler, "")
	}
	days, _, ok := daysIn(t, strings.TrimLeft(s, " ,.;"))
	return over(shop.Change{Off: true}, days), ok
}

// away takes "ben is ill until friday", "ben and cleo are on holiday 1 to 14 december", and
// that somebody can come after all: "ben is back on monday".
func away(t *telling.Teller, s string) (list []shop.Change, ok bool) {
	who, rest, back := awayIn(t, s)
	if len(who) == 0 {
		return nil, false
	}
	if list, ok := weekly(t, who, rest, back); ok {
		return list, true
	}
	days, left, ok := daysIn(t, rest)
	if !ok || timely(t, left) || partOfDay(t, left) {
		return nil, false
	}
	if today := t.Today(); days[len(days)-1].To < today {
		days = []when.Range{{From: today, To: today}} // ill since yesterday
	}
	for _, p := range who {
		if !back {
			list = append(list, over(shop.Change{Absent: p.ID}, days)...)
			continue
		}
		list = append(list, shop.Change{From: days[0].From, To: goneUntil(t, p.ID, days[0].From), Back: p.ID})
	}
	return list, true
}

// goneUntil is the last day on which somebody said that they cannot come, days of every week apart, or
// a day if that is later.
func goneUntil(t *telling.Teller, id shop.PersonID, last shop.Date) shop.Date {
	for _, c := range t.F.Shop.Plan.Changes {
		if c.Absent == id && c.Each == "" {
			last = max(last, c.To)
		}
	}
	return last
}

// awayIn finds who a text says cannot come, or can again, and what follows.
func awayIn(t *telling.Teller, s string) (who []shop.Person, rest string, back bool) {
	s = dayLast(t, s)
	if mine := phraseOf(t, "my-holiday", s); mine != "" {
		s = "i is on holiday" + strings.TrimPrefix(s, mine)
	}
	if who, rest = people(t, whose(s)); len(who) == 0 {
		return nil, "", false
	}
	if len(who) > 1 {
		for are, is := range map[string]string{"are ": "is ", "have ": "has ", "aren't ": "isn't "} {
			if after, plural := strings.CutPrefix(rest, are); plural {
				rest = is + after
			}
		}
	}
	rest = offOn(t, rest)
	gone, again := goneOrBack(t, who, rest)
	if gone == "" && again == "" {
		return nil, "", false
	}
	if who[0].ID == t.F.Person.ID && slices.Contains(t.V.List("words.just-off"), gone) {
		if _, each := weekly(t, who, rest[len(gone):], false); !each {
			return nil, "", false // i am off now
		}
	}
	back = again != ""
	return who, strings.TrimSpace(strings.TrimPrefix(rest, texts.Either(back, again, gone))), back
}

// goneOrBack gives the words by which somebody cannot come, or can again; some of them say so only of
// days: never works on sundays, can't do friday.
func goneOrBack(t *telling.Teller, who []shop.Person, rest string) (gone, again string) {
	gone, again = phraseOf(t, "cannot-come", rest), phraseOf(t, "back-again", rest)
	if gone != "" || again != "" {
		return gone, again
	}
	never, works := phraseOf(t, "never-comes", rest), phraseOf(t, "works-on", rest)
	not := phraseOf(t, "cannot-do", rest)
	if never != "" {
		if _, is := weekly(t, who, rest[len(never):], false); is {
			return never, ""
		}
	}
	if works != "" {
		if _, is := weekly(t, who, rest[len(works):], true); is {
			return "", works
		}
	}
	if not != "" {
		if _, _, why := telling.Reader(t).SomeDays(rest[len(not):]); why == when.OK {
			return not, ""
		}
	}
	return "", ""
}

// offOn puts a day that somebody has off behind that: has wednesdays off.
func offOn(t *telling.Teller, rest string) string {
	has, is := strings.CutPrefix(rest, "has ")
	for _, off := range t.V.List("words.day-off") {
		if days, ends := strings.CutSuffix(has, " "+off); is && ends {
			_, each := telling.Reader(t).EachWeek(days)
			if _, left, why := telling.Reader(t).SomeDays(days); each || why == when.OK && left == " " {
				return "is off " + days
			}
		}
	}
	return rest
}

// weekly reads days of every week on which somebody never comes, or comes again: on wednesdays.
func weekly(t *telling.Teller, who []shop.Person, s string, back bool) (list []shop.Change, ok bool) {
	k := manner{t: t}
	days, ok := telling.Reader(t).EachWeek(k.without(s, "again"))
	if each := k.without(s, "each-week"); !ok && each != strings.TrimSpace(s) {
		var left string
		var why when.Reason
		days, left, why = telling.Reader(t).Weekdays(k.without(each, "on"))
		ok = why == when.OK && left == ""
	}
	for _, p := range who {
		for _, day := range days {
			c := shop.Change{From: t.Today(), To: shop.ForGood, Each: shop.Weekdays()[day], Absent: p.ID}
			if back {
				ok = ok && slices.ContainsFunc(t.F.Shop.Plan.Changes, func(x shop.Change) bool {
					return x.Absent == p.ID && x.Each == c.Each
				})
				c.Absent, c.Back = 0, p.ID
			}
			list = append(list, c)
		}
	}
	return list, ok && len(list) > 0
}

// dayLast puts the days that a text begins with at its end: tomorrow i cannot come.
func dayLast(t *telling.Teller, s string) string {
	_, rest, why := telling.Reader(t).SomeDays(s)
	rest = strings.TrimSpace(rest)
	if days, is := strings.CutSuffix(s, rest); why == when.OK && is && rest != "" {
		return strings.TrimLeft(rest, " ,") + " " + strings.TrimSpace(days)
	}
	return s
}

// phraseOf gives the longest phrase of a list that a text begins with.
func phraseOf(t *telling.Teller, list, s string) string {
	n, _ := texts.Begins(s, t.V.List("words."+list))
	return s[:n]
}

// people finds the people whose names a text begins with, and what follows.
func people(t *telling.Teller, s string) (who []shop.Person, rest string) {
	rest = strings.ReplaceAll(s, ",", " ,")
	for {
		p, after, ok := person(t, rest)
		if !ok {
			return nil, s
		}
		who, rest = append(who, p), strings.TrimSpace(after)
		next := ""
		for _, and := range append(t.V.List("words.and"), ",") {
			if more, is := strings.CutPrefix(rest, and+" "); is {
				next = more
			}
		}
		if next == "" {
			return who, rest
		}
		rest = next
	}
}

// SaysAway reports whether somebody says that one of the shop cannot come, or can again.
func SaysAway(t *telling.Teller, s string) bool {
	who, _, _ := awayIn(t, s)
	return len(who) > 0 || SomebodyAway(t, s)
}

// whose writes a name with a short "is" behind it out: ben's ill.
func whose(s string) string {
	for _, own := range []string{"i am ", "i'm ", "im "} { // as of another: i am on vacation
		if rest, is := strings.CutPrefix(strings.ReplaceAll(s, "’", "'"), own); is {
			return "i is " + rest
		}
	}
	if rest, is := strings.CutPrefix(s, "i have "); is {
		return "i has " + rest
	}
	if rest := strings.TrimPrefix(s, "i'll "); rest != s {
		return "i will " + rest
	}
	name, rest, _ := strings.Cut(s, " ")
	if bare, is := strings.CutSuffix(strings.ReplaceAll(name, "’", "'"), "'s"); is {
		return bare + " is " + rest
	}
	return s
}

// SomebodyAway reports whether a text says of somebody by name that they cannot come, whoever
// that is. What may be off or away is no person.
func SomebodyAway(t *telling.Teller, s string) bool {
	name, rest, _ := strings.Cut(whose(s), " ")
	phrase := func(list string) bool {
		return slices.ContainsFunc(t.V.List("words."+list), func(p string) bool {
			return strings.HasPrefix(rest+" ", p+" ")
		})
	}
	return !t.IsWord("not-people", name) && phrase("cannot-come") && !phrase("not-away")
}

// duty takes "ben opens tomorrow", and two of that kind: "i open tomorrow, ben closes". A day
// that only one of them says is meant for both.
func duty(t *telling.Teller, s string) ([]shop.Change, bool) {
	if list, _, ok := oneDuty(t, s); ok {
		return list, true
	}
	for _, and := range append(t.V.List("words.and"), ",") {
		one, other, _ := strings.Cut(strings.ReplaceAll(s, ",", " ,"), " "+and+" ")
		a, dayA, okA := oneDuty(t, one)
		b, dayB, okB := oneDuty(t, other)
		if !okA || !okB {
			continue
		}
		switch {
		case !dayA:
			a[0].From, a[0].To = b[0].From, b[0].To
		case !dayB:
			b[0].From, b[0].To = a[0].From, a[0].To
		}
		return append(a, b...), true
	}
	return nil, false
}

// oneDuty reads who opens or closes, and on which days; dated says that a day is named.
func oneDuty(t *telling.Teller, s string) (list []shop.Change, dated, ok bool) {
	p, opens, rest, ok := DutyIn(t, s)
	list, only := onDays(shop.Change{Duty: dutyOf(p.ID, opens)})(t, rest)
	return list, rest != "", ok && only
}

// person finds the person a text begins with, and what follows. "I" is the
// speaker; the longest name wins.
func person(t *telling.Teller, s string) (best shop.Person, rest string, ok bool) {
	low := texts.Fold(s) + " "
	for _, me := range []string{"i ", "me "} {
		if after, is := strings.CutPrefix(low, me); is {
			return t.F.Person, strings.TrimSpace(after), true
		}
	}
	for _, p := range t.F.Shop.People {
		after, is := strings.CutPrefix(low, texts.Fold(p.Name)+" ")
		if is && len(p.Name) > len(best.Name) {
			best, rest, ok = p, strings.TrimSpace(after), true
		}
	}
	return best, rest, ok
}

// DutyIn finds who a text says opens, or else closes, and what follows.
func DutyIn(t *telling.Teller, s string) (p shop.Person, opens bool, rest string, ok bool) {
	p, rest, ok = person(t, s)
	does, closes := phraseOf(t, "does-open", rest), phraseOf(t, "does-close", rest)
	if opens = does != ""; !opens {
		does = closes
	}
	rest = strings.TrimSpace(strings.TrimPrefix(rest, does))
	return p, opens, strings.TrimSpace(strings.TrimPrefix(rest, phraseOf(t, "the-shop", rest))), ok && does != ""
}

// dutyOf gives somebody one of the two tasks of a day.
func dutyOf(id shop.PersonID, opens bool) shop.Duty {
	if opens {
		return shop.Duty{Opens: id}
	}
	return shop.Duty{Closes: id}
}

// Days counts the days from one to another, both of them.
func Days(from, to shop.Date) int64 { return int64(to.Time().Sub(from.Time()).Hours()/24) + 1 }

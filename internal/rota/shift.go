package rota

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
	"shopfloat/internal/when"
)

// A Reader reads which days are different, and how; false: it does not say so.
type Reader func(*telling.Teller, string) (shop.Change, bool)

// OnDays reads the days of a change, of which nothing else is to be said.
func OnDays(change shop.Change) Reader {
	return func(t *telling.Teller, s string) (shop.Change, bool) {
		rest := ""
		if change.From, change.To, rest = telling.Days(t, s); rest == "" {
			return change, true
		}
		var ok bool
		change.From, change.To, ok = stretch(t, s)
		return change, ok
	}
}

// stretch reads days in other words than dates: for two weeks, in august, for christmas.
func stretch(t *telling.Teller, s string) (from, to shop.Date, ok bool) {
	r := telling.Reader(t)
	bare := s
	for _, w := range t.V.List("words.for-how-long") {
		bare = strings.TrimPrefix(bare, w+" ")
	}
	count, unit, two := strings.Cut(bare, " ")
	n, err := strconv.Atoi(count)
	if at := slices.Index(r.Words.Few, count); at >= 0 {
		n, err = at+1, nil
	} else if count == "a" {
		n, err = 1, nil
	}
	if two && err == nil && n > 0 && n < manyDays && t.IsWord("units", unit) {
		if slices.Index(t.V.List("words.units"), unit)/2 == 1 { // weeks
			n *= daysOfWeek
		}
		return t.Today(), t.Today().Add(n - 1), true
	}
	for _, w := range t.V.List("words.around-days") {
		inner, is := strings.CutPrefix(s, w+" ")
		if !is {
			continue
		}
		if from, to, rest := telling.Days(t, inner); rest == "" {
			return from, to, true
		}
		if m, why := r.Month(inner, when.Ahead); why == when.OK {
			return max(m.First(), t.Today()), m.Last(), true
		}
	}
	return "", "", false
}

// Bounds of days that are counted and not named.
const (
	manyDays   = 100
	daysOfWeek = 7
)

// AtTime reads a time of day and the days on which it is another one.
func AtTime(set func(*shop.Change, *int)) Reader {
	return func(t *telling.Teller, s string) (change shop.Change, ok bool) {
		minutes, sure, rest, why := telling.Reader(t).Hour(s)
		set(&change, &minutes)
		change, ok = OnDays(change)(t, rest)
		if !sure {
			minutes = t.F.Shop.Weekly(change.From).Likely(minutes) // 3 is three in the afternoon
		}
		return change, ok && why == when.OK
	}
}

// Ill takes "ill until friday, fever", which the speaker says.
func Ill(t *telling.Teller, s string) (shop.Change, bool) {
	from, to, _ := telling.Days(t, s) // what else was said of it is nobody's business
	return shop.Change{From: from, To: to, Absent: t.F.Person.ID}, !telling.Unclear(t, s)
}

// Nobody takes "nobody comes, machine stays off" and a day, in any order.
func Nobody(t *telling.Teller, s string) (shop.Change, bool) {
	for _, filler := range t.V.List("words.nobody") {
		s = strings.ReplaceAll(s, filler, "")
	}
	s = strings.TrimLeft(s, " ,.;")
	from, to, _ := telling.Days(t, s)
	return shop.Change{From: from, To: to, Off: true}, !telling.Unclear(t, s)
}

// Away takes "ben is ill until friday", "ben is on holiday 1 to 14 december".
func Away(t *telling.Teller, s string) (shop.Change, bool) {
	p, rest, ok := AwayIn(t, s)
	from, to, _ := telling.Days(t, rest)
	return shop.Change{From: from, To: to, Absent: p.ID}, ok && !telling.Unclear(t, rest)
}

// AwayIn finds who a text says cannot come, and what follows.
func AwayIn(t *telling.Teller, s string) (p shop.Person, rest string, ok bool) {
	p, rest, ok = person(t, whose(s))
	best := ""
	for _, phrase := range t.V.List("words.cannot-come") {
		if strings.HasPrefix(rest+" ", phrase+" ") && len(phrase) > len(best) {
			best = phrase
		}
	}
	if p.ID == t.F.Person.ID && slices.Contains(t.V.List("words.just-off"), best) {
		ok = false // i am off now
	}
	return p, strings.TrimSpace(strings.TrimPrefix(rest, best)), ok && best != ""
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

// Duty takes "ben opens tomorrow".
func Duty(t *telling.Teller, s string) (shop.Change, bool) {
	p, opens, rest, ok := DutyIn(t, s)
	change, only := OnDays(shop.Change{Duty: dutyOf(p.ID, opens)})(t, rest)
	return change, ok && only
}

// person finds the person a text begins with, and what follows. "I" is the
// speaker; the longest name wins.
func person(t *telling.Teller, s string) (best shop.Person, rest string, ok bool) {
	low := texts.Fold(s)
	if after, is := strings.CutPrefix(low, "i "); is {
		return t.F.Person, after, true
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
	word, rest, _ := strings.Cut(rest, " ")
	opens = t.IsWord("opens", word)
	return p, opens, rest, ok && (opens || t.IsWord("closes", word))
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

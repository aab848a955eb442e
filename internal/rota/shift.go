package rota

import (
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
		change.From, change.To, rest = telling.Days(t, s)
		return change, rest == ""
	}
}

// AtTime reads a time of day and the days on which it is another one.
func AtTime(set func(*shop.Change, *int)) Reader {
	return func(t *telling.Teller, s string) (change shop.Change, ok bool) {
		minutes, rest := telling.TimeOfDay(s)
		set(&change, &minutes)
		change, ok = OnDays(change)(t, rest)
		if minutes >= 0 && !when.SaidHalf(s, rest) {
			minutes = t.F.Shop.Weekly(change.From).Likely(minutes) // 3 is three in the afternoon
		}
		return change, ok && minutes >= 0
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
	p, rest, ok = person(t, s)
	best := ""
	for _, phrase := range t.V.List("words.cannot-come") {
		if strings.HasPrefix(rest+" ", phrase+" ") && len(phrase) > len(best) {
			best = phrase
		}
	}
	return p, strings.TrimSpace(strings.TrimPrefix(rest, best)), ok && best != ""
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

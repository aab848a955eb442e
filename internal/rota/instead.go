package rota

import (
	"strconv"
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
	"shopfloat/internal/when"
)

// Instead answers that one of the shop comes later, or that somebody works for another, with
// what may be done about it: nothing is laid down by that alone, since neither says who opens
// and who closes. False: the text says neither.
func Instead(t *telling.Teller, text string) (r chat.Reply, ok bool) {
	low := strings.Trim(texts.Fold(text), " .!")
	if c, is := late(t, low); is {
		away := shop.Change{Absent: c.who.ID, From: c.day, To: c.day}
		return chat.Reply{Body: []chat.Block{chat.Lines(t.V.Say("instead.late", "name", c.who.Name),
			t.V.Say("instead.late-how", "time", telling.ClockText(c.at), "day", t.Between(c.day, c.day)))},
			Buttons: StandIns(t, away)}, true
	}
	p, change, is := covers(t, low)
	if !is {
		return r, false
	}
	id := "." + Compact(change.From) + "." + strconv.FormatInt(int64(p.ID), 10)
	return chat.Reply{
		Body: []chat.Block{{Text: t.V.Say("instead.covers", "name", p.Name, "other", t.Name(change.Absent),
			"day", t.Between(change.From, change.To))}},
		Buttons: [][]chat.Button{t.Button("opens", "o:duty:opens"+id, "name", p.Name),
			t.Button("closes", "o:duty:closes"+id, "name", p.Name)}}, true
}

// coming is that somebody comes later than the shop opens.
type coming struct {
	who shop.Person
	day shop.Date
	at  int // minutes after midnight; an hour after the opening, for an example, where nobody says
}

// late finds who a text says comes later: i am running late, ben is 20 minutes late, i will be in
// at 10 tomorrow, ben can't come before 11.
func late(t *telling.Teller, low string) (c coming, ok bool) {
	who, rest, ok := person(t, whose(low)+" ")
	if alone := phraseOf(t, "late-alone", low); !ok && alone != "" {
		who, rest, ok = t.F.Person, "is "+low, true
	}
	if !ok {
		return c, false
	}
	if c, ok = arrives(t, rest); ok {
		c.who = who
		return c, true
	}
	rest = withoutLength(t, rest)
	phrase := phraseOf(t, "comes-late", rest)
	left := strings.Trim(strings.TrimPrefix(rest, phrase), " ,")
	if c, ok = arrives(t, left); ok && phrase != "" { // stuck in traffic, be there at 9
		c.who = who
		return c, true
	}
	day, left, ok := oneDay(t, left)
	c = coming{who, day, (usualOf(t, day).Open + 60) % shop.DayMinutes}
	return c, ok && phrase != "" && (left == "" || t.IsWord("late-for", left))
}

// withoutLength leaves out how long something takes: 20 minutes.
func withoutLength(t *telling.Teller, s string) string {
	k := manner{t: t}
	words := strings.Fields(s)
	kept := words[:0]
	for i := 0; i < len(words); i++ {
		if i+1 < len(words) && k.howLong(words[i]+" "+words[i+1]) > 0 {
			i++
			continue
		}
		kept = append(kept, words[i])
	}
	return strings.Join(kept, " ")
}

// oneDay finds the one day that a text names, not a past one, and what else it says; today where
// it names none.
func oneDay(t *telling.Teller, s string) (day shop.Date, left string, ok bool) {
	days, left, why := telling.Reader(t).SomeDays(s)
	if why != when.OK {
		return t.Today(), s, true
	}
	day = days[0].From
	return day, strings.Trim(left, " ,"), len(days) == 1 && day == days[0].To && day >= t.Today()
}

// arrives reads when somebody comes, if that is after the opening: will be in at 10 tomorrow.
func arrives(t *telling.Teller, s string) (c coming, ok bool) {
	comes, not := phraseOf(t, "comes-at", s), phraseOf(t, "comes-not-before", s)
	if len(not) > len(comes) {
		comes = not
	}
	day, left, ok := oneDay(t, strings.TrimSpace(s[len(comes):]))
	left = strings.TrimSpace(left[len(phraseOf(t, "about-time", left)):])
	at, sure, left, why := telling.Reader(t).Hour(left)
	usual := usualOf(t, day)
	if afternoon := at + shop.DayMinutes/2; !sure && at < usual.Open && afternoon < usual.Close {
		at = afternoon // comes at 2
	}
	left = strings.Trim(left, " ,")
	return coming{day: day, at: at}, ok && comes != "" && why == when.OK && at > usual.Open &&
		(left == "" || t.IsWord("late-for", left))
}

// covers finds who a text says works for somebody else, and on which day: cleo covers for ben
// tomorrow, cleo does my shift.
func covers(t *telling.Teller, low string) (p shop.Person, c shop.Change, ok bool) {
	p, rest, ok := person(t, whose(low)+" ")
	if !ok {
		return p, c, false
	}
	phrase := phraseOf(t, "covers", strings.TrimSpace(rest))
	other, rest, named := t.F.Person, strings.TrimPrefix(strings.TrimSpace(rest), phrase)+" ", false
	for _, me := range t.V.List("words.for-me") {
		if after, is := strings.CutPrefix(rest, " "+me+" "); is {
			rest, named = after, true
		}
	}
	if !named {
		if other, rest, named = person(t, strings.TrimSpace(whose(strings.TrimSpace(rest)))+" "); named {
			rest = strings.TrimPrefix(rest, "is shift")
		}
	}
	days, left, dated := daysIn(t, strings.TrimSpace(rest))
	if phrase == "" || !named || !dated || other.ID == p.ID || len(days) != 1 || days[0].From != days[0].To ||
		days[0].From < t.Today() || strings.Trim(left, " ,.") != "" {
		return p, c, false
	}
	return p, shop.Change{From: days[0].From, To: days[0].To, Absent: other.ID}, true
}

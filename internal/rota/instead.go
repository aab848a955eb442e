package rota

import (
	"strconv"
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// Instead answers that one of the shop comes later, or that somebody works for another, with
// what may be done about it: nothing is laid down by that alone, since neither says who opens
// and who closes. False: the text says neither.
func Instead(t *telling.Teller, text string) (r chat.Reply, ok bool) {
	low := strings.Trim(texts.Fold(text), " .!")
	if p, is := late(t, low); is {
		today := shop.Change{Absent: p.ID, From: t.Today(), To: t.Today()}
		return chat.Reply{Body: []chat.Block{chat.Lines(t.V.Say("instead.late", "name", p.Name),
			t.V.Say("instead.late-how", "time", telling.ClockText(laterOpening(t))))},
			Buttons: StandIns(t, today)}, true
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

// laterOpening is an hour after the opening of today, for an example.
func laterOpening(t *telling.Teller) int {
	return (usualOf(t, t.Today()).Open + 60) % shop.DayMinutes
}

// late finds who a text says comes later: i am running late, ben is 20 minutes late.
func late(t *telling.Teller, low string) (p shop.Person, ok bool) {
	p, rest, ok := person(t, whose(low)+" ")
	if !ok {
		return p, false
	}
	k := manner{t: t}
	words := strings.Fields(rest)
	kept := words[:0]
	for i := 0; i < len(words); i++ {
		if i+1 < len(words) && k.howLong(words[i]+" "+words[i+1]) > 0 {
			i++ // 20 minutes
			continue
		}
		kept = append(kept, words[i])
	}
	rest = strings.Join(kept, " ")
	phrase := phraseOf(t, "comes-late", rest)
	left := strings.Trim(strings.TrimPrefix(rest, phrase), " ,")
	return p, phrase != "" && (left == "" || t.IsWord("today", left) || t.IsWord("late-for", left))
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

// Package readback lines up what was counted, the cards of a checklist and the places of a
// person, to be read back or chosen from. It asks nothing and writes nothing.
package readback

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/counts"
	"shopfloat/internal/lines"
	"shopfloat/internal/telling"
)

// SiteName names a shop, and its machine where there are several.
func SiteName(t *telling.Teller, s chat.Site) string {
	if s.Shop.Name == "" {
		return t.V.Say("place-new")
	}
	if s.Machine == nil || len(s.Shop.Machines) < 2 {
		return s.Shop.Name
	}
	return t.V.Say("place", "shop", s.Shop.Name, "machine", s.Shop.Machine(s.Machine.ID).Name)
}

// SiteRef is what a button says that chooses a place.
func SiteRef(s chat.Site) string {
	id := int64(0)
	if s.Machine != nil {
		id = int64(s.Machine.ID)
	}
	return "s-" + strconv.FormatInt(int64(s.Shop.ID), 10) + "." + strconv.FormatInt(id, 10)
}

// LevelsInWords tells what is in the boxes in one line: 40 x 50s, 150 x 20s.
func LevelsInWords(t *telling.Teller, list []lines.Line, p *books.Period) string {
	var parts []string
	for _, l := range list {
		n, _ := p.Estimate(l.Box)
		parts = append(parts, t.V.Count("notes-of", n, "kind", t.V.Kind(l.Face)))
	}
	return strings.Join(parts, ", ")
}

// BothCounts lines up the first count and the second one by kind of note.
func BothCounts(t *telling.Teller, list []lines.Line, first, second cashmath.Notes) chat.Block {
	rows := [][]string{{"", t.V.Say("col.first"), t.V.Say("col.second")}}
	for _, l := range list {
		rows = append(rows, []string{t.V.Kind(l.Face), t.V.Number(first[l.Face]), t.V.Number(second[l.Face])})
	}
	return chat.Columns(1, rows)
}

// Listed reads back the lines that have notes, below a sentence of the catalogue.
func Listed(t *telling.Teller, list []lines.Line, v []int64, above string) []chat.Block {
	var named []lines.Line
	var counts []int64
	for i, n := range v {
		if n > 0 {
			named, counts = append(named, list[i]), append(counts, n)
		}
	}
	table, _ := telling.CountTable(t, named, counts)
	return []chat.Block{{Text: t.V.Say(above)}, table}
}

// Guessed asks back counts that were not said for sure: 50s 150? 20s 200?
func Guessed(t *telling.Teller, list []lines.Line, items []counts.Item) string {
	var said []string
	for _, it := range items {
		said = append(said, t.V.Kind(list[it.Line].Face)+" "+t.V.Number(it.Notes)+"?")
	}
	return t.V.Say("guessed", "counts", strings.Join(said, " "))
}

// Typed gives counts as they can be typed: 50x12 20x60, or #1 12 where several boxes hold a kind.
func Typed(t *telling.Teller, list []lines.Line, items []counts.Item) string {
	var said []string
	for _, it := range items {
		l := list[it.Line]
		same := func(o lines.Line) bool { return o.Face == l.Face && o.Box != l.Box }
		key := string(l.Face) + "x"
		if slices.ContainsFunc(list, same) {
			key = "#" + strconv.Itoa(l.Box) + " "
		}
		said = append(said, key+strconv.FormatInt(it.Notes, 10))
	}
	return strings.Join(said, ", ")
}

// Differs says that a total that was typed is not what the counts beside it come to; empty where it is.
func Differs(t *telling.Teller, list []lines.Line, res counts.Result) string {
	v := make([]int64, len(list))
	for _, it := range res.Items {
		v[it.Line] = it.Notes
	}
	sum, total := lines.NotesOf(list, v).Value(), cashmath.AmountOf(res.Total)
	if sum.Equal(total) {
		return ""
	}
	return t.V.Say("total-differs", "sum", t.V.Money(sum), "total", t.V.Money(total))
}

// WhereTried asks where the notes of the test payout went.
func WhereTried(t *telling.Teller, p *books.Period, places []books.Place) chat.Reply {
	r := chat.Reply{Key: telling.TicksCardKey(t, p.No), Body: []chat.Block{chat.Lines(
		t.V.Say("title-of", "what", t.V.Say("title.test"), "day", t.DayYear(t.DayOf(p))),
		t.V.Say("ticks.trial", "trial", telling.TrialWord(p)))}}
	for _, where := range places {
		r.Buttons = append(r.Buttons,
			t.Button("where-"+string(where), telling.TicksTap(t, p, "test-"+string(where))))
	}
	r.Buttons = append(r.Buttons, t.Button("not-tried", telling.TicksTap(t, p, "test-none")))
	return r
}

// HowChecked asks how the notes were checked, where the law asks a shop to.
func HowChecked(t *telling.Teller, p *books.Period, ways []string) chat.Reply {
	r := chat.Reply{Key: telling.TicksCardKey(t, p.No), Body: []chat.Block{{Text: t.V.Say("ticks.how")}}}
	for _, how := range ways {
		r.Buttons = append(r.Buttons, t.Button("checked-"+how, telling.TicksTap(t, p, "checked-"+how)))
	}
	return r
}

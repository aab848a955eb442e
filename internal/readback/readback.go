// Package readback lines up what was counted, the cards of a checklist and the places of a
// person, to be read back or chosen from. It asks nothing and writes nothing.
package readback

import (
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/counts"
	"shopfloat/internal/lines"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
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

// Swap reads back a note box that was taken out and the one put in for it.
func Swap(t *telling.Teller, l lines.Line, out, in int64) []chat.Block {
	row := func(id string, n int64) []string {
		return []string{t.V.Say(id), t.V.Count("notes", n), t.V.Money(cashmath.Value(l.Face, n))}
	}
	return []chat.Block{{Text: t.V.Say("review.swap", "line", telling.LineName(t, l))},
		chat.Columns(1, [][]string{row("taken-out", out), row("put-in", in)})}
}

// SwapHolds says how much more or less the machine holds after a box was swapped.
func SwapHolds(t *telling.Teller, l lines.Line, more int64) string {
	diff := cashmath.Value(l.Face, more)
	word := "swapped-more"
	switch {
	case diff.IsZero():
		word = "swapped-same"
	case diff.IsNegative():
		word = "swapped-less"
	}
	return t.V.Say(word, "money", t.V.Money(diff.Abs()))
}

// Guessed asks back counts that were not said for sure: 50s 150? 20s 200?
func Guessed(t *telling.Teller, list []lines.Line, items []counts.Item) string {
	var said []string
	for _, it := range items {
		said = append(said, t.V.Kind(list[it.Line].Face)+" "+t.V.Number(it.Notes)+"?")
	}
	return t.V.Say("guessed", "counts", strings.Join(said, " "))
}

// Differs says that a total that was typed is not what the counts beside it come to; empty where it is.
func Differs(t *telling.Teller, list []lines.Line, res counts.Result) string {
	sum, total := lines.NotesOf(list, lines.ByLine(len(list), res.Items)).Value(), cashmath.AmountOf(res.Total)
	if sum.Equal(total) {
		return ""
	}
	return t.V.Say("total-differs", "sum", t.V.Money(sum), "total", t.V.Money(total))
}

// Printed compares a sum that is printed with counts that are read back; empty where the figure may be a
// count, or where not every line is answered (below none).
func Printed(t *telling.Teller, list []lines.Line, v []int64, says string) string {
	amount, code := counts.ParseAmount(says, t.Digits())
	if code != counts.OK || slices.ContainsFunc(v, func(n int64) bool { return n < 0 }) {
		return ""
	}
	sum, printed := lines.NotesOf(list, v).Value(), cashmath.AmountOf(amount)
	small := printed.IsInteger() && lines.Fits(list[0], printed.IntPart()).Why == ""
	switch {
	case sum.Equal(printed):
		return t.V.Say("printed-same", "money", t.V.Money(sum))
	case small && counts.Digits(says):
		return ""
	}
	return t.V.Say("printed-other", "printed", t.V.Money(printed), "money", t.V.Money(sum))
}

// Doubted asks back a count that is probably a slip, and offers what may be meant.
func Doubted(t *telling.Teller, list []lines.Line, v []int64, i int, d lines.Doubt) (
	[]chat.Block, [][]chat.Button,
) {
	l, typed := list[i], v[i]
	if len(d.More) > 0 {
		return amounts(t, list, v, append([]int{i}, d.More...))
	}
	body := []chat.Block{{Text: texts.Upper(t.V.Say("doubt."+d.Why,
		"line", telling.LineName(t, l), "kind", t.V.Kind(l.Face), "typed", t.V.Number(typed),
		"notes", t.V.Count("notes", typed), "money", t.V.Money(cashmath.Value(l.Face, typed)),
		"capacity", t.V.Number(l.Capacity), "usual", t.V.Number(l.Usual), "meant", t.V.Count("notes", d.Likely),
		"amount", t.V.Money(decimal.NewFromInt(typed))))}}
	if d.Why == "empty" {
		return body, [][]chat.Button{t.Button("empty", "keep"), t.Button("count-again", "again")}
	}
	var rows [][]chat.Button
	if d.Likely > 0 {
		rows = append(rows, []chat.Button{{Label: t.V.Count("button.notes", d.Likely), Data: "use"}})
	}
	if !d.Hard && d.Why != "value" {
		rows = append(rows, t.Button("keep", "keep", "n", t.V.Number(typed)))
	}
	return body, append(rows, t.Button("change", "again"))
}

// amounts reads back several amounts of money as notes.
func amounts(t *telling.Teller, list []lines.Line, v []int64, which []int) ([]chat.Block, [][]chat.Button) {
	var body []chat.Block
	for _, i := range which {
		body = append(body, chat.Block{Text: t.V.Say("doubt.values", "kind", t.V.Kind(list[i].Face),
			"money", t.V.Money(cashmath.Value(list[i].Face, v[i])), "typed", t.V.Count("notes", v[i]))})
	}
	return append(body, chat.Block{Text: t.V.Say("right")}), [][]chat.Button{t.Button("yes", "use"),
		t.Button("change", "again")}
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

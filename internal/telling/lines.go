package telling

import (
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/counts"
	"shopfloat/internal/lines"
)

// LineName names a line: "top box, 50s", or "20s" for a kind of note.
func LineName(t *Teller, l lines.Line) string {
	if l.Box == 0 {
		return t.V.Kind(l.Face)
	}
	return t.V.Say("box-line", "box", BoxName(t, l), "kind", t.V.Kind(l.Face))
}

// BoxName names a note box by where it sits.
func BoxName(t *Teller, l lines.Line) string {
	return t.V.Say("box."+boxPlace(l), "n", l.Box)
}

// boxPlace is the word for where a note box sits, by which its names are kept.
func boxPlace(l lines.Line) string {
	switch {
	case l.Of == 1:
		return "only"
	case l.Box == 1:
		return "top"
	case l.Box == l.Of:
		return "bottom"
	case l.Of == 3:
		return "middle"
	}
	return "number"
}

// LineOrder names the lines in the order a whole answer has: 50s 20s 10s.
func LineOrder(t *Teller, list []lines.Line) string {
	kinds := make([]string, len(list))
	for i, l := range list {
		kinds[i] = t.V.Kind(l.Face)
	}
	return strings.Join(kinds, " ")
}

// CountTable shows lines with their notes and money, and the total below.
func CountTable(t *Teller, list []lines.Line, v []int64) (chat.Block, decimal.Decimal) {
	var total decimal.Decimal
	rows := make([][]string, 0, len(list)+1)
	for i, l := range list {
		if v[i] < 0 {
			continue
		}
		money := cashmath.Value(l.Face, v[i])
		total = total.Add(money)
		row := []string{t.V.Kind(l.Face), t.V.Count("notes", v[i]), t.V.Money(money)}
		if l.Box > 0 {
			row = append([]string{boxShort(t, l)}, row...)
		}
		rows = append(rows, row)
	}
	if len(rows) > 1 {
		last := make([]string, len(rows[0]))
		last[len(last)-1] = t.V.Money(total)
		rows = append(rows, last)
	}
	left := 1
	if len(list) > 0 && list[0].Box > 0 {
		left = 2
	}
	return chat.Columns(left, rows), total
}

// boxShort names a box in a table.
func boxShort(t *Teller, l lines.Line) string {
	return t.V.Say("box-short."+boxPlace(l), "n", l.Box)
}

// TrayLine says what was counted in the box for refused notes, unless it was
// passed over.
func TrayLine(t *Teller, tray books.Notes, passed bool) string {
	switch {
	case passed:
		return t.V.Say("review.no-tray")
	case len(tray) > 0:
		return t.V.Say("review.tray", "notes", t.Notes(tray))
	}
	return t.V.Say("review.tray-empty")
}

// CountProblem says what was not understood and shows the right form.
func CountProblem(t *Teller, list []lines.Line, p counts.Problem) string {
	id := strings.ReplaceAll(p.Code.String(), " ", "-")
	kind, example := "", LineExample(list)
	if p.Face != "" {
		kind = t.V.Kind(cashmath.Face(p.Face))
	}
	var each []string // a number for each of the boxes that hold the kind
	for _, l := range list {
		if string(l.Face) == p.Face {
			each = append(each, strconv.Itoa(150-50*(len(each)%3)))
		}
	}
	if p.Code == counts.AmbiguousFace {
		example = strings.Join(each, "+")
	}
	few := t.V.List("few")
	return t.V.Say("problem."+id, "near", p.Near, "kind", kind, "kinds", LineOrder(t, list),
		"example", example, "boxes", few[min(len(each), len(few)-1)], "max", t.V.Number(counts.MaxNotes))
}

// LineExample shows the right form for some lines.
func LineExample(list []lines.Line) string {
	parts := make([]string, 0, len(list))
	for i, l := range list {
		parts = append(parts, string(l.Face)+"x"+strconv.Itoa(40+30*i))
	}
	return strings.Join(parts, " ")
}

// unanswered marks a line that is not answered yet.
const unanswered int64 = -1

// Answered lists the lines that are answered, like "20s 150".
func Answered(t *Teller, list []lines.Line, v []int64) (out []string) {
	for i, n := range v {
		if n != unanswered && i < len(list) {
			out = append(out, t.V.Kind(list[i].Face)+" "+t.V.Number(n))
		}
	}
	return out
}

// Retyped gives the counts of lines as they could be typed again: by the kind of note, or by the
// box where two boxes hold one kind; sparse leaves out those of none.
func Retyped(t *Teller, list []lines.Line, v []int64, sparse bool) string {
	var parts []string
	kinds := map[cashmath.Face]int{}
	for _, l := range list {
		kinds[l.Face]++
	}
	for i, l := range list {
		if v[i] == unanswered || v[i] == 0 && sparse {
			continue
		}
		name := string(l.Face) + "x"
		if kinds[l.Face] > 1 {
			name = BoxName(t, l) + ": "
		}
		parts = append(parts, name+strconv.FormatInt(v[i], 10))
	}
	return strings.Join(parts, ", ")
}

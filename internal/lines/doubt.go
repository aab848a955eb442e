package lines

import (
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/counts"
)

// Doubt is why a count is asked back. What is more than the books can explain is asked
// back and still recorded when somebody insists: a record may be missing, and the notes
// in somebody's hand are what counts.
type Doubt struct {
	Why    string // catalogue name after "doubt."; empty for none
	Likely int64  // the probable count; 0 for none
	Hard   bool   // cannot be as typed
	More   []int  // value: other lines written as money, asked back together
}

// Common practice, no source.
const (
	WeekOfLoads   = 7    // usual loads that come from the bank, or go there, at a time at most
	manyCancelled = 10   // notes of a kind, all that were paid out, from which on it is asked back
	manyRefused   = 50   // notes of a kind in the box for refused notes, from which on it is asked back
	clearlyMoney  = 1000 // a number from here on that can be an amount of money is asked back wherever it stands
)

// Paid asks back a printed figure above what was put in: probably money. Where more was
// taken out than put in, what was taken out says nothing.
func Paid(p *books.Period, l Line, n int64) Doubt {
	var in, out int64
	for _, b := range p.Boxes {
		if b.Face == l.Face {
			in, out = in+b.Loaded+b.Added, out+b.Removed
		}
	}
	if out <= in {
		in -= out
	}
	return more(l, n, in, "money-paid", "paid-more")
}

// Back asks back more cancelled notes than were paid out, and all of many.
func Back(l Line, n, paid int64) Doubt {
	if n == paid && n >= manyCancelled {
		return Doubt{Why: "back-all"}
	}
	return more(l, n, paid, "money-back", "back-more")
}

// Nothing asks back a box in which nothing was counted, whether that was to be expected or
// not: the words tell nothing of what should be there. A box may have been forgotten.
func Nothing(n int64) Doubt {
	if n == 0 {
		return Doubt{Why: "empty"}
	}
	return Doubt{}
}

// EmptyAgain reports whether a box that is asked back as empty is said to be so once more.
func EmptyAgain(d Doubt, text string, req counts.Request) bool {
	if d.Why != "empty" {
		return false
	}
	res := counts.Parse(text, req)
	return Nought(res) && res.Problem == nil && res.Items[0].Line == req.Next
}

// Denied reports whether a text begins with a no and has no figure: what was asked back is not so.
func Denied(text string, noes []string) bool {
	first, _, _ := strings.Cut(text, " ")
	return slices.Contains(noes, strings.Trim(first, ",.!")) && !hasFigure(text)
}

// Nought reports whether nothing was typed but a none.
func Nought(res counts.Result) bool { return len(res.Items) == 1 && res.Items[0].Notes == 0 }

// AllEqual reports whether each of several boxes holds the same number, of which there is some.
func AllEqual(v []int64) bool {
	return len(v) > 1 && v[0] > 0 && !slices.ContainsFunc(v, func(n int64) bool { return n != v[0] })
}

// RoundMoney gives the first of several counts as notes for that sum, where all of them are
// round hundreds and sums that notes make: money was typed, probably. 0: nothing speaks for it.
func RoundMoney(list []Line, v []int64) (at int, notes int64) {
	some := 0
	for i := len(v) - 1; i >= 0; i-- {
		likely, ok := AsMoney(list[i], v[i])
		if v[i] != 0 && (v[i]%100 != 0 || !ok) {
			return 0, 0
		}
		if v[i] > 0 {
			at, notes, some = i, likely, some+1
		}
	}
	if some < 2 {
		return 0, 0
	}
	return at, notes
}

// Either gives notes of one kind that can be notes of another as well, as 20x50 can be
// fifty 20s or twenty 50s: their line, the other one, and how many notes that were.
func Either(list []Line, v []int64) (at, other int, notes int64, ok bool) {
	for i, n := range v {
		if n <= 0 {
			continue
		}
		if ok {
			return 0, 0, 0, false
		}
		at, ok = i, true
	}
	if !ok {
		return 0, 0, 0, false
	}
	other = slices.IndexFunc(list, func(l Line) bool { return string(l.Face) == strconv.FormatInt(v[at], 10) })
	notes, err := strconv.ParseInt(string(list[at].Face), 10, 64)
	return at, other, notes, other >= 0 && other != at && err == nil
}

// Out asks back more notes taken out than can be in the box.
func Out(p *books.Period, l Line, n int64) Doubt {
	level, _ := p.Estimate(l.Box)
	return more(l, n, level, "money-out", "not-there")
}

// Refused asks back more refused notes than a day usually has, whatever was put in.
func Refused(l Line, n int64) Doubt { return more(l, n, manyRefused, "money-refused", "refused-many") }

// Above asks back a count as money where all that was typed is above the most cash
// allowed inside; else it is asked back for what the box holds.
func Above(l Line, n int64, typed, limit decimal.Decimal) Doubt {
	if d := Fits(l, n); d.Why != "" || !limit.IsPositive() || !typed.GreaterThan(limit) {
		return d
	}
	if notes, ok := AsMoney(l, n); ok {
		return Doubt{Why: "money-limit", Likely: notes}
	}
	return Doubt{}
}

// more asks back a count above the most it can be: as money that would be right, else
// for its own sake.
func more(l Line, n, most int64, money, why string) Doubt {
	if n <= most {
		return Doubt{}
	}
	if notes, ok := AsMoney(l, n); ok && notes <= most {
		return Doubt{Why: money, Likely: notes}
	}
	return Doubt{Why: why}
}

// Fits asks back a count that is more than the box holds. It knows only the box, so it
// may be asked while nobody may see what should be there.
func Fits(l Line, n int64) Doubt {
	if l.Capacity == 0 || n <= l.Capacity {
		return Doubt{}
	}
	if notes, ok := AsMoney(l, n); ok && notes <= l.Capacity {
		return Doubt{Why: "money", Likely: notes, Hard: true}
	}
	return Doubt{Why: "capacity", Likely: slid(n, l.Capacity), Hard: true}
}

// Left asks back more notes left in a box than were ever put in. What was put in is what
// people typed themselves, so it tells nobody what should be there.
func Left(p *books.Period, l Line, n int64) Doubt {
	d := Fits(l, n)
	b := p.Box(l.Box)
	if b == nil || n <= b.Held {
		return d
	}
	if notes, ok := AsMoney(l, n); ok && notes <= b.Held {
		return Doubt{Why: "money-left", Likely: notes, Hard: d.Hard}
	}
	if d.Hard {
		return Doubt{Why: "capacity", Likely: slid(n, b.Held), Hard: true}
	}
	return Doubt{Why: "left-more", Likely: slid(n, b.Held)}
}

// Added asks back what the box cannot hold, or may not hold on top of what is in it.
func Added(p *books.Period, l Line, n, usual int64) Doubt {
	if d := Fits(l, n); d.Why != "" {
		return d
	}
	level, shown := p.Estimate(l.Box)
	if level+n <= l.Capacity {
		much := n >= clearlyMoney || usual > 0 && n > usual && far(n, usual)
		if notes, ok := AsMoney(l, n); ok && much && level+notes <= l.Capacity {
			return Doubt{Why: "money-usual", Likely: notes}
		}
		return Doubt{}
	}
	d := Doubt{Why: "over-full"}
	if shown {
		d.Likely = max(l.Capacity-level, 0)
	}
	return d
}

// Outside asks back a move between till, safe and bank that is above the most this shop
// moves (0: not known) or above the most cash allowed inside, or that looks like money.
func Outside(l Line, n, most int64, above bool) Doubt {
	notes, asMoney := AsMoney(l, n)
	switch {
	case (!asMoney || n < clearlyMoney) && (most == 0 || n <= most) && !above:
		return Doubt{}
	case asMoney && (most == 0 || notes <= most):
		return Doubt{Why: "money-usual", Likely: notes}
	}
	return Doubt{Why: "far-move"}
}

// slid is a count with one nought less, or two, that is at most so many notes; 0
// where there is none.
func slid(n, most int64) int64 {
	for _, slid := range []int64{n / 10, n / 100} {
		if slid > 0 && slid <= most && n%10 == 0 {
			return slid
		}
	}
	return 0
}

// AsMoney reads a number of notes as an amount of money.
func AsMoney(l Line, n int64) (notes int64, ok bool) {
	notes, ok = cashmath.NotesFor(decimal.NewFromInt(n), l.Face)
	return notes, ok && notes > 0 && notes != n
}

// Load asks back a load that does not fit, is probably an amount of money, or is far from
// what the shop usually loads.
func Load(l Line, n int64) Doubt {
	if d := Fits(l, n); d.Why != "" {
		if d.Likely == 0 && l.Usual > 0 {
			d.Likely = l.Usual
		}
		return d
	}
	if l.Usual == 0 || !far(n, l.Usual) {
		return Doubt{}
	}
	if notes, ok := AsMoney(l, n); ok && !far(notes, l.Usual) {
		return Doubt{Why: "money-usual", Likely: notes}
	}
	if n == 0 {
		return Doubt{Why: "none", Likely: l.Usual}
	}
	for _, slid := range []int64{n / 10, n * 10} {
		if slid != n && near(slid, l.Usual) {
			return Doubt{Why: "far", Likely: slid}
		}
	}
	return Doubt{Why: "far", Likely: l.Usual}
}

// far reports whether a count is outside a third to three times the usual one,
// and by more than a handful of notes. Common practice, no source.
func far(n, usual int64) bool {
	return (n*3 < usual || n > usual*3) && max(n-usual, usual-n) > 20
}

// near reports whether a count is between half and twice the usual one.
func near(n, usual int64) bool { return n*2 >= usual && n <= usual*2 }

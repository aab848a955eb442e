// Package filed prints a day and a month for the folder on the shelf, as PDF: A4
// or Letter, in the shop's language and money, with lines to sign and a check
// word. It is pure, and alone knows the library.
//
// The one font is embedded with the letters that are used; it has those of the
// Latin, Greek and Cyrillic alphabets.
package filed

import (
	"fmt"
	"io"
	"slices"
	"time"

	"github.com/go-pdf/fpdf"
	"github.com/shopspring/decimal"
	"golang.org/x/image/font/gofont/goregular"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
	"shopfloat/internal/texts"
)

// Options say how to print.
type Options struct {
	Letter bool // else A4
	Voice  *texts.Voice
	Names  func(shop.PersonID) string
	Made   time.Time // on the shop's clock
}

// Sizes in millimetres and points.
const (
	edge     = 15.0
	lineHigh = 6.0
	rowHigh  = 4.6 // a month of 31 days and its total go on one page, also of A4
	small    = 8.0
	usual    = 10.0
	large    = 14.0
)

type page struct {
	*fpdf.Fpdf
	o    Options
	m    *tally.Machine
	wide float64 // between the edges
	step float64 // from row to row of a table
}

func newPage(m *tally.Machine, o Options, across bool) *page {
	size, turn := "A4", "P"
	if o.Letter {
		size = "Letter"
	}
	if across {
		turn = "L"
	}
	p := &page{Fpdf: fpdf.New(turn, "mm", size, ""), o: o, m: m, step: lineHigh}
	p.AddUTF8FontFromBytes("go", "", goregular.TTF)
	p.SetCatalogSort(true)
	p.SetCreationDate(o.Made)
	p.SetModificationDate(o.Made)
	p.SetMargins(edge, edge, edge)
	p.SetAutoPageBreak(true, edge+lineHigh)
	p.AliasNbPages(allPages)
	p.SetFooterFunc(p.foot)
	w, _ := p.GetPageSize()
	p.wide = w - 2*edge
	return p
}

// foot is the same on every page: what it is of, the check word, the number.
func (p *page) foot() {
	p.SetY(-edge)
	p.SetFont("go", "", small)
	of := p.o.Voice.Say("filed.foot-plain", "shop", p.m.Shop.Name, "machine", p.m.Kit.Name)
	if p.m.Word != "" {
		of = p.o.Voice.Say("filed.foot", "shop", p.m.Shop.Name, "machine", p.m.Kit.Name, "word", p.m.Word)
	}
	p.CellFormat(p.wide, lineHigh, p.fit(of, p.wide*0.8), "T", 0, "L", false, 0, "")
	p.SetX(edge)
	more := p.GetStringWidth(allPages) - p.GetStringWidth("0") // the number takes its place at the end
	p.CellFormat(p.wide+more, lineHigh, fmt.Sprintf("%d / "+allPages, p.PageNo()), "", 0, "R", false, 0, "")
}

// allPages stands for how many pages there are until that is known.
const allPages = "{pages}"

func (p *page) say(size float64, s string) {
	p.SetFont("go", "", size)
	p.MultiCell(p.wide, lineHigh, s, "", "L", false)
}

// halved parts words where the longer part is shortest.
func (p *page) halved(s string) (above, below string) {
	below = s
	for i, r := range s {
		longer := max(p.GetStringWidth(s[:i]), p.GetStringWidth(s[i:]))
		if r == ' ' && longer < max(p.GetStringWidth(above), p.GetStringWidth(below)) {
			above, below = s[:i], s[i+1:]
		}
	}
	return above, below
}

// row writes cells of a table; the first is words, the others are figures.
func (p *page) row(widths []float64, cells []string, border string) {
	for i, c := range cells {
		align := "R"
		if i == 0 {
			align = "L"
		}
		p.CellFormat(widths[i], p.step, p.fit(c, widths[i]), border, 0, align, false, 0, "")
	}
	p.Ln(p.step)
}

// fit shortens words to a width.
func (p *page) fit(s string, width float64) string {
	if p.GetStringWidth(s) <= width-2 {
		return s
	}
	r := []rune(s)
	for len(r) > 0 && p.GetStringWidth(string(r)+"…") > width-2 {
		r = r[:len(r)-1]
	}
	return string(r) + "…"
}

// sign leaves lines to sign on.
func (p *page) sign(ids ...string) {
	p.Ln(2 * lineHigh)
	if _, h := p.GetPageSize(); p.GetY() > h-edge-5*lineHigh {
		p.AddPage()
	}
	p.SetFont("go", "", usual)
	for _, id := range ids {
		p.Ln(lineHigh)
		p.CellFormat(p.wide*0.3, lineHigh, p.o.Voice.Say(id), "", 0, "L", false, 0, "")
		p.CellFormat(p.wide*0.6, lineHigh, "", "B", 1, "L", false, 0, "")
	}
	p.Ln(lineHigh)
	p.say(small, p.o.Voice.Say("filed.note"))
}

func (p *page) date(d shop.Date) string {
	return p.o.Voice.Day(d.Time()) + " " + d.Time().Format("2006")
}

// Day prints one day of a machine.
func Day(to io.Writer, m *tally.Machine, date shop.Date, o Options) error {
	p := newPage(m, o, false)
	p.AddPage()
	p.say(large, m.Shop.Name)
	p.say(usual, o.Voice.Say("filed.day", "machine", m.Kit.Name, "day", p.date(date)))
	p.Ln(lineHigh)
	found := false
	for _, d := range m.Days {
		if d.Date != date || d.Late {
			continue
		}
		found = true
		for _, period := range d.Periods {
			p.period(period)
		}
		p.money(d)
	}
	if !found {
		p.say(usual, o.Voice.Say("filed.none"))
	}
	p.sign("filed.counted", "filed.second", "filed.checked")
	return p.Output(to)
}

// lines of the table of a period, in the order of the day.
var dayLines = []struct {
	id    string
	notes func(cashmath.Day) cashmath.Notes
}{
	{"filed.loaded", func(d cashmath.Day) cashmath.Notes { return d.Loaded }},
	{"filed.added", func(d cashmath.Day) cashmath.Notes { return joined(d.Topups) }},
	{"filed.removed", func(d cashmath.Day) cashmath.Notes { return joined(d.Removed) }},
	{"filed.paid", func(d cashmath.Day) cashmath.Notes { return d.Dispensed }},
	{"filed.back", func(d cashmath.Day) cashmath.Notes { return d.Reversed }},
	{"filed.test", func(d cashmath.Day) cashmath.Notes { return d.Test }},
	{"filed.left", func(d cashmath.Day) cashmath.Notes { return d.Remaining }},
	{"filed.refused", func(d cashmath.Day) cashmath.Notes { return d.Rejects }},
	{"filed.found", func(d cashmath.Day) cashmath.Notes { return d.Found }},
}

func joined(list []cashmath.Notes) cashmath.Notes {
	sum := cashmath.Notes{}
	for _, n := range list {
		for f, c := range n {
			sum[f] += c
		}
	}
	return sum
}

// period prints notes by kind, and the difference.
func (p *page) period(of *books.Period) {
	day, v := of.Day(), p.o.Voice
	faces := of.Loaded().Faces()
	widths := []float64{p.wide * 0.34}
	head := []string{v.Say("filed.notes")}
	for _, f := range faces {
		widths = append(widths, p.wide*0.44/float64(len(faces)))
		head = append(head, v.Kind(f))
	}
	widths, head = append(widths, p.wide*0.22), append(head, v.Say("filed.money"))
	p.SetFont("go", "", usual)
	p.row(widths, head, "B")
	for _, l := range dayLines {
		p.counts(widths, v.Say(l.id), faces, l.notes(day))
	}
	switch {
	case of.Status != books.Closed || of.Has(books.Unsettled):
		p.say(usual, v.Say("filed.unknown"))
	case of.TotalOnly():
		p.row([]float64{p.wide * 0.78, p.wide * 0.22}, []string{v.Say("filed.variance"), v.Money(of.Variance)}, "T")
	default:
		p.counts(widths, v.Say("filed.variance"), faces, cashmath.Notes(of.ByFace))
	}
	if of.EndedBy != 0 && p.o.Names != nil {
		p.say(usual, v.Say("filed.closed", "who", p.o.Names(of.EndedBy), "when",
			v.Clock(of.Ended.In(p.m.Shop.Location))))
	}
	for _, m := range []books.Mark{books.AtOnce, books.Uncounted} {
		if of.Has(m) {
			p.say(usual, v.Say("past."+string(m)))
		}
	}
	p.Ln(lineHigh)
}

// counts prints a line of numbers of notes with their sum.
func (p *page) counts(widths []float64, name string, faces []cashmath.Face, n cashmath.Notes) {
	cells := []string{name}
	for _, f := range faces {
		cells = append(cells, p.o.Voice.Number(n[f]))
	}
	p.row(widths, append(cells, p.o.Voice.Money(n.Value())), "")
}

// money prints what the bank owes and paid for a day.
func (p *page) money(d *tally.Day) {
	v := p.o.Voice
	widths := []float64{p.wide * 0.78, p.wide * 0.22}
	for _, l := range []struct {
		id    string
		value decimal.Decimal
	}{{"filed.due", d.Due}, {"filed.credited", d.Credited}, {"filed.fees", d.Fees}, {"filed.charges", d.Charges},
		{"filed.disputed", d.Disputed}, {"filed.open", d.Open()}} {
		p.row(widths, []string{v.Say(l.id), v.Money(l.value)}, "")
	}
}

type column struct {
	id string
	of int
}

// monthColumns are the columns of the month's table, by place in [tally.Columns], with
// what was given up and the tax in the fees behind them.
var monthColumns = []column{{"filed.paid", 2}, {"filed.back", 3}, {"filed.variance", 5}, {"filed.due", 6},
	{"filed.credited", 7}, {"filed.fees", 8}, {"filed.charges", 9},
	{"filed.given-up", len(tally.Columns)}, {"filed.open", 11}}

// columnsOf adds the tax where the shop says that there is some.
func columnsOf(m *tally.Machine) []column {
	if !m.Shop.Fee.VAT.IsPositive() && tally.Total(m.Days).Tax.IsZero() {
		return monthColumns
	}
	tax := column{"filed.tax", len(tally.Columns) + 1}
	return slices.Insert(slices.Clone(monthColumns), 6, tax)
}

// table begins a table whose head stands on each page it is on.
func (p *page) table(widths []float64, head []string) {
	p.SetHeaderFunc(func() {
		p.say(large, p.m.Shop.Name)
		p.say(usual, p.o.Voice.Say("filed.month", "machine", p.m.Kit.Name, "from", p.date(p.m.From),
			"to", p.date(p.m.To)))
		p.SetFont("go", "", small)
		if upper, lower := p.halves(widths, head); upper != nil {
			p.row(widths, upper, "")
			p.row(widths, lower, "B")
		} else {
			p.row(widths, head, "B")
		}
	})
}

// headFull is how much of its column a head may take on one line: more of it reads as one
// with the next.
const headFull = 0.8

// halves parts heads that are too long for their columns over two lines; none where all fit.
func (p *page) halves(widths []float64, head []string) (upper, lower []string) {
	fit := true
	for i, h := range head {
		above, below := "", h
		if p.GetStringWidth(h) > widths[i]*headFull {
			above, below = p.halved(h)
			fit = false
		}
		upper, lower = append(upper, above), append(lower, below)
	}
	if fit {
		return nil, nil
	}
	return upper, lower
}

// Month prints the days of a machine's span with their totals, then what the bank paid
// and took.
func Month(to io.Writer, m *tally.Machine, o Options) error {
	p := newPage(m, o, true)
	p.step = rowHigh
	widths := []float64{p.wide * 0.16}
	head := []string{o.Voice.Say("filed.date")}
	for _, c := range columnsOf(m) {
		widths = append(widths, p.wide*0.84/float64(len(columnsOf(m))))
		head = append(head, o.Voice.Say(c.id))
	}
	p.table(widths, head)
	p.AddPage()
	p.SetFont("go", "", small)
	for _, d := range m.Days {
		name := p.date(d.Date)
		if d.Late {
			name = o.Voice.Say("past.for-day", "day", p.o.Voice.Day(d.Date.Time()))
		}
		p.row(widths, p.cells(name, d), "")
	}
	p.row(widths, p.cells(o.Voice.Say("filed.total"), tally.Total(m.Days)), "T")
	if len(m.Payments) > 0 {
		p.payments()
	}
	p.sign("filed.made", "filed.checked")
	return p.Output(to)
}

// paymentColumns are the columns of what the bank paid and took, with the part of the
// width that each takes; the amounts are those of [tally.Payment.Amounts].
var paymentColumns = []struct {
	id   string
	wide float64
}{{"filed.date", 0.14}, {"filed.reference", 0.2}, {"filed.for-day", 0.12}, {"filed.credited", 0.09},
	{"filed.fees", 0.09}, {"filed.charges", 0.09}, {"filed.disputed", 0.09}, {"filed.loose", 0.09},
	{"filed.came", 0.09}}

// payments prints what the bank paid and took, in parts by what it was for; the last
// column adds up to the change of the bank account.
func (p *page) payments() {
	var widths []float64
	var head []string
	for _, c := range paymentColumns {
		widths, head = append(widths, p.wide*c.wide), append(head, p.o.Voice.Say(c.id))
	}
	line := func(cells []string, of *tally.Payment, border string) {
		for _, v := range of.Amounts() {
			cells = append(cells, p.o.Voice.Money(v))
		}
		p.row(widths, cells, border)
	}
	p.table(widths, head)
	p.AddPage()
	p.SetFont("go", "", small)
	for i := range p.m.Payments {
		x, day, of := &p.m.Payments[i], "", p.date(p.m.Payments[i].Date)
		if x.ClaimDay != "" {
			day = p.o.Voice.Day(x.ClaimDay.Time())
		}
		if x.Late {
			of = p.o.Voice.Say("past.for-day", "day", p.o.Voice.Day(x.Date.Time()))
		}
		line([]string{of, x.Reference(), day}, x, "")
	}
	line([]string{p.o.Voice.Say("filed.total"), "", ""}, tally.Came(p.m.Payments), "T")
}

func (p *page) cells(name string, d *tally.Day) []string {
	cells, amounts := []string{name}, append(d.Amounts(), d.GivenUp, d.Tax)
	for _, c := range columnsOf(p.m) {
		s := p.o.Voice.Money(amounts[c.of])
		if c.of == tally.VarianceColumn && d.Unknown {
			s = p.o.Voice.Say("filed.not-known")
		}
		cells = append(cells, s)
	}
	return cells
}

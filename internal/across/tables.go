package across

import (
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/bygone"
	"shopfloat/internal/chat"
	"shopfloat/internal/dues"
	"shopfloat/internal/leaks"
	"shopfloat/internal/owing"
	"shopfloat/internal/rota"
	"shopfloat/internal/shop"
	"shopfloat/internal/stand"
	"shopfloat/internal/tally"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
	"shopfloat/internal/when"
)

// leakDays is how far back is looked for differences that keep coming back. The machine's
// own command looks at all of them.
const leakDays = 180

// tables are the commands that tell of all shops.
var tables map[string]table

func init() {
	month := table{head: "all.month", row: monthRow, into: "month", sums: 3, live: true,
		cols: []string{"col.paid-out", "col.difference", "col.open"}}
	export := month
	export.into, export.file = "export", true
	tables = map[string]table{
		"overview": {head: "all.overview", row: stateRow, into: "status",
			cols: []string{"all.col-state", "all.col-todo", "all.col-last"}},
		"owed": {head: "all.owed", row: owedRow, into: "owed", sums: 1, live: true, one: true,
			cols: []string{"all.col-since", "all.col-owed"}},
		"month": month, "export": export,
		"float": {head: "all.float", row: floatRow, into: "float", sums: 3, live: true, one: true,
			cols: []string{"all.col-there", "all.col-bank", "all.col-gap"}},
		"leaks":  {head: "all.leaks", line: leakLine, into: "leaks", live: true},
		"agenda": {head: "all.agenda", line: agendaLine, into: "agenda"},
	}
}

// span is the days that are told of.
type span struct{ first, last shop.Date }

func (s span) from(t *telling.Teller) string { return dayIn(t, s.first) }
func (s span) to(t *telling.Teller) string   { return dayIn(t, s.last) }

func dayIn(t *telling.Teller, d shop.Date) string {
	if d == "" {
		return ""
	}
	return t.V.Day(d.Time())
}

// spanOf reads what else was said, and puts it in a form that a button can carry.
func spanOf(t *telling.Teller, tb table, w *Wish) (sp span, problem *chat.Block) {
	switch {
	case tb.sums == 3 && !tb.one:
		return monthOf(t, tb, w)
	case tb.one && w.Words != "":
		words := w.Words
		if word, after, _ := strings.Cut(words, " "); t.IsWord("at", word) {
			words = after
		}
		from, to, unread := telling.PastDays(t, strings.ToLower(words))
		if unread != "" || from != to {
			return sp, refuse(t, "past.no-day", words)
		}
		w.Words, sp = string(from), span{from, to}
	default:
		w.Words = ""
	}
	return sp, nil
}

func monthOf(t *telling.Teller, tb table, w *Wish) (span, *chat.Block) {
	form, rest := formOf(t, tb, w.Words)
	today := t.Today().Time()
	m, why := when.Month{Year: today.Year(), Month: today.Month()}, when.OK
	if rest != "" {
		m, why = telling.Reader(t).Month(rest, when.Back)
	}
	if why != when.OK {
		return span{}, refuse(t, "past.no-month", rest)
	}
	w.Words = strings.TrimSpace(m.First().Time().Format("2006-01") + " " + form)
	return span{m.First(), m.Last()}, nil
}

func refuse(t *telling.Teller, id, near string) *chat.Block {
	b := chat.Lines(t.V.Say(id, "near", near))
	return &b
}

func number(n int64) decimal.Decimal { return decimal.NewFromInt(n) }

func flag(is bool) decimal.Decimal {
	if is {
		return number(1)
	}
	return decimal.Zero
}

// share is how much of a whole something is: what can be compared between currencies.
func share(part, of decimal.Decimal) decimal.Decimal {
	if of.IsZero() {
		return part.Abs()
	}
	return part.Abs().DivRound(of.Abs(), 6)
}

// stateRow tells how a machine stands: open or not, what is to be done, the last difference.
func stateRow(t *telling.Teller, _ span) row {
	p, last, missing := t.M.Current(), "", decimal.Zero
	state, late := t.V.Say("all.closed"), false
	if p != nil {
		state = t.V.Say("all.open", "when", t.V.Clock(t.Local(p.Opened)))
		if late = overdue(t, p); late {
			state = t.V.Say("all.open-since", "day", t.V.Day(t.Local(p.Opened)))
		}
	}
	if l := t.M.Last(); l != nil && l.Status == books.Closed && !t.Hidden() && l.Verdict != books.NotComplete {
		last, missing = t.V.Money(l.Variance), l.Variance
	}
	todo, faults := int64(len(telling.Todo(t))), int64(len(t.M.Faults))
	return row{cells: []string{state, t.V.Number(todo + faults), last},
		rank: [4]decimal.Decimal{flag(late), number(faults), flag(!missing.IsZero()), number(todo)}}
}

// overdue reports whether a period should have been closed on an evening before.
func overdue(t *telling.Teller, p *books.Period) bool {
	return t.F.Shop.Nightly && !telling.SameDay(t.Local(p.Opened), t.Local(t.Now))
}

// oldest is how many of what is still to come are looked through for one that is late.
const oldest = 12

// owedReach is for how many days back it is told what was owed for all machines together; for
// a day before, one is chosen, since much is to be read for it.
const owedReach = 92

// owedRow tells what the bank owes for a machine, and since when the oldest of it is late; or
// what it owed at the end of a day, and what became of it.
func owedRow(t *telling.Teller, sp span) row {
	if sp.last != "" {
		then, became := owing.SumAt(t, sp.last)
		return row{cells: []string{became, t.V.Money(then.Owed)}, money: []decimal.Decimal{then.Owed},
			rank: [4]decimal.Decimal{decimal.Zero, flag(!then.Left().IsZero()), flag(then.Owed.IsPositive())}}
	}
	sum, since, late := t.Owed("").Sum, "", int64(0)
	for _, x := range t.Claims(dues.Wanted{Is: dues.Still, Limit: oldest}) {
		if late == 0 && telling.Late(t, x) {
			since = t.V.Say("all.late", "day", t.V.Day(x.On.Time()))
			late = int64(t.Today().Time().Sub(x.On.Time()) / (24 * time.Hour))
		}
	}
	return row{cells: []string{since, t.V.Money(sum)}, money: []decimal.Decimal{sum},
		rank: [4]decimal.Decimal{number(late), flag(sum.IsPositive())}}
}

// monthRow adds up the days of a machine.
func monthRow(t *telling.Teller, sp span) row {
	m, err := bygone.Past(t, sp.first, sp.last)
	if err != nil {
		return row{cells: []string{t.V.Say("all.unread"), "", ""}, rank: [4]decimal.Decimal{number(1)}}
	}
	all := tally.Total(m.Days)
	return row{cells: []string{t.V.Money(all.PaidOut), bygone.Difference(t, all), t.V.Money(all.Open())},
		money: []decimal.Decimal{all.PaidOut, all.Variance, all.Open()},
		rank: [4]decimal.Decimal{decimal.Zero, share(all.Variance, all.PaidOut), flag(all.Unknown),
			share(all.Open(), all.PaidOut)}}
}

// floatRow tells what is in a machine and what is still to come for it, and what is gone.
func floatRow(t *telling.Teller, _ span) row {
	s := stand.Now(t.M)
	gap := s.Sum().Sub(s.PutIn())
	return row{cells: []string{t.V.Money(s.Inside), t.V.Money(s.ByBank), t.V.Money(gap)},
		money: []decimal.Decimal{s.Inside, s.ByBank, gap},
		rank:  [4]decimal.Decimal{flag(!s.Missing().IsZero()), flag(gap.IsNegative()), share(gap, s.PutIn())}}
}

// leakLine tells of small differences that keep coming back, of late.
func leakLine(t *telling.Teller) row {
	then, entries := t.Lately(t.Today().Add(-leakDays))
	days, err := leaks.LearnOn(t.F.Shop, then, entries)
	if err != nil {
		return row{line: t.V.Say("leaks.unread"), rank: [4]decimal.Decimal{number(1)}}
	}
	var going []leaks.Leak
	enough, ended := false, func(l leaks.Leak) bool { return l.Ended }
	for _, k := range leaks.Look(days, t.Kit.Faces()) {
		enough = enough || k.Enough()
		going = append(going, slices.DeleteFunc(slices.Clone(k.Leaks), ended)...)
	}
	line := t.V.Say(texts.Either(enough, "all.leaks-none", "all.leaks-early"))
	if len(going) > 0 {
		line = leaks.Line(t.V, going[0])
	}
	return row{line: line, rank: [4]decimal.Decimal{decimal.Zero, number(int64(len(going))), flag(enough)}}
}

// agendaLine tells what is due next at a machine; what is late longest comes first.
func agendaLine(t *telling.Teller) row {
	at, line, ok := rota.Next(t)
	if !ok {
		return row{line: t.V.Say("all.agenda-none"), rank: [4]decimal.Decimal{number(-1 << 40)}}
	}
	late := number(int64(t.Now.Sub(at) / time.Minute))
	return row{line: strings.TrimPrefix(line, "- "), rank: [4]decimal.Decimal{late}}
}

// Commands lists the commands that tell of all shops.
func Commands() []string { return slices.Sorted(maps.Keys(tables)) }

// Package letters writes the letter of the week that an owner gets over all their shops, in
// the words of package telling; what of it is worst is judged by package reminders.
package letters

import (
	"slices"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/advice"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/lessons"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/tasks"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// Bounds of a letter, beside [reminders.LetterLines].
const (
	partsLines  = 7 // of several machines; those that do not go in are named
	factsShown  = 4 // of one machine
	namesShown  = 8 // in one line
	helpsWithin = time.Hour
)

// SitesOf are the machines of an owner, as far as it matters who writes the letter.
func SitesOf(list []chat.Estate, now time.Time) (sites []reminders.Site) {
	for _, e := range list {
		last := len(e.Machine.Recent) - 1
		used := last >= 0 && now.Sub(e.Machine.Recent[last].Recorded).Abs() < chat.PastReach
		sites = append(sites, reminders.Site{Shop: e.Shop, Machine: e.Machine.ID, InUse: used})
	}
	return sites
}

// letter is what a weekly letter is made of.
type letter struct {
	*telling.Teller
	until   shop.Date
	parts   []*part
	several bool
	first   bool // some machine's records began within the week
}

// begun reports whether the records of a machine began within the week.
func begun(past []books.Entry, until shop.Date) bool {
	return len(past) > 0 && past[0].Seq == 1 && !past[0].Recorded.Before(until.Add(-weekDays).Time())
}

// part is what a letter tells of one machine.
type part struct {
	*telling.Teller
	chat.Estate
	week  week
	rank  reminders.Week
	facts []string
	label string
	used  bool
}

// Weekly tells an owner of the seven days before a date over all their machines: one
// letter a week, the worst first. Nil where nothing is to be told. Voice speaks for a shop.
func Weekly(
	t *telling.Teller, list []chat.Estate, until shop.Date, voice func(*shop.Shop) *texts.Voice,
) []chat.Block {
	l := letter{Teller: t, until: until}
	for i, site := range SitesOf(list, t.Now) {
		e := list[i]
		if e.Shop.Plan.Summary == "off" {
			continue
		}
		p := &part{Estate: e, used: site.InUse, label: labelOf(list, e)}
		p.Teller = &telling.Teller{V: voice(e.Shop), F: chat.Facts{Shop: e.Shop}, M: e.Machine,
			Kit: e.Shop.Machine(e.Machine.ID), Now: t.Now, Guides: t.Guides}
		past := e.Past()
		p.week = weekBefore(p.Teller, past, until)
		l.first = l.first || begun(past, until)
		p.judge(until)
		l.parts = append(l.parts, p)
	}
	l.several = len(l.parts) > 1
	if !slices.ContainsFunc(l.parts, func(p *part) bool { return p.week.planned > 0 || len(p.week.paid) > 0 }) {
		return nil
	}
	last := slices.DeleteFunc([]string{l.paid(), l.orders(), l.helped(), l.missed(), telling.CopyLine(t),
		telling.ProofLine(t), l.check(), l.why()}, func(s string) bool { return s == "" })
	lines := []string{l.head()}
	if room := min(reminders.LetterLines-1-len(last), partsLines); l.several {
		lines = append(lines, l.worst(room)...)
	} else {
		lines = append(lines, l.alone(room)...)
	}
	return []chat.Block{chat.Lines(append(lines, last...)...)}
}

// missed says what was not understood in the week, in all shops.
func (l letter) missed() string {
	var list []chat.Missed
	seen := map[shop.ID]bool{}
	for _, p := range l.parts {
		since := l.until.Add(-weekDays).Time()
		for _, m := range p.Missed {
			if !seen[p.F.Shop.ID] && !m.Last.Before(since) {
				list = append(list, m)
			}
		}
		seen[p.F.Shop.ID] = true
	}
	return lessons.Line(l.V, list)
}

// labelOf names a machine among those of an owner.
func labelOf(list []chat.Estate, e chat.Estate) string {
	name := e.Shop.Name
	same := 0
	for _, other := range list {
		if other.Shop.ID == e.Shop.ID {
			same++
		}
	}
	if m := e.Shop.Machine(e.Machine.ID); m != nil && same > 1 {
		name += ", " + m.Name
	}
	return name
}

func (l letter) head() string {
	from, to := l.V.Day(l.until.Add(-weekDays).Time()), l.V.Day(l.until.Add(-1).Time())
	if !l.several {
		return l.V.Say("week.head", "from", from, "to", to)
	}
	return l.V.Count("letter.head", int64(len(l.parts)), "from", from, "to", to)
}

// judge lists what is to be said of a machine, the worst first.
func (p *part) judge(until shop.Date) {
	p.differences(true, &p.rank.Apart)
	at := tasks.At{Shop: p.F.Shop, Machine: p.M, DayOf: p.DayOf}
	if open := at.Unclosed(until.Add(-1)); open != nil {
		p.rank.Unclosed++
		p.say("letter.unclosed", "day", p.V.Day(p.DayOf(open).Time()))
	}
	p.late()
	closed := texts.Either(p.F.Shop.Nightly, "letter.closed", "letter.figures")
	p.missed("letter.opened", p.week.opened)
	p.missed(closed, p.week.closed)
	p.rank.Changes = int(p.week.changes)
	p.count("letter.changes", p.week.changes)
	p.count("letter.ticks", p.unticked(until))
	p.differences(false, &p.rank.Small)
	p.count("letter.noted", p.week.noted)
	if p.F.Shop.Plan.Hold != nil {
		p.say("letter.held")
	}
}

func (p *part) say(id string, fill ...any) { p.facts = append(p.facts, p.V.Say(id, fill...)) }

func (p *part) count(id string, n int64) {
	if n > 0 {
		p.facts = append(p.facts, p.V.Count(id, n))
	}
}

// differences tells the closings that did not balance: those above what the shop lets
// pass, or the others.
func (p *part) differences(above bool, n *int) {
	for _, a := range p.week.apart {
		if a.above == above {
			*n++
			p.say(texts.Either(a.by.IsNegative(), "week.missing", "week.over"),
				"day", p.V.Day(a.date.Time()), "money", p.V.Money(a.by.Abs()))
		}
	}
}

// missed tells on how many days a task was done in time, where it was not on all.
func (p *part) missed(id string, inTime int) {
	if n := p.week.planned - inTime; n > 0 && p.used {
		p.rank.Missed += n
		p.say(id, "n", inTime, "of", p.week.planned)
	}
}

// unticked counts the checklists at hand, of earlier days, that were not ticked off.
func (p *part) unticked(until shop.Date) (n int64) {
	for _, x := range p.M.Periods {
		if len(x.Ticks) > 0 && p.DayOf(x) < until {
			n++
		}
	}
	return n
}

// longest is within how many days anything is long overdue.
const longest = 60

// late tells of money that the bank owes beyond its day; while somebody counts, figures
// of the machine stay unsaid.
func (p *part) late() {
	if p.Due == nil {
		return
	}
	today := shop.DateOf(p.Local(p.Now))
	long := today // the last day of which what was due on it is long overdue
	for long > today.Add(-longest) && p.Now.Before(reminders.LongOverdue(p.F.Shop, long)) {
		long = long.Add(-1)
	}
	p.rank.LongOwed += p.Due(long.Add(1)).Count
	owed := p.Due(today).Sum
	if owed.IsPositive() && !p.Blind {
		p.facts = append(p.facts, p.V.Say("letter.late", "money", p.V.Money(owed)))
	}
}

// alone are the lines of the only machine.
func (l letter) alone(room int) []string {
	p := l.parts[0]
	times := texts.Either(p.F.Shop.Nightly, "letter.times", "letter.times-figures")
	lines := []string{p.V.Say(times, "opened", p.week.opened, "closed", p.week.closed, "of", p.week.planned)}
	if len(p.week.apart) == 0 {
		lines = append(lines, p.V.Say("week.balanced"))
	}
	facts := slices.DeleteFunc(slices.Clone(p.facts), func(s string) bool {
		return s == p.V.Say("letter.opened", "n", p.week.opened, "of", p.week.planned) ||
			s == p.V.Say("letter.closed", "n", p.week.closed, "of", p.week.planned) ||
			s == p.V.Say("letter.figures", "n", p.week.closed, "of", p.week.planned)
	})
	return append(lines, cut(l.V, facts, min(factsShown, room-len(lines)))...)
}

// worst are the lines of several machines, as many as there is room for: those with something
// to say of them, the worst first, and then the names of the others.
func (l letter) worst(room int) (lines []string) {
	told, well, idle := l.sorted()
	var more []string
	room -= min(len(well), 1) + min(len(idle), 1)
	if len(told) > room {
		for _, p := range told[room-1:] {
			more = append(more, p.label)
		}
		told = told[:room-1]
	}
	for _, p := range told {
		lines = append(lines, p.label+": "+strings.Join(cut(l.V, p.facts, factsShown), "; "))
	}
	for _, group := range []struct {
		id    string
		names []string
	}{{"letter.more", more}, {"letter.well", well}, {"letter.idle", idle}} {
		if len(group.names) > 0 {
			lines = append(lines, l.V.Say(group.id, "who", strings.Join(cut(l.V, group.names, namesShown), ", ")))
		}
	}
	return lines
}

// sorted parts the machines into those with something to say of them, the worst first, and
// the names of those that are well and of those that nobody uses.
func (l letter) sorted() (told []*part, well, idle []string) {
	ranks := make([]reminders.Week, len(l.parts))
	for i, p := range l.parts {
		ranks[i] = p.rank
	}
	for _, i := range reminders.WorstFirst(ranks) {
		switch p := l.parts[i]; {
		case !p.used:
			idle = append(idle, p.label)
		case len(p.facts) == 0:
			well = append(well, p.label)
		default:
			told = append(told, p)
		}
	}
	return told, well, idle
}

// cut keeps the first of a list, and says how many more there are.
func cut(v *texts.Voice, list []string, most int) []string {
	if len(list) <= most {
		return list
	}
	return append(slices.Clone(list[:most-1]), v.Count("letter.others", int64(len(list)-most+1)))
}

// paid tells what the machines paid out: of one by kind, of several in money.
func (l letter) paid() string {
	if p := l.parts[0]; !l.several {
		if len(p.week.paid) == 0 {
			return ""
		}
		return p.V.Say("letter.paid-kinds", "money", p.V.Money(p.week.paid.Value()), "notes", p.Notes(p.week.paid))
	}
	var sums []string
	for _, currency := range l.currencies() {
		var sum decimal.Decimal
		for _, p := range currency {
			sum = sum.Add(p.week.paid.Value())
		}
		if sum.IsPositive() {
			sums = append(sums, currency[0].V.Money(sum))
		}
	}
	if len(sums) == 0 {
		return ""
	}
	return l.V.Say("letter.paid", "money", telling.Sums(l.V, sums))
}

// currencies groups the machines by the money they pay.
func (l letter) currencies() (groups [][]*part) {
	for _, p := range l.parts {
		i := slices.IndexFunc(groups, func(g []*part) bool { return g[0].F.Shop.Currency == p.F.Shop.Currency })
		if i < 0 {
			groups = append(groups, nil)
			i = len(groups) - 1
		}
		groups[i] = append(groups[i], p)
	}
	return groups
}

// orders says, before three or more days without a bank, what to order and by when.
func (l letter) orders() string {
	var said []string
	for _, group := range l.currencies() {
		gap, ok := reminders.NextGap(group[0].F.Shop.Currency, l.until)
		if !ok {
			continue
		}
		needs, money := books.Notes{}, decimal.Decimal{}
		for _, p := range group {
			for f, n := range p.needs(gap) {
				needs.Plus(f, n)
				money = money.Add(cashmath.Value(f, n))
			}
		}
		v := group[0].V
		what := v.Say("letter.nothing")
		if len(needs) > 0 {
			what = v.Say("letter.needs", "notes", group[0].Notes(needs), "money", v.Money(money))
		}
		said = append(said, v.Say("letter.order", "days", group[0].Between(gap.First, gap.Last),
			"by", v.Day(gap.OrderBy.Time()), "what", what))
	}
	return strings.Join(said, " ")
}

// needs is what a machine is advised to hold for days without a bank; nothing where it
// does not pay on them.
func (p *part) needs(gap reminders.Gap) books.Notes {
	if !p.used || p.Kit == nil || p.F.Shop.Plan.Hold != nil {
		return nil
	}
	known, err := p.Learned()
	if err != nil {
		return nil
	}
	past, err := known.Past(p.F.Shop)
	if err != nil {
		return nil
	}
	o, err := advice.NewOutlook(p.F.Shop, p.Kit, past, gap.First)
	if err != nil {
		return nil
	}
	a, err := o.For(gap.Last, nil)
	if err != nil {
		return nil
	}
	notes := books.Notes{}
	for _, line := range a.Lines {
		notes.Plus(line.Face, line.Enough)
	}
	return notes
}

// helped says how many tasks were reminded of, and how many were done soon after.
func (l letter) helped() string {
	var n, helped int64
	without := map[reminders.Task]bool{}
	for _, p := range l.parts {
		for _, r := range p.Reminded {
			if !l.tells(r.Name) {
				continue
			}
			if n++; p.done(r) {
				helped++
			} else {
				without[r.Name.Task] = true
			}
		}
	}
	if n == 0 {
		return l.V.Say("letter.no-reminder")
	}
	line := l.V.Count("letter.reminders", n, "helped", helped)
	for _, task := range []reminders.Task{reminders.Opening, reminders.Closing} {
		if without[task] {
			line += " " + l.V.Say("letter.in-vain", "what", l.V.Say("letter.task-"+string(task)))
		}
	}
	return line
}

// tells reports whether a reminder is one of those that the letter counts.
func (l letter) tells(n reminders.Name) bool {
	daily := n.Task == reminders.Opening || n.Task == reminders.Closing
	return daily && n.Date < l.until && n.Date >= l.until.Add(-weekDays)
}

// done reports whether what people were reminded of was done soon after.
func (p *part) done(r chat.Reminded) bool {
	at := p.week.first[r.Name.Date]
	if r.Name.Task == reminders.Closing {
		at = p.week.last[r.Name.Date]
	}
	return !at.IsZero() && !at.Before(r.First) && !at.After(r.Last.Add(helpsWithin))
}

// check gives the check words of the records, to be kept outside of them.
func (l letter) check() string {
	if !l.several {
		return l.V.Say("note.check", "word", l.parts[0].Check)
	}
	var words []string
	for _, p := range l.parts {
		if p.used {
			words = append(words, p.label+" "+p.Check)
		}
	}
	return l.V.Say("letter.checks", "words", strings.Join(cut(l.V, words, namesShown), ", "))
}

// why says once what the check word is for.
func (l letter) why() string {
	if !l.first {
		return ""
	}
	return l.V.Say("note.check-why")
}

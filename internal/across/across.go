// Package across tells of all machines of all shops of somebody at once: a table with a line
// for each, the worst first, and a button into each. Who may see what is asked for each shop
// by itself, and money of different currencies is never added up. It asks nothing, writes
// nothing, and reads of a machine no more than a table needs.
package across

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/chat"
	"shopfloat/internal/readback"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// Card names the cards of such tables.
const Card = "all"

// pageLines bounds the machines that one message has.
const pageLines = 8

// nameLetters bounds a name within a table, which has to fit the screen of a phone.
const nameLetters = 16

// Wish is what somebody wants told of all machines: a command, and what it was about. Page
// counts from 1; 0 is the command at one machine alone.
type Wish struct {
	What, Words string
	Page        int
}

// Asked reports whether a command is one that tells of all shops, and its words ask for
// that; rest is what else they say.
func Asked(t *telling.Teller, command, words string) (rest string, all bool) {
	if tables[command].row == nil && tables[command].line == nil {
		return words, false
	}
	fields := strings.Fields(words)
	for i, w := range fields {
		if w = strings.ToLower(w); t.IsWord("everywhere", w) || t.IsWord("together", w) && lone(t) {
			return strings.Join(append(fields[:i:i], fields[i+1:]...), " "), true
		}
	}
	return words, false
}

// lone reports whether the shop has one machine and the speaker others elsewhere: together is
// said of these.
func lone(t *telling.Teller) bool {
	return len(t.F.Shop.Machines) < 2 && t.F.Ask.Sites != nil && len(t.F.Ask.Sites()) > 1
}

// ParseWish reads what a button of such a card carries.
func ParseWish(arg string) (w Wish, ok bool) {
	what, rest, _ := strings.Cut(arg, ".")
	page, words, _ := strings.Cut(rest, ".")
	if _, err := fmt.Sscanf(page, "%d", &w.Page); err != nil || w.Page < 0 {
		return w, false
	}
	w.What, w.Words = what, strings.ReplaceAll(words, ".", " ")
	for name, tb := range tables {
		if w.Page > 0 && name == what || w.Page == 0 && tb.into == what {
			return w, true
		}
	}
	return w, false
}

// arg is what a button carries; what does not go into one is left out.
func (w Wish) arg() string {
	words := strings.ReplaceAll(strings.ToLower(w.Words), " ", ".")
	if !chat.Plain(words) {
		words = ""
	}
	return fmt.Sprintf("%s.%d.%s", w.What, w.Page, words)
}

// Of gives what tells of each machine that somebody may look at: those of shops in which
// they may do what is asked for. Nobody is known on a phone that several people use.
func Of(t *telling.Teller, all *texts.Catalogue, may func(shop.Person) bool) (list []*telling.Teller) {
	if t.F.Ask.Sites == nil {
		return nil
	}
	for _, s := range t.F.Ask.Sites() {
		if s.Machine == nil || s.Shared || s.Shop.Fresh || !may(s.Person) {
			continue
		}
		blind := s.Blind
		list = append(list, &telling.Teller{V: all.In(t.F.Lang, s.Shop.Country, s.Shop.Currency),
			F: chat.Facts{Shop: s.Shop, Person: s.Person, Machine: s.Machine, Lang: t.F.Lang, Ask: s.Ask},
			M: s.Machine, Kit: s.Shop.Machine(s.Machine.ID), Now: t.Now, Guides: t.Guides, Book: t.Book,
			Hides: func() bool { return blind }})
	}
	return list
}

// row is what a table says of a machine.
type row struct {
	*telling.Teller
	name  string
	cells []string
	line  string            // where it is words and no columns
	money []decimal.Decimal // what is added up, by column; none while it is not told
	rank  [4]decimal.Decimal
}

// table is a way to tell of all machines. One of row and line is given.
type table struct {
	head string   // catalogue name
	cols []string // catalogue names of the columns behind the name
	row  func(*telling.Teller, span) row
	line func(*telling.Teller) row
	into string // the command that tells of one machine
	sums int    // how many of the columns are money, the last ones
	live bool   // somebody who counts there must not see it
	one  bool   // the words are of a day, which is told for one machine at a time
	file bool   // the words may name a kind of file
}

// Tell answers a wish. Words say what was not understood, if anything was not.
func Tell(t *telling.Teller, of []*telling.Teller, w Wish) []chat.Reply {
	tb := tables[w.What]
	sp, problem := spanOf(t, tb, &w)
	switch {
	case problem != nil:
		return []chat.Reply{{Body: []chat.Block{*problem}}}
	case w.What == "owed" && sp.last >= t.Today().Add(-owedReach):
		tb.head = "all.owed-at"
	case tb.one && w.Words != "":
		return []chat.Reply{oneByOne(t, of, w, tb)}
	}
	rows := make([]row, 0, len(of))
	for i, at := range of {
		r := rowOf(at, tb, sp)
		r.name = nameOf(of, i)
		rows = append(rows, r)
	}
	slices.SortStableFunc(rows, worse)
	r := chat.Reply{Key: Card, Retire: Card, Buttons: buttons(t, rows, w, tb)}
	r.Body = body(t, rows, w, tb, sp)
	if w.What == "export" && w.Page == 1 {
		return []chat.Reply{exported(t, of, w, sp), r}
	}
	return []chat.Reply{r}
}

func rowOf(at *telling.Teller, tb table, sp span) (r row) {
	switch {
	case tb.live && at.Hidden():
		r = row{cells: []string{at.V.Say("all.counting")}, line: at.V.Say("all.counting")}
	case tb.line != nil:
		r = tb.line(at)
	default:
		r = tb.row(at, sp)
	}
	r.Teller = at
	return r
}

// worse puts the worst first. Shares and numbers are compared, money of different
// currencies never is.
func worse(a, b row) int {
	for i := range a.rank {
		if c := b.rank[i].Cmp(a.rank[i]); c != 0 {
			return c
		}
	}
	return 0
}

// nameOf names a machine among those that are told of.
func nameOf(of []*telling.Teller, at int) string {
	called := func(t *telling.Teller) string {
		return readback.SiteName(t, chat.Site{Shop: t.F.Shop, Machine: t.M})
	}
	name, n := called(of[at]), 1
	for _, other := range of[:at] {
		if called(other) == name {
			n++
		}
	}
	if n > 1 {
		name += fmt.Sprintf(" (%d)", n)
	}
	return name
}

// short makes names fit into so many letters, and keeps apart what would look alike.
func short(rows []row, letters int) []string {
	list := make([]string, len(rows))
	for i, r := range rows {
		list[i] = shortName(r, letters)
		for n := 2; slices.Contains(list[:i], list[i]); n++ {
			tail := fmt.Sprintf("(%d)", n)
			list[i] = shortName(r, letters-len(tail)) + tail
		}
	}
	return list
}

// shortName makes a row's name fit; of one machine of several the shop's is cut first, since its
// own, of which more than half is kept, tells it apart.
func shortName(r row, letters int) string {
	if len(r.F.Shop.Machines) < 2 || len([]rune(r.name)) <= letters {
		return texts.Short(r.name, letters)
	}
	machine := texts.Short(r.Kit.Name, letters*5/8)
	return texts.Short(r.F.Shop.Name, letters-2-len([]rune(machine))) + ", " + machine
}

// pageOf gives the rows that a page shows.
func pageOf(rows []row, page int) (from, to int) {
	if from = (max(page, 1) - 1) * pageLines; from >= len(rows) {
		from = 0
	}
	return from, min(from+pageLines, len(rows))
}

func body(t *telling.Teller, rows []row, w Wish, tb table, sp span) []chat.Block {
	from, to := pageOf(rows, w.Page)
	head := t.V.Say(tb.head, "from", sp.from(t), "to", sp.to(t))
	if len(rows) > pageLines {
		head += " " + t.V.Say("all.page", "from", from+1, "to", to, "of", len(rows))
	}
	if tb.line != nil {
		return []chat.Block{inLines(t, head, rows[from:to])}
	}
	cells := [][]string{{""}}
	for _, id := range tb.cols {
		cells[0] = append(cells[0], t.V.Say(id))
	}
	for i, name := range short(rows, nameLetters)[from:to] {
		cells = append(cells, append([]string{name}, rows[from+i].cells...))
	}
	sums, line := totals(t, rows, tb)
	cells = append(cells, sums...)
	said := []chat.Block{chat.Lines(head), chat.Columns(1, cells)}
	if more := chat.Lines(line, left(t, rows)); more.Text != "" {
		said = append(said, more)
	}
	return said
}

func inLines(t *telling.Teller, head string, rows []row) chat.Block {
	lines := []string{head}
	for _, r := range rows {
		lines = append(lines, t.V.Say("all.line", "place", r.name, "line", r.line))
	}
	return chat.Lines(lines...)
}

// sumsOf adds up each currency by itself, in the voice of one that has it.
func sumsOf(rows []row, columns int) (voices []*texts.Voice, sums [][]decimal.Decimal) {
	var order []string
	for _, r := range rows {
		if len(r.money) == 0 {
			continue
		}
		at := slices.Index(order, r.F.Shop.Currency)
		if at < 0 {
			at, order, voices = len(order), append(order, r.F.Shop.Currency), append(voices, r.V)
			sums = append(sums, make([]decimal.Decimal, columns))
		}
		for i, v := range r.money {
			sums[at][i] = sums[at][i].Add(v)
		}
	}
	return voices, sums
}

// totals words them: a line for one column of money, a row for each currency where there
// are several.
func totals(t *telling.Teller, rows []row, tb table) (sums [][]string, line string) {
	var parts []string
	voices, by := sumsOf(rows, tb.sums)
	for n, v := range voices {
		cells := []string{t.V.Say("owed.total")}
		for range len(tb.cols) - tb.sums {
			cells = append(cells, "")
		}
		for _, sum := range by[n] {
			cells = append(cells, v.Money(sum))
		}
		sums, parts = append(sums, cells), append(parts, cells[len(cells)-1])
	}
	if tb.sums == 1 && len(parts) > 0 {
		return nil, t.V.Say("all.together", "sums", telling.Sums(t.V, parts))
	}
	return sums, ""
}

// left names the machines that the sums leave out.
func left(t *telling.Teller, rows []row) string {
	var names []string
	for _, r := range rows {
		if r.money == nil && len(r.cells) == 1 {
			names = append(names, r.name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return t.V.Say("all.left-out", "places", strings.Join(names, ", "))
}

// buttons lead into each machine of a page, two in a row, and to the next page.
func buttons(t *telling.Teller, rows []row, w Wish, tb table) (list [][]chat.Button) {
	from, to := pageOf(rows, w.Page)
	for i, name := range short(rows, texts.LabelMax/2)[from:to] {
		b := into(rows[from+i].Teller, name, Wish{What: tb.into, Words: w.Words})
		if i%2 == 0 {
			list = append(list, []chat.Button{b})
		} else {
			list[i/2] = append(list[i/2], b)
		}
	}
	if to < len(rows) {
		w.Page = from/pageLines + 2
		list = append(list, []chat.Button{{Label: t.V.Say("button.more"), Data: "o:" + Card + ":" + w.arg()}})
	}
	return list
}

func into(at *telling.Teller, name string, w Wish) chat.Button {
	return chat.Button{Label: name, Data: fmt.Sprintf("o:%s:%s:%d", Card, w.arg(), at.M.ID)}
}

// oneByOne offers each machine where it is told for one at a time only: what was on a day
// long past takes all that was ever recorded there.
func oneByOne(t *telling.Teller, of []*telling.Teller, w Wish, tb table) chat.Reply {
	rows := make([]row, len(of))
	for i, at := range of {
		rows[i] = row{Teller: at, name: nameOf(of, i)}
	}
	slices.SortStableFunc(rows, func(a, b row) int { return cmp.Compare(a.name, b.name) })
	return chat.Reply{Body: []chat.Block{chat.Lines(t.V.Say("all.one-by-one"))}, Key: Card, Retire: Card,
		Buttons: buttons(t, rows, w, tb)}
}

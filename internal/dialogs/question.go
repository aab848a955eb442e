package dialogs

import (
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/counts"
	"shopfloat/internal/shop"
)

// line is one thing a count is asked for: a note box, or a kind of note.
type line struct {
	box      int // position; 0 for a kind of note wherever it lies
	face     cashmath.Face
	capacity int64 // most notes it can be; 0 unknown
	usual    int64 // what this shop usually has; 0 unknown or not to be shown
	bundle   int64
}

// question asks for the count of each of several lines, one by one or all at
// once. What was understood stays in the draft under its name; a count that is
// probably a slip is asked back before the question is done.
type question struct {
	name    string
	lines   func(*talk) []line
	intro   string             // catalogue name of what stands above, may be empty
	before  func(*talk) string // a line before the question, may be empty
	money   bool               // printed figures: amounts are as welcome as notes
	partial bool               // lines that are not named count as none
	none    bool               // "none" or a single 0 answers every line
	check   func(*talk, line, int64) doubt
	next    func(*talk) string
	total   func(*talk, string) // money: only one total is known
	extra   func(*talk) [][]Button
	taps    map[string]func(*talk)
	typed   []string // taps whose words may be typed too
	what    string
	leftOut string           // the choice by which it is passed over, so that its noughts are no answer
	stands  func(*talk) bool // its answers stand in a record by now; nil: never
}

// open marks a line that is not answered yet.
const unanswered = -1

// screen makes the question a screen of a flow.
func (q question) screen() screen {
	taps := map[string]func(*talk){
		"use": q.use, "keep": q.keep, "again": q.again, "together": q.together, "no-kind": q.dropLone,
	}
	for k, f := range q.taps {
		taps[k] = f
	}
	if q.none {
		taps["none"] = q.allNone
	}
	return screen{ask: q.ask, answer: q.answer, taps: taps, typed: q.typed, tap: q.of, what: q.what}
}

// values gives the draft's counts for the question, making room at first.
func (q question) values(c *talk) []int64 {
	n := len(q.lines(c))
	v := c.State.Draft.Counts[q.name]
	if len(v) == n {
		return v
	}
	v = make([]int64, n)
	for i := range v {
		v[i] = unanswered
	}
	c.put(q.name, v)
	return v
}

// ask shows a figure whose kind is not known, else the first doubt, else the first open line, else goes on.
func (q question) ask(c *talk) *card {
	lines, v := q.lines(c), q.values(c)
	if k := q.loneCard(c, lines); k != nil {
		return k
	}
	if i, d := q.doubt(c, lines, v); i >= 0 {
		return c.doubtCard(lines, lines[i], v, i, d)
	}
	i := open(v)
	if i < 0 {
		c.goTo(q.next(c))
		return nil
	}
	text := c.v.Say("ask."+q.name, "line", c.lineName(lines, lines[i]))
	kept := someAnswered(v)
	if q.partial && !kept || q.none && !kept || q.money && i == 0 && !kept {
		text = c.v.Say("ask-all." + q.name)
	}
	k := &card{}
	if q.before != nil {
		if s := q.before(c); s != "" {
			k.body = append(k.body, Block{Text: s})
		}
	}
	if q.intro != "" && i == 0 && c.State.Draft.Happened.IsZero() && c.chosen("intro."+q.name) == "" {
		c.choose("intro."+q.name, "yes")
		c.choose("cautioned", "yes")
		k.body = append(k.body, Block{Text: c.v.Say(q.intro, "day", c.chosen("day"))})
	}
	if keptLater(v, i) {
		k.body = append(k.body, Block{Text: q.soFar(c)})
	}
	k.body = append(k.body, Block{Text: upper(text)})
	if i == 0 && len(lines) > 1 && !q.partial {
		k.body = append(k.body, Block{Text: c.v.Say("all-at-once", "example", c.order(lines))})
	}
	if pending := c.chosen("pending"); pending != "" {
		k.buttons = append(k.buttons, []Button{{c.v.Say("button.pending", "n", pending), "use"}})
	}
	if q.none && !kept {
		k.buttons = append(k.buttons, c.button("none-"+q.name, "none"))
	}
	if q.extra != nil {
		k.buttons = append(k.buttons, q.extra(c)...)
	}
	return k
}

// keptLater reports whether lines after an open one are answered already.
func keptLater(v []int64, at int) bool {
	for _, n := range v[at+1:] {
		if n != unanswered {
			return true
		}
	}
	return false
}

func open(v []int64) int {
	for i, n := range v {
		if n == unanswered {
			return i
		}
	}
	return -1
}

// order names the lines in the order a whole answer has: 50s 20s 10s.
func (c *talk) order(lines []line) string {
	kinds := make([]string, len(lines))
	for i, l := range lines {
		kinds[i] = c.v.Kind(l.face)
	}
	return strings.Join(kinds, " ")
}

// lineName names a line: "top box, 50s", or "20s" for a kind of note.
func (c *talk) lineName(lines []line, l line) string {
	if l.box == 0 {
		return c.v.Kind(l.face)
	}
	return c.v.Say("box-line", "box", c.boxName(l.box), "kind", c.v.Kind(l.face))
}

// boxName names a note box by where it sits.
func (c *talk) boxName(position int) string {
	switch n := len(c.boxes()); {
	case n == 1:
		return c.v.Say("box.only")
	case position == 1:
		return c.v.Say("box.top")
	case position == n:
		return c.v.Say("box.bottom")
	case n == 3:
		return c.v.Say("box.middle")
	}
	return c.v.Say("box.number", "n", position)
}

// boxLines are the machine's note boxes from top to bottom.
func boxLines(c *talk) []line {
	return c.linesOf(c.boxes())
}

func (c *talk) linesOf(boxes []shop.Box) []line {
	lines := make([]line, len(boxes))
	for i, b := range boxes {
		lines[i] = line{box: b.Position, face: b.Face, capacity: b.Capacity, bundle: c.f.Shop.Bundle(b.Face)}
	}
	return lines
}

// kindLines are the machine's kinds of note, highest first.
func kindLines(c *talk) []line {
	var lines []line
	for _, f := range c.faces() {
		lines = append(lines, line{face: f, bundle: c.f.Shop.Bundle(f)})
	}
	return lines
}

// answer takes what was typed. Whatever was understood stays.
func (q question) answer(c *talk, text string) bool {
	lines, v := q.lines(c), q.values(c)
	i, d := q.doubt(c, lines, v)
	if d.why == "" {
		i = max(open(v), 0)
	}
	waits := c.chosen(q.loneKey())
	switch low := fold(text); {
	case waits != "" && (low == fold(c.v.Say("button.change")) || slices.Contains(c.v.List("words.back"), low)):
		q.dropLone(c)
		return true
	case waits != "" && q.nameLone(c, lines, waits, text):
		return true
	case slices.Contains(c.v.List("words.back"), low):
		c.reopen(q, v, i)
		return true
	case unfinished(low):
		c.first(c.v.Say("problem.no-count", "near", low, "example", c.example(lines)))
		return true
	}
	req := c.request(lines, i, q)
	if open(v) >= 0 && someAnswered(v) {
		req.ZeroAll = false // one line is asked by itself: none is for this one
	}
	res := counts.Parse(text, req)
	if res.Prose {
		return false
	}
	switch {
	case res.Total != "" && q.total != nil:
		q.dropLone(c)
		q.total(c, res.Total)
		return true
	case res.Total != "" && len(res.Items) == 0:
		c.first(c.v.Say("problem.total-only", "example", c.example(lines)))
		return true
	case d.why == "" && q.lone(c, lines, v, res, text):
		return true
	}
	q.take(c, res.Items)
	delete(c.State.Draft.Choices, "pending")
	if res.Problem != nil && res.Problem.Code != counts.TooFew {
		c.first(c.problem(lines, *res.Problem))
	}
	return true
}

func (c *talk) request(lines []line, next int, q question) counts.Request {
	req := counts.Request{Next: next, Currency: c.f.Shop.Currency, Values: q.money, ZeroAll: q.none}
	if cur, err := cashmath.LookupCurrency(c.f.Shop.Currency); err == nil {
		req.MinorDigits = int(cur.Digits())
	}
	for _, l := range lines {
		cl := counts.Line{Face: string(l.face), Position: l.box, Bundle: l.bundle}
		if l.box > 0 {
			cl.Name = c.boxName(l.box)
		}
		req.Lines = append(req.Lines, cl)
	}
	return req
}

// problem says what was not understood and shows the right form.
func (c *talk) problem(lines []line, p counts.Problem) string {
	id := strings.ReplaceAll(p.Code.String(), " ", "-")
	kind := ""
	if p.Face != "" {
		kind = c.v.Kind(cashmath.Face(p.Face))
	}
	return c.v.Say("problem."+id, "near", p.Near, "kind", kind, "kinds", c.order(lines),
		"example", c.example(lines), "max", c.v.Number(counts.MaxNotes))
}

// example shows the right form for some lines.
func (c *talk) example(lines []line) string {
	parts := make([]string, 0, len(lines))
	for i, l := range lines {
		parts = append(parts, string(l.face)+"x"+strconv.Itoa(40+30*i))
	}
	return strings.Join(parts, " ")
}

// unfinished reports whether a kind of note was typed without its number: "20x".
func unfinished(s string) bool {
	digits := strings.TrimRight(s, "x×* ")
	return digits != s && bareNumber(digits)
}

// reopen goes back to the line before, if one was answered.
func (c *talk) reopen(q question, v []int64, at int) {
	for i := min(at, len(v)) - 1; i >= 0; i-- {
		if v[i] != unanswered {
			v[i] = unanswered
			return
		}
	}
	c.first(c.v.Say("nothing-before"))
}

// allNone answers every line with none.
func (q question) allNone(c *talk) {
	v := q.values(c)
	for i := range v {
		v[i] = 0
	}
}

// none answers every line of a question about kinds of note with none.
func (c *talk) none(name string) { c.put(name, make([]int64, len(c.faces()))) }

// doubt is why a count is asked back.
type doubt struct {
	why    string // catalogue name after "doubt."; empty for none
	likely int64  // the probable count; 0 for none
	hard   bool   // cannot be as typed
	more   []int  // value: other lines written as money, asked back together
}

// values lists the lines after one that were written as amounts of money too.
func (c *talk) values(name string, after int) []int {
	var more []int
	for i := after + 1; i < len(c.State.Draft.Counts[name]); i++ {
		if c.chosen("value."+name+"."+strconv.Itoa(i)) != "" {
			more = append(more, i)
		}
	}
	return more
}

// doubt finds the first answered line that is to be asked back.
func (q question) doubt(c *talk, lines []line, v []int64) (int, doubt) {
	for i, l := range lines {
		if v[i] == unanswered {
			continue
		}
		key := q.name + "." + strconv.Itoa(i)
		if c.chosen("value."+key) == "" && c.chosen("ok."+key) == strconv.FormatInt(v[i], 10) {
			continue
		}
		if value := c.chosen("value." + key); value != "" && !q.money {
			return i, doubt{why: "value", likely: v[i], more: c.values(q.name, i)}
		}
		if q.check == nil {
			continue
		}
		if d := q.check(c, l, v[i]); d.why != "" {
			return i, d
		}
	}
	return -1, doubt{}
}

func (c *talk) doubtCard(lines []line, l line, v []int64, i int, d doubt) *card {
	typed := v[i]
	if len(d.more) > 0 {
		return c.valuesCard(lines, v, append([]int{i}, d.more...))
	}
	asMoney := cashmath.Value(l.face, typed)
	k := &card{body: []Block{{Text: upper(c.v.Say("doubt."+d.why,
		"line", c.lineName(lines, l), "kind", c.v.Kind(l.face), "typed", c.v.Number(typed), "notes", c.v.Count("notes", typed),
		"money", c.v.Money(asMoney), "capacity", c.v.Number(l.capacity), "usual", c.v.Number(l.usual),
		"meant", c.v.Count("notes", d.likely), "amount", c.v.Money(decimal.NewFromInt(typed))))}}}
	if d.likely > 0 {
		k.buttons = append(k.buttons, []Button{{c.v.Count("button.notes", d.likely), "use"}})
	}
	if !d.hard && (d.why != "value") {
		k.buttons = append(k.buttons, c.button("keep", "keep", "n", c.v.Number(typed)))
	}
	k.buttons = append(k.buttons, c.button("change", "again"))
	return k
}

// valuesCard reads back several amounts of money as notes.
func (c *talk) valuesCard(lines []line, v []int64, which []int) *card {
	k := &card{}
	for _, i := range which {
		k.body = append(k.body, Block{Text: c.v.Say("doubt.values", "kind", c.v.Kind(lines[i].face),
			"money", c.v.Money(cashmath.Value(lines[i].face, v[i])), "typed", c.v.Count("notes", v[i]))})
	}
	k.body = append(k.body, Block{Text: c.v.Say("right")})
	k.buttons = [][]Button{c.button("yes", "use"), c.button("change", "again")}
	return k
}

// use takes the likely count, or a number that waited for a look at the draft.
func (q question) use(c *talk) {
	lines, v := q.lines(c), q.values(c)
	i, d := q.doubt(c, lines, v)
	if i < 0 {
		if pending := c.chosen("pending"); pending != "" {
			delete(c.State.Draft.Choices, "pending")
			q.answer(c, pending)
		}
		return
	}
	v[i] = d.likely
	q.accept(c, i, d.likely)
	for _, j := range d.more {
		q.accept(c, j, v[j])
	}
}

// keep takes the count as it was typed.
func (q question) keep(c *talk) {
	v := q.values(c)
	if i, d := q.doubt(c, q.lines(c), v); i >= 0 && !d.hard {
		q.accept(c, i, v[i])
	}
}

func (q question) accept(c *talk, i int, n int64) {
	key := q.name + "." + strconv.Itoa(i)
	delete(c.State.Draft.Choices, "value."+key)
	c.choose("ok."+key, strconv.FormatInt(n, 10))
}

// again asks the doubtful line anew.
func (q question) again(c *talk) {
	v := q.values(c)
	if i, _ := q.doubt(c, q.lines(c), v); i >= 0 {
		v[i] = unanswered
	}
}

// of gives the figure that waits to a line: choice "of-2".
func (q question) of(c *talk, choice string) bool {
	at, ok := strings.CutPrefix(choice, "of-")
	return ok && q.pickLone(c, at)
}

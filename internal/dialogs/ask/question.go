package ask

import (
	"slices"
	"strings"

	"shopfloat/internal/amends"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/counts"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/hedged"
	"shopfloat/internal/lines"
	"shopfloat/internal/readback"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// Question asks for the count of each of several lines, one by one or all at once. What was understood stays
// in the draft under its name; a count that is probably a slip is asked back before the question is done.
type Question struct {
	Name    string
	Lines   func(*engine.Talk) []Line
	Intro   string                    // catalogue name of what stands above, may be empty
	Before  func(*engine.Talk) string // a line before the question, may be empty
	Money   bool                      // printed figures: amounts are as welcome as notes
	Partial bool                      // lines that are not named count as none
	About   string                    // see [counts.Request]
	None    bool                      // "none" or a single 0 answers every line
	Check   func(*engine.Talk, Line, int64) Doubt
	Next    func(*engine.Talk) string
	Total   func(*engine.Talk, string) // money: only one total is known
	Extra   func(*engine.Talk) [][]chat.Button
	Taps    map[string]func(*engine.Talk)
	Typed   []string // taps whose words may be typed too
	What    string
	Passed  func(*engine.Talk) bool // it was passed over, so that its noughts are no answer; nil: never
	LeftOut string                  // the choice by which it is passed over, so that its noughts are no answer
	Stands  func(*engine.Talk) bool // its answers stand in a record by now; nil: never
}

// unanswered marks a line that is not answered yet.
const unanswered int64 = -1

// Screen makes the question a screen of a flow.
func (q Question) Screen() engine.Screen {
	taps := map[string]func(*engine.Talk){
		"use": q.use, "keep": q.keep, "again": q.again, "together": q.together, "no-kind": q.dropLone,
	}
	for k, f := range q.Taps {
		taps[k] = f
	}
	if q.None {
		taps["none"] = q.allNone
	}
	return engine.Screen{Ask: q.Ask, Answer: q.Answer, Taps: taps, Typed: q.Typed, Tap: q.Of, What: q.What}
}

// Values gives the draft's counts for the question, making room at first.
func (q Question) Values(c *engine.Talk) []int64 {
	n := len(q.Lines(c))
	v := c.Counted(q.Name)
	if len(v) == n {
		return v
	}
	v = make([]int64, n)
	for i := range v {
		v[i] = unanswered
	}
	c.Put(q.Name, v)
	return v
}

// Ask shows a figure whose kind is not known, else the first doubt, else the first open line, else goes on.
func (q Question) Ask(c *engine.Talk) *engine.Card {
	lines, v := q.Lines(c), q.Values(c)
	if waits := q.Waits(c); waits != "" {
		return q.loneCard(c, lines, waits)
	}
	if i, d := q.Doubt(c, lines, v); i >= 0 {
		body, rows := readback.Doubted(c.Teller, lines, v, i, d)
		return &engine.Card{Body: body, Buttons: rows}
	}
	i := slices.Index(v, unanswered)
	if i < 0 && c.State.Draft.Pending == "" {
		c.GoTo(q.Next(c))
		return nil
	}
	i = max(i, 0)
	text := c.V.Say("ask."+q.Name, "line", telling.LineName(c.Teller, lines[i]))
	kept := SomeAnswered(v)
	if q.Partial && !kept || q.None && !kept || q.Money && i == 0 && !kept {
		text = c.V.Say("ask-all."+q.Name, "kinds", telling.LineOrder(c.Teller, lines))
	}
	k := &engine.Card{}
	if q.Before != nil {
		if s := q.Before(c); s != "" {
			k.Body = append(k.Body, chat.Block{Text: s})
		}
	}
	if q.Intro != "" && i == 0 && c.State.Draft.Happened.IsZero() && !c.Answers(q.Name).Told {
		c.Answers(q.Name).Told = true
		k.Body = append(k.Body, chat.Block{Text: c.V.Say(q.Intro, "day", OpenedDay(c))})
	}
	if SomeAnswered(v[i+1:]) && !c.Told {
		k.Body = append(k.Body, chat.Block{Text: q.soFar(c)})
	}
	k.Body = append(k.Body, chat.Block{Text: texts.Upper(text)})
	if i == 0 && len(lines) > 1 && !q.Partial && (!q.Money || kept) {
		example := telling.LineOrder(c.Teller, lines)
		k.Body = append(k.Body, chat.Block{Text: c.V.Say("all-at-once", "example", example)})
	}
	if pending := c.State.Draft.Pending; pending != "" {
		k.Buttons = append(k.Buttons, []chat.Button{{Label: c.V.Say("button.pending", "n", pending), Data: "use"}})
	}
	if q.None && !kept {
		k.Buttons = append(k.Buttons, c.Button("none-"+q.Name, "none"))
	}
	if q.Extra != nil {
		k.Buttons = append(k.Buttons, q.Extra(c)...)
	}
	return k
}

// BoxLines are the machine's note boxes from top to bottom.
func BoxLines(c *engine.Talk) []Line { return lines.Of(Boxes(c)) }

// KindLines are the machine's kinds of note, highest first.
func KindLines(c *engine.Talk) []Line { return lines.Kinds(faces(c)) }

// Answer takes what was typed. Whatever was understood stays.
func (q Question) Answer(c *engine.Talk, text string) bool {
	lines, v := q.Lines(c), q.Values(c)
	i, d := q.Doubt(c, lines, v)
	if d.Why == "" {
		i = max(slices.Index(v, unanswered), 0)
	}
	waits := q.Waits(c)
	if n, ok := counts.Number(text); ok && waits == "" && q.oneLine(lines, v, i, n, d) &&
		!(q.Total != nil && q.beyond(c, lines, v, n)) {
		q.take(c, counts.Alone(i, n).Items)
		c.State.Draft.Pending = ""
		return true
	}
	if q.worded(c, lines, v, i, waits, text) || q.machineSays(c, lines, text) {
		return true
	}
	text = q.slipSays(c, v, text)
	req := Request(c, lines, i, q)
	if slices.Contains(v, unanswered) && SomeAnswered(v) {
		req.ZeroAll = false // one line is asked by itself: none is for this one
	}
	res := counts.Parse(text, req)
	if (res.Prose || unread(res)) && !SomeAnswered(v) && c.M.Current() != nil && c.MeansOther() {
		return false
	}
	if res.Prose {
		if res = halfOf(text, req); len(res.Items) == 0 {
			return d.Why == "" && waits == "" && guessed(c, lines, text, req)
		}
	}
	if res.Amends && res.Bare && d.Why == "" && i > 0 { // else all is answered, or nothing is
		req.Next, req.ZeroAll = i-1, false // "i mean 160" is about the figure before
		res = counts.Parse(text, req)
		res.Bare = false
	}
	if unread(res) && (d.Why != "" || waits != "") {
		return false
	} else if unread(res) {
		askBack(c, lines, telling.Retyped(c.Teller, lines, byLine(len(lines), res.Items), false), res.Items)
		return true
	}
	if q.summed(c, lines, res) {
		return true
	}
	if d.Why == "" && q.lone(c, lines, v, res, text) {
		return true
	}
	amended := slices.ContainsFunc(res.Items, func(it counts.Item) bool {
		return v[it.Line] != unanswered && v[it.Line] != it.Notes
	})
	q.take(c, res.Items)
	if amended && slices.Contains(v, unanswered) && !SomeAnswered(v[slices.Index(v, unanswered):]) {
		c.First(q.soFar(c)) // what a sentence changes is shown
	}
	c.State.Draft.Pending = ""
	if res.Problem != nil && res.Problem.Code != counts.TooFew {
		c.First(telling.CountProblem(c.Teller, lines, *res.Problem))
	}
	return true
}

// summed takes the whole sum where it is welcome, and compares it with counts beside it. False: there are
// counts to be taken, or there was no sum.
func (q Question) summed(c *engine.Talk, lines []Line, res counts.Result) bool {
	switch {
	case res.Total != "" && len(res.Items) == len(lines):
		if differs := readback.Differs(c.Teller, lines, res); differs != "" {
			c.First(differs)
		}
		return false
	case res.Total != "" && q.Total != nil:
		q.dropLone(c)
		q.Total(c, res.Total)
	case len(res.Items) == 0 && (res.Total != "" || res.Problem != nil && res.Problem.Code == counts.TotalOnly):
		c.First(c.V.Say("problem.total-only", "example", telling.LineExample(lines)))
	default:
		return false
	}
	return true
}

// slipSays drops words like "the slip says". One figure behind them is a total, unless a kind is asked.
func (q Question) slipSays(c *engine.Talk, v []int64, text string) string {
	says := telling.SlipSays(c.Teller, text)
	if _, sum := Amount(c, says); says != text && q.Total != nil && sum && !SomeAnswered(v) && len(v) > 1 {
		return "total " + says
	}
	return says
}

// machineSays asks back what the machine is said to show where notes in somebody's hand are counted.
func (q Question) machineSays(c *engine.Talk, list []Line, text string) bool {
	if q.Money || q.Name == "shown" || strings.Trim(text, " 0123456789") == "" {
		return false
	}
	plain, _ := amends.Cut(text) // sorry, it says 28 90
	says := telling.SlipSays(c.Teller, plain)
	if says == plain {
		return false
	}
	if sum := readback.Printed(c.Teller, list, q.Values(c), says); sum != "" {
		c.First(sum)
		return true
	}
	res := counts.Parse(says, Request(c, list, 0, q))
	if len(res.Items) > 0 {
		askBack(c, list, telling.Retyped(c.Teller, list, byLine(len(list), res.Items), false), res.Items)
	}
	return len(res.Items) > 0
}

// guessed asks back counts that are not said for sure.
func guessed(c *engine.Talk, lines []Line, text string, req counts.Request) bool {
	typed, items := hedged.Guess(text, req)
	if len(items) > 0 {
		askBack(c, lines, typed, items)
	}
	return len(items) > 0
}

// askBack asks whether counts are meant so, which are not taken before that is said.
func askBack(c *engine.Talk, lines []Line, typed string, items []counts.Item) {
	c.State.Draft.Pending = typed
	c.First(readback.Guessed(c.Teller, lines, items))
}

// worded takes words about a figure: which kind one that waits is of, back, or a kind without its number.
func (q Question) worded(c *engine.Talk, lines []Line, v []int64, at int, waits, text string) bool {
	low := texts.Fold(text)
	yes, no := c.IsWord("yes", low), c.IsWord("no", low)
	switch i, d := q.Doubt(c, lines, v); {
	case emptyAgain(d, text, Request(c, lines, at, q)), yes && d.Why != "" && d.Likely == 0 && !d.Hard:
		q.keep(c)
		return true
	case yes && d.Likely > 0:
		q.use(c)
		return true
	case i >= 0 && v[i] > 0 && denied(low, c.V.List("words.no")): // it is not the count that is meant, nor none
		q.again(c)
		return true
	}
	back := slices.Contains(c.V.List("words.back"), low)
	if waits != "" && (back || low == texts.Fold(c.V.Say("button.change"))) {
		q.dropLone(c)
		return true
	}
	if waits != "" && q.nameLone(c, lines, waits, text) {
		return true
	}
	if c.State.Draft.Pending != "" {
		if yes {
			q.use(c)
			return true
		}
		if back = back || no; back {
			c.State.Draft.Pending = ""
			return true
		}
	}
	if back {
		reopen(c, q, v, at)
		return true
	}
	if open := slices.Contains(v, unanswered); unfinished(low) || open && (yes || no && !q.Partial && !q.None) {
		c.First(c.V.Say("problem.no-count", "near", low, "example", telling.LineExample(lines)))
		return true
	}
	return false
}

// oneLine reports whether a number by itself is for the line that is asked, so that
// nothing else needs to be known to take it: it is asked back, or it is the only one
// asked. A none that may be for every line is left to the grammar.
func (q Question) oneLine(lines []Line, v []int64, i int, n int64, d Doubt) bool {
	if n > 0 && !q.Partial && !q.None && !q.Money && slices.Contains(v, unanswered) {
		return i < len(lines) // it asks for one line after another, and an amount of money is none of it
	}
	return i < len(lines) && (n > 0 || !q.None && d.Why != "empty") &&
		(d.Why != "" || len(lines) == 1 || !q.asksAll(v, counts.Alone(i, n)))
}

// Request is what the grammar has to know of a question.
func Request(c *engine.Talk, lines []Line, next int, q Question) counts.Request {
	req := counts.Request{Next: next, Currency: c.F.Shop.Currency, Values: q.Money, ZeroAll: q.None,
		Few: q.Partial, About: q.About}
	if cur, err := cashmath.LookupCurrency(c.F.Shop.Currency); err == nil {
		req.MinorDigits = int(cur.Digits())
	}
	for _, l := range lines {
		cl := counts.Line{Face: string(l.Face), Position: l.Box, Bundle: c.F.Shop.Bundle(l.Face)}
		if l.Box > 0 {
			cl.Name = telling.BoxName(c.Teller, l)
		}
		req.Lines = append(req.Lines, cl)
	}
	return req
}

// reopen goes back to the line before, if one was answered.
func reopen(c *engine.Talk, q Question, v []int64, at int) {
	for i := min(at, len(v)) - 1; i >= 0; i-- {
		if v[i] != unanswered {
			v[i] = unanswered
			return
		}
	}
	c.First(c.V.Say("nothing-before"))
}

// allNone answers every line with none.
func (q Question) allNone(c *engine.Talk) {
	v := q.Values(c)
	for i := range v {
		v[i] = 0
	}
}

// Doubt is why a count is asked back.
type Doubt = lines.Doubt

// values lists the lines after one that were written as amounts of money too.
func values(c *engine.Talk, name string, after int) []int {
	var more []int
	for i := after + 1; i < len(c.Counted(name)); i++ {
		if c.Answers(name).Money[i] != "" {
			more = append(more, i)
		}
	}
	return more
}

// alsoMoney is the least count that is asked back beside one that was money. Common practice, no source.
const alsoMoney = 100

// Doubt finds the first answered line that is to be asked back.
func (q Question) Doubt(c *engine.Talk, list []Line, v []int64) (int, Doubt) {
	a := c.Answers(q.Name)
	for i, l := range list {
		if v[i] == unanswered {
			continue
		}
		if n, sure := a.Sure[i]; sure && n == v[i] && a.Money[i] == "" {
			continue
		}
		if a.Money[i] != "" && !q.Money {
			return i, Doubt{Why: "value", Likely: v[i], More: values(c, q.Name, i)}
		}
		if q.Check == nil {
			continue
		}
		if d := q.Check(c, l, v[i]); d.Why != "" {
			return i, d
		}
		if !a.Mended || l.Usual != 0 || v[i] < alsoMoney {
			continue
		}
		if notes, ok := lines.AsMoney(l, v[i]); ok {
			return i, Doubt{Why: "money-also", Likely: notes}
		}
	}
	return -1, Doubt{}
}

// use takes the likely count, or a number that waited for a look at the draft.
func (q Question) use(c *engine.Talk) {
	lines, v := q.Lines(c), q.Values(c)
	i, d := q.Doubt(c, lines, v)
	if i < 0 {
		if pending := c.State.Draft.Pending; pending != "" {
			c.State.Draft.Pending = ""
			q.Answer(c, pending)
		}
		return
	}
	v[i] = d.Likely
	q.Accept(c, i, d.Likely)
	if strings.HasPrefix(d.Why, "money") || d.Why == "value" {
		c.Answers(q.Name).Mended = true
	}
	for _, j := range d.More {
		q.Accept(c, j, v[j])
	}
}

// keep takes the count as it was typed.
func (q Question) keep(c *engine.Talk) {
	v := q.Values(c)
	if i, d := q.Doubt(c, q.Lines(c), v); i >= 0 && !d.Hard {
		q.Accept(c, i, v[i])
	}
}

func (q Question) Accept(c *engine.Talk, i int, n int64) {
	a := c.Answers(q.Name)
	delete(a.Money, i)
	if a.Sure == nil {
		a.Sure = map[int]int64{}
	}
	a.Sure[i] = n
}

// again asks the doubtful line anew.
func (q Question) again(c *engine.Talk) {
	v := q.Values(c)
	if i, _ := q.Doubt(c, q.Lines(c), v); i >= 0 {
		v[i] = unanswered
	}
}

// Of gives the figure that waits to a line: choice "of-2".
func (q Question) Of(c *engine.Talk, choice string) bool {
	at, ok := strings.CutPrefix(choice, "of-")
	return ok && q.pickLone(c, at)
}

// Take has counts that came with the command answer a question.
func Take(c *engine.Talk, answer func(*engine.Talk, string) bool) {
	if counts.SaysNothing(c.Rest) {
		return
	}
	if !answer(c, c.Rest) {
		c.First(c.V.Say("not-counts", "near", c.Rest))
	}
}

// CheckPaid asks back a printed figure above what was put in.
func CheckPaid(c *engine.Talk, l Line, n int64) Doubt { return lines.Paid(Target(c), l, n) }

// CheckFits asks back a count that is more than the box holds. It knows only
// the box, so it may be asked while nobody may see what should be there.
func CheckFits(_ *engine.Talk, l Line, n int64) Doubt { return lines.Fits(l, n) }

// CheckLoad asks back a load that does not fit or is not what the shop loads.
func CheckLoad(_ *engine.Talk, l Line, n int64) Doubt { return lines.Load(l, n) }

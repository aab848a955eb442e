package day

import (
	"strconv"

	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
)

// TopUpFlow records notes put in during the day.
func TopUpFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoTopUp, Title: "topup", Version: 1, Start: startTopUp,
		Safe: engine.SafeOpen, Presence: engine.AtWork, Company: engine.OneAtATime, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain,
		Paper: engine.ThatDay, Part: 2, Loses: engine.LosesCounts, Stopped: engine.NothingBooked,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp),
		Asks:   []engine.Asked{addedQuestion},
		Commands: []engine.Command{
			{Name: engine.DoTopUp, Does: engine.StartsDialog, Help: engine.HelpOften, Takes: engine.OnlyFigures,
				Menu: 2},
		},
		Screens: map[string]engine.Screen{"added": addedQuestion.Screen(),
			"review": topUpBooking(confirmTopUp).Screen(), "change": ask.ChangeLines(addedQuestion)},
	}
}

type swapDraft struct {
	Box int `json:"box,omitempty"` // that is swapped, counted from the top, from 0 on
}

func swap(c *engine.Talk) *swapDraft { return engine.Drafted[swapDraft](c) }

// recallSwap takes the box of a draft of format 1, without which its counts have no kind.
func recallSwap(c *engine.Talk, choices map[string]string) {
	if i, err := strconv.Atoi(choices["box"]); err == nil {
		swap(c).Box = i
	}
}

// SwapFlow records that a box was taken out and another put in.
func SwapFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoSwap, Title: "swap", Version: 1, Start: startSwap,
		Draft: func() any { return &swapDraft{} }, Recall: recallSwap,
		Safe: engine.SafeOpen, Presence: engine.AtWork, Company: engine.OneAtATime, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain,
		Paper: engine.ThatDay, Part: 3, Loses: engine.LosesCounts, Stopped: engine.NothingBooked,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp),
		Asks:   []engine.Asked{addedQuestion, oldQuestion, newQuestion},
		Commands: []engine.Command{
			{Name: engine.DoSwap, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.OnlyFigures,
				Boxes: true},
		},
		Screens: withMissedTopUp(oldQuestion, map[string]engine.Screen{
			"which": ask.Pick{Head: askSwapWhich, Options: swapBoxes, Answer: answerSwapWhich,
				What: "what.swap"}.Screen(),
			"new":   newQuestion.Screen(),
			"whose": ask.Whose(swapCounts),
			"review": ask.Booking{Read: readSwap, Asks: topUpRight, Book: bookSwap,
				Answer: ask.TypedCounts(swapCounts), Other: ask.Changes(anew("old", "new"))}.Screen(),
		}),
	}
}

var (
	addedQuestion = ask.Question{
		Name: "added", Lines: ask.BoxLines, Intro: "before-topup", Partial: true, Check: checkAdded,
		What:  "what.added",
		Next:  func(*engine.Talk) string { return "review" },
		Extra: func(c *engine.Talk) [][]chat.Button { return [][]chat.Button{c.Button("swap-instead", "swap")} },
		Taps:  map[string]func(*engine.Talk){"swap": func(c *engine.Talk) { c.Enter(engine.DoSwap); startSwap(c) }},
	}
	oldQuestion = ask.Question{
		Name: "old", Lines: swapLine, Check: checkOld, What: "what.old",
		Next: func(*engine.Talk) string { return "new" },
	}
	newQuestion = ask.Question{
		Name: "new", Lines: swapLine, Check: ask.CheckLoad, What: "what.new",
		Next: func(*engine.Talk) string { return "review" },
	}
)

func startTopUp(c *engine.Talk) {
	if trade.Ready(c) == nil {
		return
	}
	c.GoTo("added")
	ask.Take(c, addedQuestion)
}

// worth is the most the boxes can hold now, in money.
func worth(p *books.Period) decimal.Decimal {
	var sum decimal.Decimal
	for _, b := range p.Boxes {
		n, _ := trade.Estimate(p, b.Position)
		sum = sum.Add(cashmath.Value(b.Face, n))
	}
	return sum
}

// checkAdded asks back what the box cannot hold, or may not hold on top of
// what is in it.
func checkAdded(c *engine.Talk, l ask.Line, n int64) ask.Doubt {
	if d := ask.CheckFits(c, l, n); d.Why != "" {
		return d
	}
	p := ask.Target(c)
	level, shown := trade.Estimate(p, l.Box)
	if level+n <= l.Capacity {
		usual := usualOf(c, l)
		much := n >= clearlyMoney || usual > 0 && n > usual && ask.Far(n, usual)
		if notes, ok := ask.AsMoney(l, n); ok && much && level+notes <= l.Capacity {
			return ask.Doubt{Why: "money-usual", Likely: notes}
		}
		return ask.Doubt{}
	}
	d := ask.Doubt{Why: "over-full"}
	if shown {
		d.Likely = max(l.Capacity-level, 0)
	}
	return d
}

// topUpBooking reads a top-up back.
func topUpBooking(book func(*engine.Talk)) ask.Booking {
	return ask.Booking{Read: readTopUp, Over: overTopUp, Asks: topUpRight, Book: book,
		Answer: ask.TypedCounts(ask.Only(missedTopUp)), Other: ask.Changes(engine.GoBack("change"))}
}

func readTopUp(c *engine.Talk) []chat.Block {
	shown, n := some(c, addedQuestion)
	if len(n) == 0 {
		return nil
	}
	table, _ := ask.CountTable(c, shown, n)
	return []chat.Block{{Text: c.V.Say("review.topup")}, table}
}

func overTopUp(c *engine.Talk) string {
	_, total := ask.CountTable(c, ask.BoxLines(c), addedQuestion.Values(c))
	return overLimit(c, worth(ask.Target(c)).Add(total))
}

// topUpRight asks whether notes put in are right; what is typed into the machine
// now would be wrong for something from earlier.
func topUpRight(c *engine.Talk) string {
	return c.V.Say(engine.Either(c.State.Draft.Happened.IsZero(), "topup-type", "right"))
}

// anew makes a tap that drops the counts of questions and asks for them from the
// first one on.
func anew(questions ...string) func(*engine.Talk) {
	return func(c *engine.Talk) {
		c.Unanswer(questions...)
		c.GoTo(questions[0])
	}
}

// some gives the lines of a question that have notes. Where none has, that is
// said and they are asked again.
func some(c *engine.Talk, q ask.Question) (kept []ask.Line, counts []int64) {
	v := q.Values(c)
	if ask.Sum(v) == 0 {
		c.First(c.V.Say("nothing-typed"))
		anew(q.Name)(c)
		return nil, nil
	}
	for i, l := range q.Lines(c) {
		if v[i] > 0 {
			kept, counts = append(kept, l), append(counts, v[i])
		}
	}
	return kept, counts
}

func confirmTopUp(c *engine.Talk) {
	if done, ok := recordTopUp(c); ok {
		c.Close(engine.Text(done, c.Lock()))
	}
}

// recordTopUp records the top-up in the draft and says so; ok is false where
// the books refuse it.
func recordTopUp(c *engine.Talk) (done string, ok bool) {
	lines := ask.BoxLines(c)
	v := missedTopUp.Values(c) // under the name they have in every dialog that asks for them
	r := books.Record{Kind: books.TopUp, Period: ask.Target(c).No,
		Figures: ask.BoxFigures(books.Added, lines, v, false)}
	if _, err := c.Record(r); err != nil {
		c.Refuse(err)
		return "", false
	}
	_, total := ask.CountTable(c, lines, v)
	return c.V.Count("topped-up", ask.Sum(v), "when", c.Clock(c.When()), "money", c.V.Money(total)), true
}

func startSwap(c *engine.Talk) {
	if trade.Ready(c) == nil {
		return
	}
	c.GoTo("which")
	switch {
	case c.Rest == "":
	case !answerSwapWhich(c, c.Rest):
		c.First(c.V.Say("not-box", "near", c.Rest))
	case c.State.Draft.Happened.IsZero(): // the question that says it is passed over
		c.First(c.V.Say("before-topup"))
	}
}

// answerSwapWhich takes a box by its name, its place or its kind of note.
func answerSwapWhich(c *engine.Talk, s string) bool {
	i := ask.BoxNamed(c, s)
	if i >= 0 {
		swapBox(c, i)
	}
	return i >= 0
}

func swapBox(c *engine.Talk, i int) {
	swap(c).Box = i
	c.GoTo("old")
}

func askSwapWhich(c *engine.Talk) *engine.Card {
	if len(ask.Boxes(c)) == 1 {
		swapBox(c, 0)
		return nil
	}
	return ask.Asking(engine.Either(c.State.Draft.Happened.IsZero(), "ask.swap", "ask.swapped"))(c)
}

func swapBoxes(c *engine.Talk) (list []ask.Option) {
	lines := ask.BoxLines(c)
	for i, l := range lines {
		list = append(list, ask.Option{Label: ask.LineName(c, lines, l), Value: "line-" + strconv.Itoa(i),
			Take: func(c *engine.Talk) { swapBox(c, i) }})
	}
	return list
}

// swapLine is the one box that is swapped.
func swapLine(c *engine.Talk) []ask.Line {
	lines, i := loadLines(c), swap(c).Box
	if i < 0 || i >= len(lines) {
		i = 0 // the boxes are others by now
	}
	return lines[i : i+1]
}

// swapCounts are the two counts of a swap.
func swapCounts(*engine.Talk) []ask.Question { return []ask.Question{oldQuestion, newQuestion} }

func readSwap(c *engine.Talk) []chat.Block {
	l := swapLine(c)[0]
	out, in := oldQuestion.Values(c)[0], newQuestion.Values(c)[0]
	return []chat.Block{
		{Text: c.V.Say("review.swap", "line", ask.LineName(c, nil, l))},
		engine.Columns(1, [][]string{
			{c.V.Say("taken-out"), c.V.Count("notes", out), c.V.Money(cashmath.Value(l.Face, out))},
			{c.V.Say("put-in"), c.V.Count("notes", in), c.V.Money(cashmath.Value(l.Face, in))}}),
	}
}

func bookSwap(c *engine.Talk) {
	l := swapLine(c)[0]
	out, in := oldQuestion.Values(c)[0], newQuestion.Values(c)[0]
	r := books.Record{Kind: books.Swap, Period: ask.Target(c).No, Figures: []books.Figure{
		{Field: books.Left, Box: l.Box, Face: l.Face,
			Notes: out}, {Field: books.Added, Box: l.Box, Face: l.Face, Notes: in},
	}}
	if _, err := c.Record(r); err != nil {
		c.Refuse(err)
		return
	}
	diff := cashmath.Value(l.Face, in-out)
	word := "swapped-more"
	switch {
	case diff.IsZero():
		word = "swapped-same"
	case diff.IsNegative():
		word = "swapped-less"
	}
	c.Close(engine.Text(c.V.Say("swapped", "line", ask.LineName(c, nil, l), "when", c.Clock(c.When())),
		c.V.Say(word, "money", c.V.Money(diff.Abs())), c.Lock()))
}

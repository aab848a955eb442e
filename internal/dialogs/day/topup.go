package day

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/counts"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/lines"
	"shopfloat/internal/readback"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// TopUpFlow records notes put in during the day.
func TopUpFlow() *engine.Flow {
	return atMachine(engine.Flow{
		Name: engine.DoTopUp, Title: "topup", Late: true, Start: startTopUp,
		Paper: engine.ThatDay, Part: 2,
		Asks: []engine.Asked{addedQuestion},
		Commands: []engine.Command{{Name: engine.DoTopUp, Does: engine.StartsDialog, Help: engine.HelpOften,
			Takes: engine.OnlyFigures, Menu: 2}},
		Screens: map[string]engine.Screen{"added": withSealed(addedQuestion),
			"review": topUpBooking(confirmTopUp).Screen(), "change": ask.ChangeLines(addedQuestion)},
	})
}

var addedQuestion = ask.Question{
	Name: "added", Lines: ask.BoxLines, Intro: "before-topup", Partial: true, Check: checkAdded,
	What: "what.added", Next: func(*engine.Talk) string { return "review" },
	Extra: func(c *engine.Talk) [][]chat.Button { return [][]chat.Button{c.Button("swap-instead", "swap")} },
	Taps:  map[string]func(*engine.Talk){"swap": func(c *engine.Talk) { instead(c, engine.DoSwap, "") }},
}

// startTopUp begins a top-up. Notes for every box of a machine that is not open are asked as its opening.
func startTopUp(c *engine.Talk) {
	if c.M.Current() == nil && c.State.Draft.Happened.IsZero() && c.Rest != "" && c.May(engine.DoOpen) {
		res := counts.Parse(c.Rest, ask.Request(c, ask.BoxLines(c), 0, addedQuestion))
		if res.Problem == nil && len(res.Items) == len(ask.Boxes(c)) && !res.Bare {
			c.First(c.V.Say("not-open-loaded"))
			instead(c, engine.DoOpen, c.Rest)
			return
		}
	}
	begin(addedQuestion)(c)
}

// withSealed offers what is usually put in as sealed bundles, which one tap books uncounted: the
// card shows them, and the button is about these and no others.
func withSealed(q ask.Question) engine.Screen {
	s := q.Screen()
	s.Ask = func(c *engine.Talk) *engine.Card {
		k, v := q.Ask(c), sealed(c)
		if k != nil && v != nil && !ask.SomeAnswered(q.Values(c)) && q.Waits(c) == "" {
			k.Body = slices.Insert(k.Body, len(k.Body)-1, readback.Listed(c.Teller, q.Lines(c), v, "usual-sealed")...)
			k.Buttons = slices.Insert(k.Buttons, 0, c.Button("sealed", lines.Choice("confirm-sealed", v)))
		}
		return k
	}
	s.Tap = func(c *engine.Talk, choice string) bool {
		v := sealed(c)
		if v == nil || choice != lines.Choice("confirm-sealed", v) {
			return q.Of(c, choice)
		}
		ask.UnlessOvertaken(func(c *engine.Talk) {
			c.Put(q.Name, v)
			if done, ok := recordTopUp(c, books.Uncounted); ok {
				c.Close(chat.Lines(done, c.V.Say("sealed-recorded"), c.V.Say("topup-typed"), c.Lock()))
			}
		})(c)
		return true
	}
	return s
}

// sealed are those bundles; nil where nothing is offered.
func sealed(c *engine.Talk) []int64 {
	if !c.State.Draft.Happened.IsZero() {
		return nil
	}
	return telling.SealedOffer(c.Teller, ask.Target(c), ask.BoxLines(c))
}

// topUpBooking reads a top-up back.
func topUpBooking(book func(*engine.Talk)) ask.Booking {
	return ask.Booking{Over: overTopUp, Asks: topUpRight, Book: book,
		Read:   func(c *engine.Talk) []chat.Block { return listed(c, addedQuestion, "review.topup") },
		Answer: ask.TypedCounts(ask.Only(missedTopUp)), Other: ask.Changes(engine.GoBack("change")),
		Also: eitherWay, Taps: map[string]func(*engine.Talk){"either": otherWay}}
}

// eitherWay offers the other reading of what was typed like 20x50, where it fits as well.
func eitherWay(c *engine.Talk) [][]chat.Button {
	list := ask.BoxLines(c)
	_, other, notes, ok := lines.Either(list, missedTopUp.Values(c))
	if !ok || !strings.ContainsAny(c.In.Text, "x×*") {
		return nil
	}
	kind := c.V.Kind(list[other].Face)
	return [][]chat.Button{c.Button("either", "either", "n", c.V.Number(notes), "kind", kind)}
}

func otherWay(c *engine.Talk) {
	v := missedTopUp.Values(c)
	if at, other, notes, ok := lines.Either(ask.BoxLines(c), v); ok {
		v[at], v[other] = 0, notes
		c.GoTo("added")
	}
}

// overTopUp counts with the most that the boxes can hold before it.
func overTopUp(c *engine.Talk) string {
	return telling.OverWith(c.Teller, ask.Target(c), money(c, addedQuestion))
}

// topUpRight asks whether notes put in are right; what is typed into the machine
// now would be wrong for something from earlier.
func topUpRight(c *engine.Talk) string {
	return c.V.Say(texts.Either(c.State.Draft.Happened.IsZero(), "topup-type", "right"))
}

func confirmTopUp(c *engine.Talk) {
	if done, ok := recordTopUp(c); ok {
		c.Close(chat.Lines(done, c.Lock()))
	}
}

// recordTopUp records the top-up in the draft and says so; ok is false where the books refuse it.
func recordTopUp(c *engine.Talk, marks ...books.Mark) (done string, ok bool) {
	v := missedTopUp.Values(c) // under the name they have in every dialog that asks for them
	total := money(c, missedTopUp)
	if !bookedInside(c, books.Record{Kind: books.TopUp, Period: ask.Target(c).No, Marks: marks,
		Figures: lines.Figures(books.Added, ask.BoxLines(c), v, false)}) {
		return "", false
	}
	return c.V.Count("topped-up", lines.Sum(v), "when", c.Clock(c.When()), "money", c.V.Money(total)), true
}

type swapDraft struct {
	Box int `json:"box,omitempty"` // that is swapped, counted from the top, from 0 on
}

func swap(c *engine.Talk) *swapDraft { return engine.Drafted[swapDraft](c) }

// SwapFlow records that a box was taken out and another put in. The counts of an
// older draft have no kind without its box.
func SwapFlow() *engine.Flow {
	return atMachine(engine.Flow{
		Name: engine.DoSwap, Title: "swap", Late: true, Start: startSwap, Paper: engine.ThatDay, Part: 3,
		Draft:  func() any { return &swapDraft{} },
		Recall: func(c *engine.Talk, choices map[string]string) { swap(c).Box, _ = strconv.Atoi(choices["box"]) },
		Asks:   []engine.Asked{addedQuestion, oldQuestion, newQuestion},
		Commands: []engine.Command{{Name: engine.DoSwap, Does: engine.StartsDialog, Help: engine.HelpMore,
			Takes: engine.OnlyFigures, Boxes: true}},
		Screens: withMissedTopUp(oldQuestion, map[string]engine.Screen{
			"which": ask.Pick{Head: askSwapWhich, Options: swapBoxes, Answer: answerSwapWhich,
				What: "what.swap"}.Screen(),
			"new":   newQuestion.Screen(),
			"whose": ask.Whose(swapCounts, "review").Screen(),
			"review": ask.Booking{Read: readSwap, Asks: topUpRight, Book: bookSwap,
				Answer: ask.TypedCounts(swapCounts), Other: ask.Changes(anew("old", "new"))}.Screen(),
		}),
	})
}

var (
	oldQuestion = ask.Question{
		Name: "old", Lines: swapLine, Check: checkOld, What: "what.old",
		Next: func(*engine.Talk) string { return "new" },
	}
	newQuestion = ask.Question{
		Name: "new", Lines: swapLine, Check: ask.CheckLoad, What: "what.new",
		Next: func(*engine.Talk) string { return "review" },
	}
)

// swapCounts are the two counts of a swap.
func swapCounts(*engine.Talk) []ask.Question { return []ask.Question{oldQuestion, newQuestion} }

func startSwap(c *engine.Talk) {
	if trade.Ready(c) == nil {
		return
	}
	c.GoTo("which")
	switch {
	case c.Rest == "" && !answerSwapWhich(c, c.In.Text):
	case !answerSwapWhich(c, c.Rest) && !answerSwapWhich(c, c.In.Text):
		said := strings.Contains(texts.Fold(c.In.Text), c.Rest) // else it was heard
		c.First(c.V.Say("not-box", "near", texts.Either(said, c.Rest, c.In.Text)))
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
	return ask.Asking(texts.Either(c.State.Draft.Happened.IsZero(), "ask.swap", "ask.swapped"))(c)
}

func swapBoxes(c *engine.Talk) (list []ask.Option) {
	lines := ask.BoxLines(c)
	for i, l := range lines {
		list = append(list, ask.Option{Label: telling.LineName(c.Teller, l), Value: "line-" + strconv.Itoa(i),
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

// swapped gives the box and its two counts.
func swapped(c *engine.Talk) (l ask.Line, out, in int64) {
	return swapLine(c)[0], oldQuestion.Values(c)[0], newQuestion.Values(c)[0]
}

func readSwap(c *engine.Talk) []chat.Block {
	l, out, in := swapped(c)
	return readback.Swap(c.Teller, l, out, in)
}

func bookSwap(c *engine.Talk) {
	l, out, in := swapped(c)
	if !bookedInside(c, books.Record{Kind: books.Swap, Period: ask.Target(c).No, Figures: []books.Figure{
		{Field: books.Left, Box: l.Box, Face: l.Face, Notes: out},
		{Field: books.Added, Box: l.Box, Face: l.Face, Notes: in}}}) {
		return
	}
	c.Close(chat.Lines(c.V.Say("swapped", "line", telling.LineName(c.Teller, l), "when", c.Clock(c.When())),
		readback.SwapHolds(c.Teller, l, in-out), c.Lock()))
}

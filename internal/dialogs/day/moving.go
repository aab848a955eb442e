package day

import (
	"slices"
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/lines"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
	"shopfloat/internal/wording"
)

// A transfer is one usual way notes move, offered as a button.
type transfer struct {
	id       string
	from, to books.Place // books.Boxes stands for the machine's note boxes
	reason   books.Reason
}

// transfers lists the usual ways, the machine's first.
var transfers = []transfer{
	{"change", books.Boxes, books.Till, books.Change},
	{"return", books.Till, books.Boxes, books.Returned},
	{"exchange", books.Boxes, books.Till, books.Exchange},
	{"warning", books.Boxes, books.Cash, books.Warning},
	{"cash-change", books.Cash, books.Till, books.Change},
	{"cash-return", books.Till, books.Cash, books.Returned},
	{"from-bank", books.Bank, books.Cash, books.FromBank},
	{"to-bank", books.Cash, books.Bank, books.FromBank},
}

type moveDraft struct {
	How string `json:"how,omitempty"` // id of the transfer
}

func move(c *engine.Talk) *moveDraft { return engine.Drafted[moveDraft](c) }

// MoveFlow records notes moved between machine, till, safe and bank. The counts
// of an older draft are of boxes or of kinds of note, as its way says.
func MoveFlow() *engine.Flow {
	return atMachine(engine.Flow{
		Name: engine.DoMove, Title: "move", Late: true, Start: startMove, Paper: engine.AnyDay, Part: 4,
		Draft:  func() any { return &moveDraft{} },
		Recall: func(c *engine.Talk, choices map[string]string) { move(c).How = choices["how"] },
		Asks:   []engine.Asked{addedQuestion, outQuestion, inQuestion},
		Commands: []engine.Command{{Name: engine.DoMove, Does: engine.StartsDialog, Help: engine.HelpOften,
			Takes: engine.AnyWords, Menu: 4}},
		Screens: withMissedTopUp(outQuestion, map[string]engine.Screen{
			"how":   ask.Pick{Head: askHow, Options: ways, What: "what.move"}.Screen(),
			"in":    inQuestion.Screen(),
			"whose": ask.Whose(movedCounts, "review").Screen(),
			"review": ask.Booking{Read: readMove, Over: overOwed, Book: bookMove, Answer: ask.TypedCounts(movedCounts),
				Other: ask.Changes(anew("out", "in"))}.Screen(),
		}),
	})
}

var (
	outQuestion = ask.Question{
		Name: "out", Lines: moveLines, Partial: true, Check: checkOut, What: "what.out",
		Next: func(c *engine.Talk) string {
			return texts.Either(chosenTransfer(c).reason == books.Exchange, "in", "review")
		},
	}
	inQuestion = ask.Question{
		Name: "in", Lines: moveLines, Partial: true, Check: checkAdded, What: "what.in",
		Next: func(*engine.Talk) string { return "review" },
	}
)

// moveLines are the boxes where the machine has part in the move, else kinds of note.
func moveLines(c *engine.Talk) []ask.Line {
	if chosenTransfer(c).inMachine() {
		return ask.BoxLines(c)
	}
	return ask.KindLines(c)
}

func chosenTransfer(c *engine.Talk) transfer {
	i := slices.IndexFunc(transfers, func(t transfer) bool { return t.id == move(c).How })
	return transfers[max(i, 0)]
}

// inMachine reports whether the transfer needs an open machine.
func (t transfer) inMachine() bool { return t.from == books.Boxes || t.to == books.Boxes }

// startMove reads what it can from the command: which way, and which notes. The words for it stand in the
// catalogue: "change, borrow" are alternatives, "from+bank" needs both.
func startMove(c *engine.Talk) {
	c.GoTo("how")
	words := wording.Of(c.In.Text)
	for _, t := range transfers {
		if says(words, c.V.Say("words.move-"+t.id)) {
			setHow(c, t)
			break
		}
	}
	if c.Rest != "" && c.State.Step == "out" {
		c.Rest = telling.Without(c.Teller, c.Rest, "words.moving")
		ask.Take(c, outQuestion.Answer)
	}
}

func says(words []string, alternatives string) bool {
	for _, all := range strings.Split(alternatives, ", ") {
		if !slices.ContainsFunc(strings.Split(all, "+"),
			func(w string) bool { return !slices.Contains(words, w) }) {
			return true
		}
	}
	return false
}

func askHow(c *engine.Talk) *engine.Card {
	k := ask.Asking("ask.how")(c)
	if owed := c.M.Owed(); owed.IsPositive() {
		k.Body = append(k.Body, chat.Block{Text: c.V.Say("owed", "money", c.V.Money(owed))})
	}
	return k
}

// ways are the transfers that are possible now.
func ways(c *engine.Talk) (list []ask.Option) {
	for _, t := range transfers {
		if t.inMachine() && c.M.Current() == nil || t.reason == books.Returned && len(c.M.Debts) == 0 {
			continue
		}
		list = append(list, ask.Option{Label: c.V.Say("button.move-" + t.id), Value: t.id,
			Take: func(c *engine.Talk) { setHow(c, t) }})
	}
	return list
}

func setHow(c *engine.Talk, t transfer) {
	move(c).How = t.id
	if t.inMachine() {
		p := ask.Target(c)
		if p == nil || p.Status != books.Open {
			c.First(telling.NothingOpen(c.Teller, c.State.Draft.Happened))
			return
		}
		c.State.Draft.Period = p.No
	}
	c.GoTo("out")
}

// checkOut asks back more notes than can be in the box, and what is far from what this shop moves.
func checkOut(c *engine.Talk, l ask.Line, n int64) ask.Doubt {
	t := chosenTransfer(c)
	if t.to == books.Boxes {
		return checkAdded(c, l, n)
	}
	if n == 0 {
		return ask.Doubt{}
	}
	if t.from != books.Boxes {
		return checkOutside(c, t, l, n)
	}
	return lines.Out(ask.Target(c), l, n)
}

// movedCounts are what was counted of a move: of a swap at equal value both sides.
func movedCounts(c *engine.Talk) []ask.Question {
	if chosenTransfer(c).reason == books.Exchange {
		return []ask.Question{outQuestion, inQuestion}
	}
	return []ask.Question{outQuestion}
}

func readMove(c *engine.Talk) []chat.Block {
	t := chosenTransfer(c)
	body := listed(c, outQuestion, "review.move-"+t.id)
	if body == nil || t.reason != books.Exchange {
		return body
	}
	if out, in := money(c, outQuestion), money(c, inQuestion); !in.Equal(out) {
		c.First(c.V.Say("not-equal", "out", c.V.Money(out), "in", c.V.Money(in),
			"diff", c.V.Money(out.Sub(in).Abs())))
		anew("in")(c)
		return nil
	}
	return append(body, listed(c, inQuestion, "review.exchange-in")...)
}

// overOwed asks back what is more than the till owes.
func overOwed(c *engine.Talk) string {
	if chosenTransfer(c).reason != books.Returned || !money(c, outQuestion).GreaterThan(c.M.Owed()) {
		return ""
	}
	return c.V.Say("more-than-owed", "money", c.V.Money(c.M.Owed()))
}

func bookMove(c *engine.Talk) {
	t := chosenTransfer(c)
	r := books.Record{Kind: books.Moved, Period: c.State.Draft.Period, Reason: t.reason,
		Moves: movesOf(c, t.from, t.to, outQuestion)}
	if t.reason == books.Exchange {
		r.Moves = append(r.Moves, movesOf(c, t.to, t.from, inQuestion)...)
	}
	book := booked
	if t.inMachine() {
		book = bookedInside
	}
	if !book(c, r) {
		return
	}
	lines := []string{c.V.Say("moved-"+t.id, "when", c.Clock(c.When()))}
	if owed := c.M.Owed(); owed.IsPositive() && (t.reason == books.Change || t.reason == books.Returned) {
		lines = append(lines, c.V.Say("owed", "money", c.V.Money(owed)))
	}
	if t.inMachine() {
		lines = append(lines, c.Lock())
	}
	c.Close(chat.Lines(lines...))
}

func movesOf(c *engine.Talk, from, to books.Place, q ask.Question) (moves []books.Move) {
	at := func(p books.Place, l ask.Line) books.Place {
		if p == books.Boxes {
			return books.BoxPlace(l.Box)
		}
		return p
	}
	for i, l := range q.Lines(c) {
		if n := q.Values(c)[i]; n > 0 {
			moves = append(moves, books.NewMove(at(from, l), at(to, l), l.Face, n))
		}
	}
	return moves
}

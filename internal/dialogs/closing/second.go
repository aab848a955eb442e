package closing

import (
	"maps"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/shop"
)

// SecondFlow is a second count by another person, who sees neither the first
// nor the difference.
func SecondFlow() *engine.Flow {
	n := full(engine.GoBack("compare"))
	compare := engine.Screen{Ask: askCompare, What: "what.compare", Taps: map[string]func(*engine.Talk){
		"mine": func(c *engine.Talk) { second(c, true) }, "first": func(c *engine.Talk) { second(c, false) }}}
	n.screens = map[string]engine.Screen{"compare": ask.Blind(compare)}
	return n.flow(engine.Flow{Name: engine.DoSecond, Title: "second", Start: startSecond, Safe: engine.SafeOpen,
		Company: engine.SideBySide, Paper: engine.OffPaper, Stopped: ask.CountStays, Parting: heldBack,
		Second: true}, engine.DoSecond)
}

// startSecond takes up the period that another person has counted last.
func startSecond(c *engine.Talk) {
	pending := c.M.Pending()
	if len(pending) == 0 {
		c.Close(chat.Block{Text: c.V.Say("nothing-to-second")})
		return
	}
	switch p := pending[len(pending)-1]; {
	case p.CountedBy == c.F.Person.ID:
		ownCount(c)
	case p.Taken:
		c.Close(chat.Block{Text: c.V.Say("nothing-to-second")})
	default:
		everything.begin(c, p)
	}
}

// ownCount ends a second count by whoever made the first.
func ownCount(c *engine.Talk) {
	c.Close(chat.Block{Text: c.V.Say("second-other", "who", c.F.Person.Name)})
}

// same reports whether the second count equals the one on record.
func same(c *engine.Talk) bool {
	first, mine := ask.Target(c).Day(), everything.day(c)
	return maps.Equal(cashmath.Sum(first.Remaining), cashmath.Sum(mine.Remaining)) &&
		maps.Equal(cashmath.Sum(first.Rejects), cashmath.Sum(mine.Rejects)) &&
		maps.Equal(cashmath.Sum(first.Found), cashmath.Sum(mine.Found))
}

func askCompare(c *engine.Talk) *engine.Card {
	p := ask.Target(c)
	if p == nil {
		c.Close(chat.Block{Text: c.V.Say("nothing-to-second")})
		return nil
	}
	if p.Status != books.Waiting {
		secondLate(c, p)
		return nil
	}
	if same(c) {
		second(c, false)
		return nil
	}
	return &engine.Card{Body: []chat.Block{{Text: c.V.Say("second-differs", "who", c.Name(p.CountedBy))}},
		Buttons: [][]chat.Button{c.Button("second-mine", "mine"), c.Button("second-first", "first")}}
}

// second records a second count, which may replace the first.
func second(c *engine.Talk, replaces bool) {
	p := ask.Target(c)
	if p == nil || p.Status != books.Waiting {
		return // closed or taken back since the choice was shown: it is asked again
	}
	if p.CountedBy == c.F.Person.ID { // on a shared phone who it is, is asked last
		ownCount(c)
		return
	}
	kind, word := books.Spot, engine.Either(same(c), "second-same", "second-kept")
	if replaces {
		kind, word = books.Count, "second-taken"
	}
	if !recorded(c, everything.record(c, kind, secondMarks(c, p)...)) {
		return
	}
	c.TellPerson(p.CountedBy,
		chat.Reply{Body: []chat.Block{{Text: c.V.Say("told."+word, "who", c.F.Person.Name)}}})
	c.Close(chat.Block{Text: c.V.Say(word, "when", c.Clock(c.When()))})
}

// secondMarks mark a second count, also as not blind where the speaker was
// shown the result before.
func secondMarks(c *engine.Talk, p *books.Period) []books.Mark {
	if trade.Saw(c, p) {
		return []books.Mark{books.Second, books.NotBlind}
	}
	return []books.Mark{books.Second}
}

// alsoCounting says at the figures that somebody counts a second time.
func alsoCounting(c *engine.Talk) string {
	p := ask.Target(c)
	a := trade.Seconder(c)
	if a == nil || p == nil || p.Status != books.Waiting {
		return ""
	}
	return c.V.Say("second-counting", "who", c.Name(a.Person))
}

// tellDifference tells the managers of a close with a difference; whoever
// counts a second time just now is told after that count, see [tellHeld].
func tellDifference(c *engine.Talk, p *books.Period) {
	body := differenceOf(c, p)
	if trade.Seconder(c) == nil {
		c.Managers(body...)
		return
	}
	for _, o := range c.F.Shop.People {
		if o.Acts().Manages() && o.ID != c.F.Person.ID && !trade.SecondBy(c, o.ID) {
			c.TellPerson(o.ID, chat.Reply{Body: body})
		}
	}
}

func differenceOf(c *engine.Talk, p *books.Period) []chat.Block {
	return append([]chat.Block{engine.Text(c.V.Say("told.difference", "who", c.Name(p.EndedBy),
		"day", c.V.Day(c.Local(p.Opened))))}, trade.Verdict(c, p)...)
}

// heldBack tells the speaker, once the dialog has ended, the result of the
// period that was closed while they counted it a second time; nil where nothing
// was kept from them.
func heldBack(c *engine.Talk) func(*engine.Talk) {
	p := ask.Target(c)
	if p == nil || p.Status != books.Closed || p.EndedBy == c.F.Person.ID {
		return nil
	}
	return func(c *engine.Talk) { tellHeld(c, p) }
}

// tellHeld tells the speaker the result that was kept from them.
func tellHeld(c *engine.Talk, p *books.Period) {
	if c.F.Person.Role == shop.Owner {
		c.Post(trade.NoteOf(c, p))
	}
	if c.F.Person.Role.Manages() && above(c, p) {
		c.Post(chat.Reply{Body: differenceOf(c, p)})
	}
}

// secondLate keeps a second count that was ready after the first was closed or
// taken back: beside it, as a count of its own, and compared for the managers.
func secondLate(c *engine.Talk, p *books.Period) {
	if p.CountedBy == c.F.Person.ID && p.Status == books.Closed {
		ownCount(c)
		return
	}
	if !recorded(c, everything.record(c, books.Spot, secondMarks(c, p)...)) {
		return
	}
	if p.Status != books.Closed {
		c.Close(engine.Text(c.V.Say("second-alone", "when", c.Clock(c.When()))))
		return
	}
	body := []chat.Block{engine.Text(c.V.Say("second-both"))}
	if !same(c) {
		body = []chat.Block{engine.Text(c.V.Say("second-apart")), bothCounts(c, p),
			engine.Text(c.V.Say("second-look"))}
	}
	c.Managers(append([]chat.Block{engine.Text(c.V.Say("told.second-late", "who", c.F.Person.Name,
		"day", c.V.Day(c.Local(p.Opened)), "other", c.Name(p.EndedBy)))}, body...)...)
	late := c.V.Say("second-late", "when", c.Clock(c.When()), "who", c.Name(p.EndedBy))
	c.Close(append([]chat.Block{engine.Text(late)}, body...)...)
}

// bothCounts lines up the first count and the second one by kind of note.
func bothCounts(c *engine.Talk, p *books.Period) chat.Block {
	first, second := p.Day().Counted(), everything.day(c).Counted()
	rows := [][]string{{"", c.V.Say("col.first"), c.V.Say("col.second")}}
	for _, l := range ask.KindLines(c) {
		rows = append(rows, []string{c.V.Kind(l.Face), c.V.Number(first[l.Face]), c.V.Number(second[l.Face])})
	}
	return engine.Columns(1, rows)
}

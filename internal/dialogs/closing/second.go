package closing

import (
	"fmt"
	"maps"
	"strconv"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/lines"
	"shopfloat/internal/readback"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// SecondFlow is a second count by another person, who sees neither the first nor the difference.
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
	kind, word := books.Spot, texts.Either(same(c), "second-same", "second-kept")
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

// secondMarks mark a second count, also as not blind where the speaker was shown the result before.
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
	body := telling.Difference(c.Teller, p)
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

// heldBack tells the speaker, once the dialog has ended, the result of the period that was closed while
// they counted it a second time; nil where nothing was kept from them.
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
		c.Post(telling.NoteOf(c.Teller, p))
	}
	if c.F.Person.Role.Manages() && telling.Beyond(c.Teller, p) {
		c.Post(chat.Reply{Body: telling.Difference(c.Teller, p)})
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
		c.Close(chat.Lines(c.V.Say("second-alone", "when", c.Clock(c.When()))))
		return
	}
	body := []chat.Block{chat.Lines(c.V.Say("second-both"))}
	if !same(c) {
		both := readback.BothCounts(c.Teller, ask.KindLines(c), p.Day().Counted(), everything.day(c).Counted())
		body = []chat.Block{chat.Lines(c.V.Say("second-apart")), both, chat.Lines(c.V.Say("second-look"))}
	}
	c.TellAbout(reminders.Noted, chat.Reply{Body: append([]chat.Block{chat.Lines(c.V.Say("told.second-late",
		"who", c.F.Person.Name, "day", c.V.Day(c.Local(p.Opened)), "other", c.Name(p.EndedBy)))}, body...)})
	late := c.V.Say("second-late", "when", c.Clock(c.When()), "who", c.Name(p.EndedBy))
	c.Close(append([]chat.Block{chat.Lines(late)}, body...)...)
}

// afterCount is what follows a closing count: the second person's first, where the shop wants two.
func afterCount(c *engine.Talk, p *books.Period) string {
	if c.F.Shop.TwoPersons && p.Witness == 0 && !p.Alone && c.State.Draft.Happened.IsZero() {
		return "witness"
	}
	return firstFigures(c)
}

// callWitness asks everybody else who counts to stand by the count.
func callWitness(c *engine.Talk, p *books.Period) {
	table, _ := telling.CountTable(c.Teller, ask.BoxLines(c), lines.Remaining(p))
	c.TellOthers(chat.Reply{Key: witnessKey(p), Body: []chat.Block{
		{Text: c.V.Say("told.witness", "who", c.F.Person.Name)}, table, {Text: c.V.Say("told.witness-do")}},
		Buttons: [][]chat.Button{c.Button("witness", fmt.Sprintf("o:witness:%d.%d.%d", p.No, p.CountSeq, c.M.ID))}})
}

// witnessKey names the cards of a period's witnesses.
func witnessKey(p *books.Period) string { return "witness-" + strconv.FormatInt(p.No, 10) }

func witnessScreen() engine.Screen {
	return engine.Screen{
		What: "what.witness",
		Ask: func(c *engine.Talk) *engine.Card {
			p := ask.Target(c)
			if p == nil || afterCount(c, p) != "witness" {
				c.GoTo(firstFigures(c))
				return nil
			}
			k := &engine.Card{Body: []chat.Block{{Text: c.V.Say("witness")}}}
			if c.F.Shared || p.CountedBy != c.F.Person.ID {
				k.Buttons = append(k.Buttons, c.Button("witness", "witness"))
			}
			k.Buttons = append(k.Buttons, c.Button("alone", "alone"))
			return k
		},
		Taps: map[string]func(*engine.Talk){"witness": func(c *engine.Talk) { witness(c, ask.Target(c)) },
			"alone": alone},
	}
}

// witness records that the speaker stands by the count. Whoever counted cannot.
func witness(c *engine.Talk, p *books.Period) bool {
	if p.CountedBy == c.F.Person.ID {
		c.First(c.V.Say("witness-other", "who", c.F.Person.Name))
		return false
	}
	if !recorded(c, books.Record{Kind: books.Witness, Period: p.No, Target: p.CountSeq}) {
		return false
	}
	c.First(c.V.Say("witnessed", "when", c.Clock(c.In.At)))
	return true
}

// witnessed takes the button off the cards of all who were asked.
func witnessed(c *engine.Talk, p *books.Period, word string) {
	c.RewriteAll(witnessKey(p), chat.Block{Text: word})
}

// alone records that nobody else was there, and tells the managers.
func alone(c *engine.Talk) {
	p := ask.Target(c)
	r := books.Record{Kind: books.Witness, Period: p.No, Target: p.CountSeq, Marks: []books.Mark{books.Alone}}
	if !recorded(c, r) {
		return
	}
	witnessed(c, p, c.V.Say("told.alone-card", "who", c.F.Person.Name))
	c.TellAbout(reminders.Noted, chat.Reply{Body: []chat.Block{{
		Text: c.V.Say("told.alone", "who", c.F.Person.Name, "day", c.V.Day(c.Local(p.Opened)))}}})
	c.First(c.V.Say("alone-kept"))
}

// WitnessCard asks somebody to stand by a count.
func WitnessCard() engine.Standing {
	return engine.Standing{Name: engine.DoWitness, Rights: counters, Tap: witnessTap}
}

// witnessTap answers the card of whoever was asked to stand by a count.
func witnessTap(c *engine.Talk, arg string) {
	var no, count, machine int64
	if _, err := fmt.Sscanf(arg, "%d.%d.%d", &no, &count, &machine); err != nil || machine != int64(c.M.ID) {
		c.Notice = c.V.Say("notice.elsewhere")
		return
	}
	p := c.M.Period(no)
	if p == nil || p.CountSeq != count || p.Status != books.Waiting || p.Witness != 0 || p.Alone {
		c.Notice = c.V.Say("notice.stale")
		return
	}
	if !witness(c, p) {
		c.Send(chat.Reply{})
		return
	}
	c.Lead = nil
	witnessed(c, p, c.V.Say("witnessed-by", "who", c.F.Person.Name, "when", c.Clock(c.In.At)))
	c.TellPerson(p.CountedBy, chat.Reply{
		Body:    []chat.Block{{Text: c.V.Say("told.witnessed", "who", c.F.Person.Name)}},
		Buttons: [][]chat.Button{c.Button("go-on", "o:go-on:dialog")}})
}

// GoOnCard leads back to the dialog under way.
func GoOnCard() engine.Standing {
	return engine.Standing{Name: engine.DoGoOn, Rights: counters, Tap: goOnTap}
}

// goOnTap shows the open card again.
func goOnTap(c *engine.Talk, _ string) {
	if c.Flow() == nil {
		c.Notice = c.V.Say("notice.stale")
		return
	}
	c.Show()
}

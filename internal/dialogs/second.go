package dialogs

import (
	"maps"
	"slices"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
)

// secondFlow is a second count by another person, who sees neither the first
// nor the difference.
func secondFlow() *flow {
	screens := closingScreens()
	screens["compare"] = blind(screen{ask: askCompare, what: "what.compare",
		taps: map[string]func(*talk){"mine": takeSecond, "first": keepFirst}})
	return &flow{
		name: doSecond, title: "second", version: 1, start: startSecond, screens: screens,
		safe: safeOpen, presence: atWork, company: sideBySide, tells: tellsNothing, again: answersAgain,
		paper: offPaper, loses: losesCounts, stopped: countStays,
		rights:  rights{access.Counting, anyPhone, onceSetUp},
		parting: heldBack,
		count:   &counting{second: true}, asks: countQuestions(),
		commands: []command{{name: doSecond, does: startsDialog, help: helpMore, takes: onlyFigures}},
	}
}

// startSecond takes up the period that another person has counted last.
func startSecond(c *talk) {
	pending := c.m.Pending()
	if len(pending) == 0 {
		c.close(Block{Text: c.v.Say("nothing-to-second")})
		return
	}
	p := pending[len(pending)-1]
	if p.CountedBy == c.f.Person.ID {
		c.close(Block{Text: c.v.Say("second-other", "who", c.f.Person.Name)})
		return
	}
	if p.Taken {
		c.close(Block{Text: c.v.Say("nothing-to-second")})
		return
	}
	c.State.Draft.Period = p.No
	c.goTo("left")
	c.take(leftQuestion)
}

// same reports whether the second count equals the one on record.
func (c *talk) same() bool {
	p := c.target()
	d := p.Day()
	mine := c.myCount()
	return maps.Equal(cashmath.Sum(d.Remaining), cashmath.Sum(mine.Remaining)) &&
		maps.Equal(cashmath.Sum(d.Rejects), cashmath.Sum(mine.Rejects)) &&
		maps.Equal(cashmath.Sum(d.Found), cashmath.Sum(mine.Found))
}

func askCompare(c *talk) *card {
	p := c.target()
	if p == nil {
		c.close(Block{Text: c.v.Say("nothing-to-second")})
		return nil
	}
	if p.Status != books.Waiting {
		c.secondLate(p)
		return nil
	}
	if c.same() {
		c.second(false)
		return nil
	}
	return &card{body: []Block{{Text: c.v.Say("second-differs", "who", c.name(p.CountedBy))}},
		buttons: [][]Button{c.button("second-mine", "mine"), c.button("second-first", "first")}}
}

func takeSecond(c *talk) { c.second(true) }
func keepFirst(c *talk)  { c.second(false) }

// second records a second count, which may replace the first.
func (c *talk) second(replaces bool) {
	p := c.target()
	if p == nil || p.Status != books.Waiting {
		return // closed or taken back since the choice was shown: it is asked again
	}
	if p.CountedBy == c.f.Person.ID { // on a shared phone who it is, is asked last
		c.close(Block{Text: c.v.Say("second-other", "who", c.f.Person.Name)})
		return
	}
	r := books.Record{Kind: books.Spot, Period: p.No, Figures: c.counted(), Marks: c.secondMarks(p)}
	word := "second-same"
	if !c.same() {
		word = "second-kept"
	}
	if replaces {
		r.Kind, word = books.Count, "second-taken"
		if c.chosen("no-tray") != "" {
			r.Marks = append(r.Marks, books.NoTray)
		}
	}
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return
	}
	c.tellPerson(p.CountedBy, Reply{Body: []Block{{Text: c.v.Say("told."+word, "who", c.f.Person.Name)}}})
	c.close(Block{Text: c.v.Say(word, "when", c.clock(c.when()))})
}

// seconder is who counts the machine a second time just now, or nobody.
func (c *talk) seconder() *Activity {
	for i := range c.f.Others {
		if a := &c.f.Others[i]; c.e.counts(a.Flow).second && a.Blind && !c.stale(*a) {
			return a
		}
	}
	return nil
}

// counting says at the figures that somebody counts a second time.
func (c *talk) counting() string {
	p := c.target()
	a := c.seconder()
	if a == nil || p == nil || p.Status != books.Waiting {
		return ""
	}
	return c.v.Say("second-counting", "who", c.name(a.Person))
}

// secondBy reports whether a person is in the middle of a second count.
func (c *talk) secondBy(id shop.PersonID) bool {
	return slices.ContainsFunc(c.f.Others, func(a Activity) bool {
		return a.Person == id && c.e.counts(a.Flow).second && a.Blind && !c.stale(a)
	})
}

// tellDifference tells the managers of a close with a difference; whoever
// counts a second time just now is told after that count, see [talk.tellHeld].
func (c *talk) tellDifference(p *books.Period) {
	body := c.differenceOf(p)
	if c.seconder() == nil {
		c.managers(body...)
		return
	}
	for _, o := range c.f.Shop.People {
		if o.Acts().Manages() && o.ID != c.f.Person.ID && !c.secondBy(o.ID) {
			c.tellPerson(o.ID, Reply{Body: body})
		}
	}
}

func (c *talk) differenceOf(p *books.Period) []Block {
	return append([]Block{text(c.v.Say("told.difference", "who", c.name(p.EndedBy),
		"day", c.v.Day(c.local(p.Opened))))}, c.verdict(p)...)
}

// heldBack tells the speaker, once the dialog has ended, the result of the
// period that was closed while they counted it a second time; nil where nothing
// was kept from them.
func heldBack(c *talk) func(*talk) {
	p := c.target()
	if p == nil || p.Status != books.Closed || p.EndedBy == c.f.Person.ID {
		return nil
	}
	return func(c *talk) { c.tellHeld(p) }
}

// tellHeld tells the speaker the result that was kept from them.
func (c *talk) tellHeld(p *books.Period) {
	if c.f.Person.Role == shop.Owner {
		c.post(c.noteOf(p))
	}
	if c.f.Person.Role.Manages() && c.above(p) {
		c.post(Reply{Body: c.differenceOf(p)})
	}
}

// secondLate keeps a second count that was ready after the first was closed or
// taken back: beside it, as a count of its own, and compared for the managers.
func (c *talk) secondLate(p *books.Period) {
	if p.CountedBy == c.f.Person.ID && p.Status == books.Closed {
		c.close(Block{Text: c.v.Say("second-other", "who", c.f.Person.Name)})
		return
	}
	r := books.Record{Kind: books.Spot, Period: p.No, Figures: c.counted(), Marks: c.secondMarks(p)}
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return
	}
	if p.Status != books.Closed {
		c.close(text(c.v.Say("second-alone", "when", c.clock(c.when()))))
		return
	}
	body := []Block{text(c.v.Say("second-both"))}
	if !c.same() {
		body = []Block{text(c.v.Say("second-apart")), c.bothCounts(p), text(c.v.Say("second-look"))}
	}
	c.managers(append([]Block{text(c.v.Say("told.second-late", "who", c.f.Person.Name,
		"day", c.v.Day(c.local(p.Opened)), "other", c.name(p.EndedBy)))}, body...)...)
	late := c.v.Say("second-late", "when", c.clock(c.when()), "who", c.name(p.EndedBy))
	c.close(append([]Block{text(late)}, body...)...)
}

// bothCounts lines up the first count and the second one by kind of note.
func (c *talk) bothCounts(p *books.Period) Block {
	first, second := p.Day().Counted(), c.myCount().Counted()
	rows := [][]string{{"", c.v.Say("col.first"), c.v.Say("col.second")}}
	for _, l := range kindLines(c) {
		rows = append(rows, []string{c.v.Kind(l.face), c.v.Number(first[l.face]), c.v.Number(second[l.face])})
	}
	return columns(1, rows)
}

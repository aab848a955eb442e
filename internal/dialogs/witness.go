package dialogs

import (
	"strconv"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
)

// afterCount is what follows a closing count: where the shop wants two persons
// to count, the second one first.
func (c *talk) afterCount(p *books.Period) string {
	if c.f.Shop.TwoPersons && p.Witness == 0 && !p.Alone && c.State.Draft.Happened.IsZero() {
		return "witness"
	}
	return "paid"
}

// callWitness asks everybody else who counts to stand by the count.
func (c *talk) callWitness(p *books.Period) {
	lines := boxLines(c)
	v := make([]int64, len(lines))
	for i, l := range lines {
		if b := p.Box(l.box); b != nil {
			v[i] = b.Remaining
		}
	}
	table, _ := c.countTable(lines, v)
	arg := strings.Join([]string{strconv.FormatInt(p.No, 10), strconv.FormatInt(p.CountSeq, 10), strconv.FormatInt(int64(c.m.ID), 10)}, ".")
	c.tellOthers(Reply{
		Key: "witness-" + strconv.FormatInt(p.No, 10),
		Body: []Block{
			{Text: c.v.Say("told.witness", "who", c.f.Person.Name)},
			table,
			{Text: c.v.Say("told.witness-do")},
		},
		Buttons: [][]Button{c.button("witness", "o:witness:"+arg)},
	})
}

func witnessScreen() screen {
	return screen{
		what: "what.witness",
		ask: func(c *talk) *card {
			p := c.target()
			if p == nil || c.afterCount(p) != "witness" {
				c.goTo("paid")
				return nil
			}
			k := &card{body: []Block{{Text: c.v.Say("witness")}}}
			if c.f.Shared || p.CountedBy != c.f.Person.ID {
				k.buttons = append(k.buttons, c.button("witness", "witness"))
			}
			k.buttons = append(k.buttons, c.button("alone", "alone"))
			return k
		},
		taps: map[string]func(*talk){"witness": func(c *talk) { c.witness(c.target()) }, "alone": alone},
	}
}

// witness records that the speaker stands by the count. Whoever counted cannot.
func (c *talk) witness(p *books.Period) bool {
	if p.CountedBy == c.f.Person.ID {
		c.first(c.v.Say("witness-other", "who", c.f.Person.Name))
		return false
	}
	r := books.Record{Kind: books.Witness, Period: p.No, Target: p.CountSeq}
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return false
	}
	c.first(c.v.Say("witnessed", "when", c.clock(c.in.At)))
	return true
}

// witnessed takes the button off the cards of all who were asked.
func (c *talk) witnessed(p *books.Period, word string) {
	c.rewriteAll("witness-"+strconv.FormatInt(p.No, 10), Block{Text: word})
}

// alone records that nobody else was there, and tells the managers.
func alone(c *talk) {
	p := c.target()
	r := books.Record{Kind: books.Witness, Period: p.No, Target: p.CountSeq, Marks: []books.Mark{books.Alone}}
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return
	}
	c.witnessed(p, c.v.Say("told.alone-card", "who", c.f.Person.Name))
	c.managers(text(c.v.Say("told.alone", "who", c.f.Person.Name, "day", c.v.Day(c.local(p.Opened)))))
	c.first(c.v.Say("alone-kept"))
}

func witnessCard() standing {
	return standing{name: doWitness, rights: rights{access.Counting, anyPhone, onceSetUp}, tap: (*talk).witnessTap}
}

// witnessTap answers the card of whoever was asked to stand by a count.
func (c *talk) witnessTap(arg string) {
	n, ok := numbers(arg, 3)
	if !ok || n[2] != int64(c.m.ID) {
		c.Notice = c.v.Say("notice.elsewhere")
		return
	}
	p := c.m.Period(n[0])
	if p == nil || p.CountSeq != n[1] || p.Status != books.Waiting || p.Witness != 0 || p.Alone {
		c.Notice = c.v.Say("notice.stale")
		return
	}
	if !c.witness(p) {
		c.send(Reply{})
		return
	}
	c.lead = nil
	c.witnessed(p, c.v.Say("witnessed-by", "who", c.f.Person.Name, "when", c.clock(c.in.At)))
	c.tellPerson(p.CountedBy, Reply{
		Body:    []Block{{Text: c.v.Say("told.witnessed", "who", c.f.Person.Name)}},
		Buttons: [][]Button{c.button("go-on", "o:go-on:dialog")}})
}

func goOnCard() standing {
	return standing{name: doGoOn, rights: rights{access.Counting, anyPhone, onceSetUp}, tap: (*talk).goOnTap}
}

// goOnTap shows the open card again.
func (c *talk) goOnTap(_ string) {
	if c.flow() == nil {
		c.Notice = c.v.Say("notice.stale")
		return
	}
	c.show()
}

// numbers reads n numbers set apart by dots.
func numbers(arg string, n int) ([]int64, bool) {
	parts := strings.Split(arg, ".")
	list := make([]int64, 0, n)
	for _, p := range parts {
		v, err := strconv.ParseInt(p, 10, 64)
		if err != nil {
			return nil, false
		}
		list = append(list, v)
	}
	return list, len(list) == n
}

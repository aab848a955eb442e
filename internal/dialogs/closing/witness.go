package closing

import (
	"strconv"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
)

// afterCount is what follows a closing count: where the shop wants two persons
// to count, the second one first.
func afterCount(c *engine.Talk, p *books.Period) string {
	if c.F.Shop.TwoPersons && p.Witness == 0 && !p.Alone && c.State.Draft.Happened.IsZero() {
		return "witness"
	}
	return firstFigures(c)
}

// firstFigures is where printed figures are asked for. What was paid out before
// the counters started again comes first where it is to be typed again.
func firstFigures(c *engine.Talk) string {
	if c.State.Draft.Retyped["last-seen"] != "" {
		return "last-seen"
	}
	return "paid"
}

// callWitness asks everybody else who counts to stand by the count.
func callWitness(c *engine.Talk, p *books.Period) {
	lines := ask.BoxLines(c)
	v := make([]int64, len(lines))
	for i, l := range lines {
		if b := p.Box(l.Box); b != nil {
			v[i] = b.Remaining
		}
	}
	table, _ := ask.CountTable(c, lines, v)
	arg := strings.Join(
		[]string{strconv.FormatInt(p.No, 10), strconv.FormatInt(p.CountSeq, 10),
			strconv.FormatInt(int64(c.M.ID), 10)},
		".",
	)
	c.TellOthers(chat.Reply{
		Key: "witness-" + strconv.FormatInt(p.No, 10),
		Body: []chat.Block{{Text: c.V.Say("told.witness", "who", c.F.Person.Name)}, table,
			{Text: c.V.Say("told.witness-do")}},
		Buttons: [][]chat.Button{c.Button("witness", "o:witness:"+arg)},
	})
}

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
	r := books.Record{Kind: books.Witness, Period: p.No, Target: p.CountSeq}
	if _, err := c.Record(r); err != nil {
		c.Refuse(err)
		return false
	}
	c.First(c.V.Say("witnessed", "when", c.Clock(c.In.At)))
	return true
}

// witnessed takes the button off the cards of all who were asked.
func witnessed(c *engine.Talk, p *books.Period, word string) {
	c.RewriteAll("witness-"+strconv.FormatInt(p.No, 10), chat.Block{Text: word})
}

// alone records that nobody else was there, and tells the managers.
func alone(c *engine.Talk) {
	p := ask.Target(c)
	r := books.Record{Kind: books.Witness, Period: p.No, Target: p.CountSeq, Marks: []books.Mark{books.Alone}}
	if _, err := c.Record(r); err != nil {
		c.Refuse(err)
		return
	}
	witnessed(c, p, c.V.Say("told.alone-card", "who", c.F.Person.Name))
	c.Managers(engine.Text(c.V.Say("told.alone", "who", c.F.Person.Name, "day", c.V.Day(c.Local(p.Opened)))))
	c.First(c.V.Say("alone-kept"))
}

func WitnessCard() engine.Standing {
	return engine.Standing{Name: engine.DoWitness,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp), Tap: witnessTap}
}

// witnessTap answers the card of whoever was asked to stand by a count.
func witnessTap(c *engine.Talk, arg string) {
	n, ok := numbers(arg, 3)
	if !ok || n[2] != int64(c.M.ID) {
		c.Notice = c.V.Say("notice.elsewhere")
		return
	}
	p := c.M.Period(n[0])
	if p == nil || p.CountSeq != n[1] || p.Status != books.Waiting || p.Witness != 0 || p.Alone {
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

func GoOnCard() engine.Standing {
	return engine.Standing{Name: engine.DoGoOn,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp), Tap: goOnTap}
}

// goOnTap shows the open card again.
func goOnTap(c *engine.Talk, _ string) {
	if c.Flow() == nil {
		c.Notice = c.V.Say("notice.stale")
		return
	}
	c.Show()
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

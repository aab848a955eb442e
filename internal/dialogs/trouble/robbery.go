package trouble

import (
	"strconv"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
)

// tellRobbery tells managers and owners at once, without a word of it to the
// speaker, whose screen somebody else may be reading.
func tellRobbery(c *engine.Talk) {
	who := c.F.Person.Name
	if who == "" {
		who = c.V.Say("somebody")
	}
	r := chat.Reply{Body: []chat.Block{{Text: c.V.Say("robbery.told", "who", who, "when", c.Clock(c.In.At))},
		{Text: c.V.Say("robbery.do", "number", trade.GuideSettings(c).Number("emergency"))}}}
	if w := c.State.Walk; w != nil && w.Fault != 0 {
		r.Buttons = [][]chat.Button{c.Button("robbery-over", "o:fault:back."+strconv.FormatInt(w.Fault, 10))}
	}
	c.TellManagers(r)
}

// endRobberies closes the other records of what was one robbery.
func endRobberies(c *engine.Talk) {
	var open []int64
	for _, f := range c.M.Faults {
		if engine.OpenRobbery(f) {
			open = append(open, f.Seq)
		}
	}
	for _, seq := range open {
		news(c, seq, books.Trouble{Ending: books.Solved})
	}
}

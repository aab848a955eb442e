package closing

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
)

// maxSlipButtons bounds the slips that can be left out at the question for the
// next one; the records of more can be corrected.
const maxSlipButtons = 3

// slipButtons offer to leave out printed figures that are in already. During
// another person's count nobody may see what a slip says.
func slipButtons(c *engine.Talk, list []books.Slip) [][]chat.Button {
	if !trade.HasLedger(c) || c.Hidden() {
		return nil
	}
	var rows [][]chat.Button
	for _, s := range list[max(len(list)-maxSlipButtons, 0):] {
		rows = append(rows,
			c.Button("slip-out", "slip-"+strconv.FormatInt(s.Seq, 10), "slip", trade.SlipName(c, s)))
	}
	return rows
}

// twiceButtons offer to leave out what is probably in twice, all at once.
func twiceButtons(c *engine.Talk, p *books.Period) [][]chat.Button {
	list := trade.Twice(c, p)
	if len(list) < 2 || !trade.HasLedger(c) {
		return slipButtons(c, list)
	}
	return [][]chat.Button{c.Button("slips-out", "slip-all")}
}

// tapVerdictLine corrects a figure, or leaves printed figures out.
func tapVerdictLine(c *engine.Talk, choice string) bool {
	return tapTwice(c, choice) || tapFix(c, choice)
}

// tapTwice chooses the slips to leave out.
func tapTwice(c *engine.Talk, choice string) bool {
	n, found := strings.CutPrefix(choice, "slip-")
	if !found || len(slipButtons(c, ask.Target(c).Slips)) == 0 {
		return false
	}
	var seqs []int64
	if seq, err := strconv.ParseInt(n, 10, 64); err == nil {
		seqs = []int64{seq}
	} else if p, err := preview(c); n == "all" && err == nil {
		for _, s := range trade.Twice(c, p) {
			seqs = append(seqs, s.Seq)
		}
	}
	k := kept(c)
	if k.SlipsOut = seqs; len(slipsOut(c)) == 0 {
		return false
	}
	k.SlipsFrom = c.State.Step
	c.GoTo("slip-out")
	return true
}

// slipsOut are the chosen slips, those that are still in.
func slipsOut(c *engine.Talk) []books.Slip {
	return slices.DeleteFunc(slices.Clone(ask.Target(c).Slips), func(s books.Slip) bool {
		return !slices.Contains(kept(c).SlipsOut, s.Seq)
	})
}

// slipOutScreen asks before printed figures are taken back.
func slipOutScreen() engine.Screen {
	return ask.Booking{Read: readSlipOut, Asks: func(c *engine.Talk) string { return c.V.Say("slip-out-sure") },
		Sure: "slip-out-yes", Book: bookSlipOut, What: "what.slip-out",
		Other: ask.Instead{Label: "back", Value: "back", Take: slipsFrom}}.Screen()
}

// slipsFrom goes back to where the slips were chosen.
func slipsFrom(c *engine.Talk) { c.GoTo(kept(c).SlipsFrom) }

func readSlipOut(c *engine.Talk) []chat.Block {
	list := slipsOut(c)
	if len(list) == 0 || c.Hidden() {
		slipsFrom(c)
		return nil
	}
	return []chat.Block{engine.Text(append([]string{c.V.Say("slip-out")}, trade.SlipNames(c, list)...)...)}
}

// bookSlipOut takes the chosen figures back and goes on where it was asked.
func bookSlipOut(c *engine.Talk) {
	slipsFrom(c)
	for _, s := range slipsOut(c) {
		r := books.Record{Kind: books.Correction, Period: ask.Target(c).No, Target: s.Seq, Reason: books.Twice}
		if err := trade.Correct(c, r); err != nil {
			c.Refuse(err)
			return
		}
		trade.TellCorrected(c, r)
	}
	trade.RemindAgain(c)
	c.First(c.V.Say("slip-out-done", "when", c.Clock(c.In.At)))
	if k := kept(c); len(ask.Target(c).Slips) == 0 && k.NoMore {
		k.NoMore = false
		c.GoTo("paid")
	}
}

package closing

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/diagnosis"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/lines"
	"shopfloat/internal/mending"
	"shopfloat/internal/telling"
)

// mend gives the changes that an explanation stands for; none when it is
// nothing that can be typed: notes to look for, or a call to make.
func mend(c *engine.Talk, p *books.Period, cause diagnosis.Cause) []diagnosis.Change {
	list := diagnosis.Mend(telling.Evidence(c.Teller, p).Day, cause)
	stays := func(x diagnosis.Change) bool { return !canChange(c, p, x) }
	if p.Taken && !c.HasLedger() || slices.ContainsFunc(list, stays) {
		return nil
	}
	return list
}

// canChange reports whether a figure is one that a person gave, in one box and in one record.
func canChange(c *engine.Talk, p *books.Period, x diagnosis.Change) bool {
	one := lines.InOneBox(p, x.Face)
	switch x.Field {
	case diagnosis.Remaining:
		return one
	case diagnosis.Loaded:
		return one && c.HasLedger()
	case diagnosis.Topups:
		lots := telling.LotsOf(c.Teller, p)
		return one && c.HasLedger() && x.Lot < len(lots) && lots[x.Lot].Seq != 0
	case diagnosis.Dispensed, diagnosis.Reversed:
		return !kept(c).NoMore && len(ask.Target(c).Slips) == 0 && c.Counted("last-seen") == nil &&
			lineOf(c, x.Face) >= 0
	}
	return true
}

// fixButtons offer to correct what an explanation says was typed wrongly.
func fixButtons(c *engine.Talk, p *books.Period) [][]chat.Button {
	var rows [][]chat.Button
	for i, cause := range telling.Causes(c.Teller, p) {
		switch list := mend(c, p, cause); {
		case len(list) > 0:
			rows = append(rows, c.Button("fix", "fix-"+strconv.Itoa(i), "what", telling.ChangeWord(c.Teller, list[0])))
		case cause.Slips[0].ID == diagnosis.RejectsMissed && !p.Taken:
			rows = append(rows, c.Button("count-tray", "count-tray"))
		case cause.Slips[0].ID == diagnosis.BoxForgotten && !p.Taken:
			face := cause.Slips[0].Face
			rows = append(rows, c.Button("count-box", "box-"+string(face), "kind", c.V.Kind(face)))
		}
	}
	return rows
}

// tapFix shows what a correction would change.
func tapFix(c *engine.Talk, choice string) bool {
	p, err := preview(c)
	n, found := strings.CutPrefix(choice, "fix-")
	i, bad := strconv.Atoi(n)
	if err != nil || !found || bad != nil || i < 0 || i >= len(telling.Causes(c.Teller, p)) {
		return false
	}
	kept(c).Fix = i + 1
	c.GoTo("fix")
	return true
}

// fixes are the changes that were chosen, or none any more.
func fixes(c *engine.Talk) (*books.Period, []diagnosis.Change) {
	p, err := preview(c)
	if i := kept(c).Fix - 1; err == nil && i >= 0 {
		if causes := telling.Causes(c.Teller, p); i < len(causes) {
			return p, mend(c, p, causes[i])
		}
	}
	return p, nil
}

func readFix(c *engine.Talk) []chat.Block {
	_, list := fixes(c)
	if len(list) == 0 {
		c.GoTo("verdict")
		return nil
	}
	return telling.Changes(c.Teller, list)
}

// bookFix carries the changes out and shows the result anew.
func bookFix(c *engine.Talk) {
	p, list := fixes(c)
	kept(c).Fix = 0
	c.GoTo("verdict")
	fixDraft(c, list)
	for _, r := range fixRecords(c, p, list) {
		if err := write(c, r); err != nil {
			c.Refuse(err)
			return
		}
		if r.Kind == books.Correction {
			trade.TellCorrected(c, r)
		}
	}
	if len(list) > 0 {
		c.First(c.V.Say("fix.done", "when", c.Clock(c.In.At)))
	}
}

// write records one record, a correction as such.
func write(c *engine.Talk, r books.Record) error {
	if r.Kind == books.Correction {
		return trade.Correct(c, r)
	}
	_, err := c.Record(r)
	return err
}

// fixDraft changes printed figures that are in no record yet.
func fixDraft(c *engine.Talk, list []diagnosis.Change) {
	for _, x := range list {
		q := paidQuestion
		switch x.Field {
		case diagnosis.Dispensed:
		case diagnosis.Reversed:
			q = backQuestion
		default:
			continue
		}
		i := lineOf(c, x.Face)
		q.Values(c)[i] = x.To
		q.Accept(c, i, x.To)
	}
}

// lineOf is where a kind of note stands among the printed figures; -1 for nowhere.
func lineOf(c *engine.Talk, face cashmath.Face) int {
	return slices.IndexFunc(ask.SlipLines(c), func(l ask.Line) bool { return l.Face == face })
}

// fixRecords makes the records: a new count, and corrections of an opening or a top-up.
func fixRecords(c *engine.Talk, p *books.Period, list []diagnosis.Change) []books.Record {
	lots := telling.LotRecords(c.Teller, p)
	ledger := func() []books.Entry { return trade.Ledger(c, p.No) }
	return mending.Records(p, list, lots, ask.KindLines(c), ledger)
}

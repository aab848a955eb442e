package closing

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/counts"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/lines"
	"shopfloat/internal/reminders"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// askVerdict shows what a closing comes to, and what may explain a difference.
func askVerdict(c *engine.Talk) *engine.Card {
	p, err := preview(c)
	if err != nil {
		return noResult(c, err)
	}
	trade.Shown(c, p)
	k := &engine.Card{}
	if line := alsoCounting(c); line != "" {
		k.Body = append(k.Body, chat.Lines(line))
	}
	k.Body = append(append(k.Body, telling.Verdict(c.Teller, p)...), chat.Lines(slipTyped(c)))
	if k.Buttons = twiceButtons(c, p); len(k.Buttons) == 0 {
		k.Buttons = fixButtons(c, p)
	}
	k.Buttons = append(k.Buttons, c.Button("confirm", "confirm"), c.Button("change", "figures"))
	if !telling.Even(p) {
		k.Buttons = append(k.Buttons, recountButton(c)...)
	}
	return k
}

// noResult stands where a result would: the figures can be changed, unless
// somebody else closed the day meanwhile, which ends the dialog.
func noResult(c *engine.Talk, err error) *engine.Card {
	why := chat.Block{Text: telling.Refusal(c.Teller, err)}
	if r, ok := errors.AsType[*books.Refusal](err); ok && r.Code == books.DayClosed {
		c.Close(why)
		return nil
	}
	return &engine.Card{Body: []chat.Block{why}, Buttons: [][]chat.Button{c.Button("change", "figures")}}
}

// answerVerdict takes printed figures typed anew, and that nothing was cancelled, as the card says.
func answerVerdict(c *engine.Talk, s string) bool {
	k := kept(c)
	rest, cancelled := lines.Cancelled(s)
	switch {
	case k.NoBack && saysNone(c, backQuestion, s):
		return true
	case k.NoMore:
		return false
	case cancelled && totalOnly(c):
		k.Back = decimal.NullDecimal{}
		c.GoTo("back-total")
		answerBackTotal(c, rest) // else it is asked for
		return true
	case cancelled:
		k.NoBack = false
		c.GoTo("back")
		return backQuestion.Answer(c, rest)
	case counts.Parse(s, ask.Request(c, ask.SlipLines(c), 0, paidQuestion)).Amends: // the count may be meant
		c.State.Draft.Typed = s
		c.GoTo("whose-printed")
		return true
	}
	return answerSlip(c, s)
}

// recountSeldom puts it behind More where everything is even.
func recountSeldom(c *engine.Talk) [][]chat.Button {
	if p, err := preview(c); err != nil || !telling.Even(p) {
		return nil
	}
	return recountButton(c)
}

// recountButton offers to count again, of what is still there to be counted.
func recountButton(c *engine.Talk) [][]chat.Button {
	if p := ask.Target(c); p == nil || p.Taken {
		return nil
	}
	return [][]chat.Button{c.Button("recount", "recount")}
}

// slipTyped reads the printed figures of the draft back, which the card is to
// book with the result; empty where those that are in already are all there is.
func slipTyped(c *engine.Talk) string {
	r, ok := settlement(c, ask.Target(c))
	if !ok {
		return ""
	}
	return telling.SlipTyped(c.Teller, r)
}

// recount asks the whole count again. The difference is known by now, so the new count is marked.
func recount(c *engine.Talk) {
	everything.anew(c)
	kept(c).NotBlind = true
}

// countTray asks for the box for refused notes again, and nothing else.
func countTray(c *engine.Talk) {
	c.Put("left", lines.Remaining(ask.Target(c)))
	c.Unanswer("tray")
	kept(c).Count.NoTray, kept(c).NotBlind = false, true
	c.GoTo("tray")
}

// bookClose records the printed figures and the close.
func bookClose(c *engine.Talk) *books.Period {
	p := ask.Target(c)
	list := []books.Record{{Kind: books.Close, Period: p.No}}
	if len(nightTicks(c)) > 0 && telling.SameDay(c.Local(p.CountedAt), c.Local(c.In.At)) {
		list[0].Ticks = []string{"night-slip"}
	}
	if c.F.Shop.Nightly || p.Paper {
		list[0].Where = books.Cash
	}
	if r, ok := settlement(c, p); ok {
		list = append([]books.Record{r}, list...)
	}
	if !recorded(c, list...) {
		return nil
	}
	p = c.M.Period(p.No)
	trade.OwnersNote(c, p)
	return p
}

// nightTicks are what remains to be done after a close.
func nightTicks(c *engine.Talk) []string {
	if p := ask.Target(c); !c.State.Draft.Happened.IsZero() || p != nil && p.Taken {
		return nil // nothing to put away: the next opening has taken it, or the day is long over
	}
	list := []string{"night-away", "night-on"}
	switch {
	case !c.F.Shop.Nightly:
		return []string{"night-locked", "night-on"}
	case c.F.Shop.SafeOpen:
		return append(list, "night-open")
	}
	return append(list, "night-locked")
}

// night shows the overnight card and ends the dialog.
func night(c *engine.Talk) {
	p := ask.Target(c)
	head := telling.ClosedHead(c.Teller, p)
	switch {
	case len(p.Ticks) > 0:
		trade.AskTicks(c, p, head)
	case c.State.Draft.Happened.IsZero():
		c.Close(chat.Lines(head))
	default:
		c.Close(chat.Lines(head, c.V.Say("paper-next")))
	}
}

// waitClosing ends with everything counted kept and the printed figures missing.
func waitClosing(c *engine.Talk, why string) {
	p := ask.Target(c)
	told := texts.Either(len(p.Slips) > 0, "told.close-missing", "told.figures-missing")
	c.TellAbout(reminders.Noted, chat.Reply{Body: []chat.Block{{
		Text: c.V.Say(told, "day", c.V.Day(c.Local(p.Opened)), "who", c.F.Person.Name)}}})
	head := c.V.Say(why) + "\n" + c.V.Say("wait.how")
	if len(p.Ticks) == 0 {
		c.Close(chat.Lines(head))
		return
	}
	trade.AskTicks(c, p, head)
}

// maxSlipButtons bounds the slips that can be left out at the question for the
// next one; the records of more can be corrected.
const maxSlipButtons = 3

// slipButtons offer to leave out printed figures that are in already. During
// another person's count nobody may see what a slip says.
func slipButtons(c *engine.Talk, list []books.Slip) [][]chat.Button {
	if !c.HasLedger() || c.Hidden() {
		return nil
	}
	var rows [][]chat.Button
	for _, s := range list[max(len(list)-maxSlipButtons, 0):] {
		rows = append(rows,
			c.Button("slip-out", "slip-"+strconv.FormatInt(s.Seq, 10), "slip", telling.SlipName(c.Teller, s)))
	}
	return rows
}

// twiceButtons offer to leave out what is probably in twice, all at once.
func twiceButtons(c *engine.Talk, p *books.Period) [][]chat.Button {
	list := telling.Twice(c.Teller, p)
	if len(list) < 2 || !c.HasLedger() {
		return slipButtons(c, list)
	}
	return [][]chat.Button{c.Button("slips-out", "slip-all")}
}

// tapVerdictLine corrects a figure, or leaves printed figures out.
func tapVerdictLine(c *engine.Talk, choice string) bool {
	return tapTwice(c, choice) || tapFix(c, choice) || tapBox(c, choice)
}

// tapBox asks for a kind again whose box was forgotten, and nothing else.
func tapBox(c *engine.Talk, choice string) bool {
	p := ask.Target(c)
	kind, found := strings.CutPrefix(choice, "box-")
	left := lines.Forgotten(p, cashmath.Face(kind))
	if !found || left == nil || p.Taken {
		return false
	}
	c.Put("left", left)
	c.Put("tray", lines.Counts(ask.KindLines(c), p.Tray))
	c.Put("found", lines.Counts(ask.KindLines(c), p.Path))
	kept(c).Count.NoTray, kept(c).NotBlind = p.Has(books.NoTray), true
	c.GoTo("left")
	return true
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
		for _, s := range telling.Twice(c.Teller, p) {
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
	names := telling.SlipNames(c.Teller, list)
	return []chat.Block{chat.Lines(append([]string{c.V.Say("slip-out")}, names...)...)}
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

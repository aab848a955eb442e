package engine

import (
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/choosing"
	"shopfloat/internal/counts"
	"shopfloat/internal/hearing"
	"shopfloat/internal/helping"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// sameAgain answers a command for the dialog that is under way: what follows it is an answer, or begins it
// afresh. Words that are neither are said not to be taken: the card below would be taken for them.
func (c *Talk) sameAgain(f *Flow, cmd *Command) {
	if c.Rest == "" {
		c.Redraw()
		return
	}
	if f.Again == BegunAgain {
		cmd.Run(c)
		return
	}
	if telling.SomeKept(c.answered()) { // they are for what is recorded already, and not for what is asked since
		c.notTaken(c.Rest)
		c.Redraw()
		return
	}
	s := f.Screens[c.State.Step]
	had := c.Counted(c.State.Step)
	c.Unanswer(c.State.Step) // all of it anew
	if s.Answer != nil && s.Answer(c, c.Rest) {
		c.taken()
		return
	}
	if had != nil {
		c.Put(c.State.Step, had)
	}
	if !counts.SaysNothing(c.Rest) {
		c.notTaken(c.Rest)
	}
	c.Redraw()
}

// notTaken says first that a text was not taken, and which.
func (c *Talk) notTaken(typed string) { c.First(telling.NotTaken(c.Teller, typed)) }

// Words are the ways to ask for a command in the speaker's language.
func (c *Talk) Words(cmd *Command) []string { return c.V.List("words." + cmd.Name) }

// Command finds the command a text begins with, and what follows it. The longest words win.
func (c *Talk) Command() (cmd *Command, rest string) {
	low := c.low()
	if month, ok := telling.EndsMonth(c.Teller, low); ok && c.E.Named(DoMonth) != nil {
		return c.E.Named(DoMonth), month
	}
	best := 0
	for i := range c.E.commands {
		if n, after := texts.Begins(low, c.Words(&c.E.commands[i])); n > best {
			best, cmd, rest = n, &c.E.commands[i], after
		}
	}
	if cmd == nil || rest != "" && cmd.Hours { // open late tomorrow, at 11
		if means := c.meant(low); means != nil {
			cmd, rest = means, low
		}
	}
	return cmd, rest
}

// low is what was typed, without what people say before the word that matters.
func (c *Talk) low() string {
	return c.V.Unpolite(strings.ReplaceAll(strings.TrimPrefix(texts.Fold(c.In.Text), "/"), "’", "'"))
}

// Named finds a command by its name; nil if there is none.
func (e *Engine) Named(name string) *Command {
	i := slices.IndexFunc(e.commands, func(cmd Command) bool { return cmd.Name == name })
	if i < 0 {
		return nil
	}
	return &e.commands[i]
}

// longPause is how long a dialog rests until a bare number shows the draft first, and is no answer yet.
const longPause = 30 * time.Minute

const commandWords = 12 // at most behind the word of a command: more only begins like one

// text answers a message: an answer to the open question, a command, or words that are neither.
func (c *Talk) text() {
	f := c.Flow()
	if c.onlyNumber(f) {
		if (f.Tells == TellsNothing || !c.curtain(f)) && !c.given(f, c.In.Text) {
			c.unknown(f)
		}
		return
	}
	if c.typedButton() || c.forBeside(f) {
		return
	}
	cmd, said := c.Command()
	if f != nil && f.Screens[c.State.Step].Named && c.nameOf(cmd) && c.answer(f) {
		return
	}
	cmd, rest := c.meansCommand(cmd, said)
	cmd, taken := c.weighed(f, cmd, rest)
	if taken {
		return
	}
	if f != nil && f.Screens[c.State.Step].Free && (cmd == nil || said != "") && c.answer(f) {
		return
	}
	bare := texts.Fold(strings.Trim(c.In.Text, ".! "))
	if f != nil && (cmd == nil || cmd.Answers || c.agrees(f.Screens[c.State.Step], bare) ||
		c.typedTap(f) != "" || cmd.Finds && helping.AsksRefused(c.Screen().What) ||
		rest != "" && (cmd.Plea || len(strings.Fields(rest)) > commandWords)) {
		if c.answer(f) {
			return
		}
	}
	if cmd == nil {
		c.unknown(f)
		return
	}
	c.Rest = rest
	c.Obey(cmd)
}

// nameOf reports whether what was typed is a name although it is the word of a command:
// it begins as names do, and leads nowhere else that a name does not.
func (c *Talk) nameOf(cmd *Command) bool {
	first, _ := utf8.DecodeRuneInString(strings.TrimSpace(c.In.Text))
	return cmd != nil && cmd.Does != endsDialog && !cmd.Plea && unicode.IsUpper(first)
}

// onlyNumber reports whether a message is a number that only the open question
// can be about: no command, guide or button has a number for its word, but a
// screen may have one typed for a tap, and in a robbery nothing is asked.
func (c *Talk) onlyNumber(f *Flow) bool {
	return f != nil && counts.Digits(c.In.Text) && len(f.Screens[c.State.Step].Typed) == 0 &&
		(c.State.Walk == nil || !c.Quiet())
}

// Obey carries out a command, after a word about the dialog that it would end.
func (c *Talk) Obey(cmd *Command) {
	f := c.Flow()
	if !c.May(cmd.Name) {
		c.mayNot(cmd.Name)
		return
	}
	if f != nil && cmd.flow == f.Name && !c.ofAnotherPeriod() && (c.Rest == "" || !c.left(f)) {
		c.sameAgain(f, cmd)
		return
	}
	if before := c.beforeRenewed(); before != nil && cmd.flow == before.Name {
		c.sameRenewed(cmd)
		return
	}
	if f != nil && f.Passes && cmd.Does == StartsDialog && c.rested() {
		c.Close(chat.Block{Text: c.V.Say("left-behind", "when", c.Clock(c.since()), "what", c.what())})
	} else if f != nil && cmd.Does == StartsDialog && c.asksFirst(f) {
		c.askLeave(cmd)
		return
	}
	again := f != nil && !c.passes(f)
	cmd.Run(c)
	if again && cmd.Does == TellsOnly && !c.Quiet() {
		c.Redraw()
	}
}

// passes reports whether a dialog's card is only a view, which no message in between brings
// again; one that holds what somebody typed is shown until that is done with.
func (c *Talk) passes(f *Flow) bool { return f.View && !c.asksFirst(f) }

// answer gives a typed answer to the open screen. False means it was none.
func (c *Talk) answer(f *Flow) bool {
	if c.curtain(f) {
		return true
	}
	s := f.Screens[c.State.Step]
	if choice := c.typedTap(f); choice != "" {
		s.Taps[choice](c)
		c.taken()
		return true
	}
	low := texts.Fold(strings.Trim(c.In.Text, ".!? "))
	if !s.Free && (c.typedLabel(s, low) || c.mustGo(f, s, low)) {
		return true
	}
	if c.given(f, counts.Fold(low)) {
		return true
	}
	if s.Free || !slices.Contains(c.V.List("words.back"), low) {
		return false
	}
	c.back(f, s)
	return true
}

// given hands what was typed to the open screen, unless it is a number after a
// long pause, as low tells. False means it was no answer.
func (c *Talk) given(f *Flow, low string) bool {
	s := f.Screens[c.State.Step]
	if s.Answer == nil {
		return false
	}
	if !s.Free && counts.Digits(low) && !c.State.Last.IsZero() && c.In.At.Sub(c.State.Last) > longPause {
		c.State.Draft.Pending = low
		so, where := "", c.V.Say("long-pause", "what", c.V.Say("flow."+f.Title), "when", c.Clock(c.State.Last))
		if s.Taps["confirm"] == nil { // else the card tells it all
			so, c.Told = telling.Unrecorded(c.Teller, c.answered()), true
		}
		c.First(chat.Lines(where, so).Text)
		c.Show()
		return true
	}
	if !c.stands(f, s) && c.anotherDay(f, strings.TrimSpace(c.In.Text)) {
		return true
	}
	if !s.Answer(c, c.In.Text) {
		return false
	}
	if c.State.Flow != "" { // as in taken, and no step more for a count
		c.State.Draft.At = c.In.At
	}
	c.Show()
	return true
}

// typedTap gives the tap of the open screen whose words were typed; empty for none.
func (c *Talk) typedTap(f *Flow) string {
	low := texts.Fold(strings.Trim(c.In.Text, ".! "))
	for _, choice := range f.Screens[c.State.Step].Typed {
		if slices.Contains(c.V.List("words."+choice), low) {
			return choice
		}
	}
	return ""
}

// agrees reports whether a card that can be confirmed is said to be right: "correct" is no command there.
func (c *Talk) agrees(s Screen, low string) bool {
	return s.Taps["confirm"] != nil && (slices.Contains(c.V.List("words.agreed"), low) || choosing.Agrees(low))
}

// mustGo keeps a dialog at the machine for somebody who has to leave it.
func (c *Talk) mustGo(f *Flow, s Screen, low string) bool {
	if f.Presence != AtWork || !slices.Contains(c.V.List("words.later"), low) {
		return false
	}
	c.lockFirst(f, texts.Either(f.Safe == SafeOpen, "must-go", "must-go-shut"))
	return true
}

// typedLabel takes a button's words that were typed, on the card or behind More.
func (c *Talk) typedLabel(s Screen, low string) bool {
	if s.What != "" && c.IsWord("what-is-it", low) {
		c.tapped("what")
		return true
	}
	if c.agrees(s, low) {
		c.chosen("confirm")
		return true
	}
	change := texts.Either(s.Taps["change"] != nil, "change", "figures")
	if s.Taps["confirm"] != nil && s.Taps[change] != nil && !s.Finds && c.IsWord("no", low) {
		c.chosen(change)
		return true
	}
	for choice := range s.Taps {
		if choice != "confirm" && low == texts.Fold(c.V.Say("button."+choice)) {
			c.chosen(choice)
			return true
		}
	}
	return false
}

// back answers that word where no question has taken it: to the screen before,
// to what can be changed, or out, when nothing is lost by that.
func (c *Talk) back(f *Flow, s Screen) {
	for _, choice := range []string{"back", "change", "figures"} {
		if tap := s.Taps[choice]; tap != nil {
			tap(c)
			c.Show()
			return
		}
	}
	if !c.asksFirst(f) {
		c.cancel()
		return
	}
	c.unfolded = true
	c.Show()
}

// unknown answers words that are neither an answer nor a command.
func (c *Talk) unknown(f *Flow) {
	switch figures := hearing.OnlyFigures(c.In.Text); {
	case f == nil && c.F.Shop.Fresh:
		c.notSetUp()
	case f != nil && figures && !c.MeansOther():
		c.notTaken(strings.TrimSpace(c.In.Text))
		c.Redraw()
	case c.strays(f):
	case figures && c.AsksFor(strings.TrimSpace(c.In.Text), c.In.Text):
	case f == nil || c.passes(f):
		c.Say(c.V.Say("unknown"))
	default:
		c.First(c.V.Say("unknown-within"))
		c.Redraw()
	}
}

// AsksFor asks what a count without a command is for, figures with it; false: no counter typed it.
func (c *Talk) AsksFor(typed, figures string) bool {
	if !c.May(DoOpen) {
		return false
	}
	c.Send(helping.Figures(c.Teller, typed, hearing.Code(figures)))
	return true
}

func CancelCommand() Command {
	return Command{Name: doCancel, Rights: May(access.Everyone, AnyPhone, FromStart),
		Does: endsDialog, Help: HelpNever, Takes: OnlyFigures, Run: (*Talk).cancel}
}

func (c *Talk) cancel() {
	f := c.Flow()
	if f == nil && c.cancels() {
		return
	}
	if f == nil {
		c.Say(c.V.Say("nothing-to-cancel"))
		return
	}
	c.Close(chat.Block{Text: f.Stopped(c)})
}

func HelpCommand() Command {
	return Command{Name: doHelp, Rights: May(access.Everyone, AnyPhone, OnceSetUp),
		Does: TellsOnly, Help: HelpMore, Takes: OnlyFigures, Menu: 13, Plea: true, Run: (*Talk).help}
}

// help shows one screen, see [helping.Help]; "help more" and "help 2" and so on the others.
func (c *Talk) help() {
	if cmd, _ := c.Command(); c.In.Kind == chat.Text && c.Screen().What != "" && cmd != c.E.Named(doHelp) {
		c.Say(c.V.Say(c.Screen().What)) // what do i type
		return
	}
	page, err := strconv.Atoi(c.Rest)
	if texts.Fold(c.Rest) == c.V.Say("words.more") {
		page = 1
	} else if err != nil {
		page = 0
	}
	h := helping.Asked{May: c.May, Within: c.Flow() != nil, Page: page}
	for _, cmd := range c.E.commands {
		if cmd.Help == HelpNever || !c.May(cmd.Name) {
			continue
		}
		h.All = append(h.All, cmd.Name)
		if cmd.Help == HelpOften {
			h.Often = append(h.Often, cmd.Name)
		} else if cmd.Menu > 0 && !cmd.Plea {
			h.Seldom = append(h.Seldom, cmd.Name)
		}
	}
	c.Send(helping.Help(c.Teller, h))
}

// answered are the questions of the dialog under way with what was answered.
func (c *Talk) answered() (parts []telling.Part) {
	for _, q := range c.Flow().Asks {
		parts = append(parts, telling.Part{Name: q.Called(), Lines: q.Answered(c), None: q.Noughts(c),
			Kept: q.Kept(c), Again: q.Retype(c)})
	}
	return parts
}

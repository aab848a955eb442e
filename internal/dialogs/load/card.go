package load

import (
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/advice"
	"shopfloat/internal/chat"
	"shopfloat/internal/counsel"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/telling"
)

func askLoad(c *engine.Talk) *engine.Card {
	if h := c.F.Shop.Plan.Hold; h != nil { // a number would be taken for leave to load
		lines := append(telling.HoldLines(c.Teller, *h), c.V.Say("load.held"))
		return &engine.Card{Body: []chat.Block{chat.Lines(lines...)}}
	}
	_, a, err := advised(c)
	if err != nil {
		return &engine.Card{Body: counsel.None(c.Teller, err)}
	}
	if counsel.Nothing(a) {
		return &engine.Card{Body: []chat.Block{{Text: c.V.Say("load.nothing")}}}
	}
	hand := hand(c)
	k := &engine.Card{Buttons: [][]chat.Button{c.Button("load-why", "why")},
		Body: counsel.Advised(c.Teller, a, ask.KindLines(c), hand)}
	if a.KnownDays > 0 {
		k.Buttons = append(k.Buttons, c.Button("load-picture", "picture"))
	}
	if hand != nil {
		k.Buttons = append(k.Buttons, c.Button("load-all", "all"))
	}
	if c.F.Person.Role.Manages() {
		k.Buttons = append(k.Buttons, c.Button("load-full", "full"))
	}
	return k
}

// beforeOpening is the advice in one line for the opening dialog.
func beforeOpening(c *engine.Talk) (line string, known bool) {
	a, ok := openingAdvice(c)
	if !ok {
		return "", false
	}
	return counsel.AdviceBefore(c.Teller, a), a.KnownDays > 0
}

// openingWhy explains that line; empty where there is none.
func openingWhy(c *engine.Talk) string {
	a, ok := openingAdvice(c)
	if !ok {
		return ""
	}
	return strings.Join(counsel.AdviceWhy(c.Teller, a), "\n")
}

// openingAdvice is the advice for an opening now; there is none for one that is over.
func openingAdvice(c *engine.Talk) (advice.Advice, bool) {
	if !c.State.Draft.Happened.IsZero() {
		return advice.Advice{}, false
	}
	return counsel.ForOpening(c.Teller)
}

// Moments are the advice before an opening.
func Moments() engine.Moments {
	return engine.Moments{Advice: &engine.Advising{Line: beforeOpening, Why: openingWhy}}
}

func askWhy(c *engine.Talk) *engine.Card {
	_, a, err := advised(c)
	if err != nil {
		return &engine.Card{Body: counsel.None(c.Teller, err)}
	}
	return &engine.Card{Body: []chat.Block{chat.Lines(counsel.AdviceWhy(c.Teller, a)...)},
		Buttons: [][]chat.Button{c.Button("back", "back")}}
}

// BacktestCommand tells owners what the advice would have done.
func BacktestCommand() engine.Command {
	return engine.Command{Name: engine.DoBacktest,
		Rights: engine.May(access.Owning, engine.AnyPhone, engine.OnceSetUp), Does: engine.TellsOnly,
		Help: engine.HelpMore, Takes: engine.AnyWords, Run: func(c *engine.Talk) {
			c.Send(chat.Reply{Body: counsel.Backtest(c.Teller)})
		}}
}

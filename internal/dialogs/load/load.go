package load

import (
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/advice"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/counsel"
	"shopfloat/internal/counts"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// A loadDraft keeps the days to load for, which may be left over from yesterday,
// and costs that were typed and are not confirmed yet.
type loadDraft struct {
	From  shop.Date  `json:"from,omitempty"`
	To    shop.Date  `json:"to,omitempty"`
	Costs *shop.Load `json:"costs,omitempty"`
}

func draft(c *engine.Talk) *loadDraft { return engine.Drafted[loadDraft](c) }

// AdviceFlow tells how much to load. It records nothing.
func AdviceFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoLoad, Title: "load", Version: 1, Start: startLoad,
		Draft: func() any { return &loadDraft{} },
		Safe:  engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain, Paper: engine.OffPaper, Loses: losesCosts, Stopped: engine.NothingBooked,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp),
		Commands: []engine.Command{{Name: engine.DoLoad, Does: engine.StartsDialog, Help: engine.HelpOften,
			Takes: engine.AnyWords}},
		Cards: []engine.Standing{{Name: engine.DoPicture, Tap: sendSheet, Typed: chat.AnyTyped,
			Rights: engine.May(access.Managing, engine.AnyPhone, engine.OnceSetUp)}},
		View: true, Screens: map[string]engine.Screen{
			"advice": {Ask: askLoad, Answer: answerLoad, What: "what.load", Taps: map[string]func(*engine.Talk){
				"why": engine.GoBack("why"), "full": engine.GoBack("full"), "picture": sendPicture,
				"all": func(c *engine.Talk) { c.Unanswer("hand") }}}, // as if there were notes enough
			"why": {Ask: askWhy, Answer: answerLoad, What: "what.load",
				Taps: map[string]func(*engine.Talk){"back": engine.GoBack("advice")}},
			"hand": handKind(),
			"full": ask.Pick{First: costBooking.Card, Head: askFull, Options: levelOptions, Take: takeFull,
				Answer: answerFull, Back: "advice", What: "what.full",
				Taps: map[string]func(*engine.Talk){"back": backFromFull, "confirm": costBooking.Confirm}}.Screen(),
		},
	}
}

// handQuestion reads what somebody has to load with; kinds not named are none.
var handQuestion = ask.Question{Name: "hand", Lines: ask.KindLines, Partial: true}

// handKind asks of which kind a figure is that was typed alone. Dropping it is
// having notes enough; as the advice is all that follows, nothing else is kept.
func handKind() engine.Screen {
	return engine.Screen{What: "what.load", Answer: handQuestion.Answer,
		Ask: func(c *engine.Talk) *engine.Card {
			if handQuestion.Waits(c) == "" {
				c.GoTo("advice")
				return nil
			}
			return handQuestion.Ask(c)
		},
		Tap: func(c *engine.Talk, choice string) bool {
			if choice == "no-kind" {
				c.Answers("hand").Lone = ""
				return true
			}
			return handQuestion.Of(c, choice)
		}}
}

func startLoad(c *engine.Talk) {
	c.GoTo("advice")
	if c.Rest != "" && !answerLoad(c, c.Rest) {
		c.First(c.V.Say("load.not", "near", c.Rest))
	}
}

// usualDays sets the days to those the next load is for: a card from yesterday is not about yesterday.
func usualDays(c *engine.Talk) {
	if d, next := draft(c), counsel.LoadDate(c.Teller); d.From < next {
		d.From, d.To = next, advice.Until(c.F.Shop, next)
	}
}

// answerLoad takes other days, or the notes at hand.
func answerLoad(c *engine.Talk, s string) bool {
	if from, to, ok := counsel.LoadDays(c.Teller, texts.Fold(s)); ok {
		draft(c).From, draft(c).To = from, to
		c.GoTo("advice")
		return true
	}
	res := counts.Parse(s, ask.Request(c, ask.KindLines(c), 0, handQuestion))
	if len(res.Items) == 0 || !handQuestion.Answer(c, s) {
		return false
	}
	if counsel.BareCounts(s) {
		c.First(c.V.Say("load.not-opening", "counts", strings.TrimSpace(s)))
	}
	c.GoTo("hand")
	return true
}

// hand gives the notes at hand by kind; nil when nothing was typed.
func hand(c *engine.Talk) books.Notes {
	v, kinds := c.Counted("hand"), ask.KindLines(c)
	if len(v) != len(kinds) || !ask.SomeAnswered(v) {
		return nil
	}
	hand := books.Notes{}
	for i, l := range kinds {
		hand[l.Face] = v[i]
	}
	return hand
}

// advised is the advice for the days in the draft.
func advised(c *engine.Talk) (*advice.Outlook, advice.Advice, error) {
	usualDays(c)
	o, err := counsel.Outlook(c.Teller, draft(c).From)
	if err != nil {
		return nil, advice.Advice{}, err
	}
	a, err := o.For(draft(c).To, hand(c))
	return o, a, err
}

// sendPicture sends the chart of the advice.
func sendPicture(c *engine.Talk) {
	o, a, err := advised(c)
	if err != nil {
		return
	}
	chart := counsel.DrawAdvice(c.V, c.F.Shop.Name, o, a)
	c.Edit = ""
	c.Send(chat.Reply{Body: []chat.Block{{Text: c.V.Say("load.picture")}},
		File: &chat.File{Name: "advice.png", Chart: &chart}})
}

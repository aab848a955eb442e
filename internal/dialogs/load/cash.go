package load

import (
	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/counsel"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
)

// CashFlow tells whether the shop's own cash lasts until the bank pays.
func CashFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoCashPlan, Title: "cash-plan", Version: 1, Start: startCash,
		Safe: engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsFigures,
		Again: engine.AnswersAgain, Paper: engine.OffPaper, Loses: engine.LosesCounts,
		Stopped: engine.NothingBooked,
		Rights:  engine.May(access.Managing, engine.AnyPhone, engine.OnceSetUp),
		Asks:    []engine.Asked{ownQuestion, takingsQuestion},
		Commands: []engine.Command{{Name: engine.DoCashPlan, Does: engine.StartsDialog, Help: engine.HelpMore,
			Takes: engine.AnyWords}},
		Screens: map[string]engine.Screen{"own": ownQuestion.Screen(), "takings": takingsQuestion.Screen(),
			"told": {Ask: tellCash}},
	}
}

var (
	ownQuestion = ask.Question{
		Name: "own", Lines: ask.KindLines, None: true, Partial: true, What: "what.own",
		Next: func(*engine.Talk) string { return "takings" },
	}
	takingsQuestion = ask.Question{
		Name: "takings", Lines: ask.KindLines, None: true, Partial: true, What: "what.takings",
		Next:  func(*engine.Talk) string { return "told" },
		Extra: learnedTakings,
		Taps:  map[string]func(*engine.Talk){"learned": takeLearned},
	}
)

func startCash(c *engine.Talk) {
	c.GoTo("own")
	ask.Take(c, ownQuestion.Answer)
}

// learnedTakings offers what the tills bring, as far as it is anything.
func learnedTakings(c *engine.Talk) [][]chat.Button {
	_, some := counsel.Takings(c.Teller, ask.KindLines(c))
	if len(some) == 0 {
		return nil
	}
	return [][]chat.Button{c.Button("takings-learned", "learned", "counts", c.Notes(some))}
}

func takeLearned(c *engine.Talk) {
	v, _ := counsel.Takings(c.Teller, ask.KindLines(c))
	c.Put("takings", v)
}

func tellCash(c *engine.Talk) *engine.Card {
	plan, err := counsel.Lasting(c.Teller, ownQuestion.Notes(c), takingsQuestion.Notes(c))
	if err != nil {
		c.Close(counsel.None(c.Teller, err)...)
		return nil
	}
	c.Close(counsel.CashPlan(c.Teller, plan))
	return nil
}

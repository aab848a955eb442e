package floor

import (
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/texts"
)

// Of makes a bare engine of declarations, for [New]: what is given, and what the engine has of its own.
func Of(parts ...engine.Declaration) func(*texts.Catalogue) *engine.Engine {
	own := []engine.Declaration{
		engine.CancelCommand(), engine.HelpCommand(), engine.MyCodeFlow(), engine.BusyFlow(), engine.RenewedFlow(),
	}
	return func(catalogue *texts.Catalogue) *engine.Engine {
		return engine.New(catalogue, append(parts[:len(parts):len(parts)], own...))
	}
}

// MadeUp is a dialog of the given screens, which "move" begins at one of them.
// What it declares may be changed before an engine is made of it.
func MadeUp(at string, screens map[string]engine.Screen) *engine.Flow {
	return &engine.Flow{
		Name: engine.DoMove, Title: "move", Version: 1, Screens: screens,
		Start: func(c *engine.Talk) { c.GoTo(at) },
		Safe:  engine.SafeShut, Presence: engine.AtWork, Company: engine.OneAtATime, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain, Paper: engine.OffPaper, Loses: engine.LosesCounts,
		Stopped: engine.NothingBooked,
		Rights:  engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp),
		Commands: []engine.Command{
			{Name: engine.DoMove, Does: engine.StartsDialog, Help: engine.HelpOften, Takes: engine.AnyWords},
		},
	}
}

// Screen is a screen that asks in one sentence and takes taps.
func Screen(asks string, taps map[string]func(*engine.Talk)) engine.Screen {
	return engine.Screen{Taps: taps, Ask: func(*engine.Talk) *engine.Card {
		return &engine.Card{Body: []chat.Block{{Text: asks}}}
	}}
}

// Word is a command and the first of the words for it, in English.
type Word struct{ Command, Word string }

// Words lists the commands.
func Words(e *engine.Engine) []Word {
	v := e.Texts.In("en", "", "")
	var list []Word
	for _, cmd := range e.Commands() {
		first, _, _ := strings.Cut(v.Say("words."+cmd.Name), ", ")
		list = append(list, Word{cmd.Name, first})
	}
	return list
}

package engine_test

import (
	"testing"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// asking is an engine with one dialog that asks one thing, rooms that want to
// hear everything first, and a command whose words are "none, no, 0, nothing,
// zero", so that one of them is a number.
type asking struct {
	engine *engine.Engine
	facts  chat.Facts
}

// newAsking tells did what came to whom; typed are the taps whose words may be typed.
func newAsking(t *testing.T, typed []string, did func(what string)) asking {
	t.Helper()
	cat, err := texts.Load()
	if err != nil {
		t.Fatal(err)
	}
	s, err := shop.New(1, 1, shop.Example())
	if err != nil {
		t.Fatal(err)
	}
	everyone := engine.May(access.Everyone, engine.AnyPhone, engine.FromStart)
	flow := &engine.Flow{
		Name: engine.DoOpen, Title: "opening", Version: 1, Rights: everyone,
		Safe: engine.SafeOpen, Tells: engine.TellsNothing,
		Screens: map[string]engine.Screen{"ask": {
			Ask:    func(*engine.Talk) *engine.Card { return &engine.Card{} },
			Answer: func(_ *engine.Talk, text string) bool { did("answer " + text); return text != "7" },
			Taps:   map[string]func(*engine.Talk){"none": func(*engine.Talk) { did("none") }},
			Typed:  typed,
		}},
	}
	hears := engine.Moments{
		Beside: func(*engine.Talk, *engine.Flow) bool { did("beside"); return false },
		Weighs: func(_ *engine.Talk, _ *engine.Flow, cmd *engine.Command, _ string) (*engine.Command, bool) {
			did("weighs")
			return cmd, false
		},
		Means: func(*engine.Talk, string) string { did("means"); return "" },
		Stray: func(*engine.Talk, *engine.Flow) bool { did("stray"); return true },
	}
	none := engine.Command{Name: "none", Rights: everyone, Does: engine.TellsOnly, Takes: engine.OnlyFigures,
		Run: func(*engine.Talk) { did("command") }}
	return asking{
		engine: engine.New(cat, []engine.Declaration{flow, hears, none}),
		facts:  chat.Facts{Lang: "en", Shop: s, Person: s.People[0], Machine: books.New(1)},
	}
}

// A number typed at an open question is for the question alone: no command, not
// even one whose word is that number, and no room is asked whether it is theirs,
// unless the question does not take it. Without a question, among words, in a
// robbery, or where it may be typed for a tap, it is weighed like all else.
func TestNumberIsForTheOpenQuestion(t *testing.T) {
	now := time.Date(2026, 11, 25, 6, 40, 0, 0, time.UTC)
	open := chat.State{V: chat.StateFormat, Machine: 1, Flow: engine.DoOpen, Step: "ask",
		Draft: chat.Draft{V: 1}, Rev: 1, Last: now.Add(-time.Minute)}
	robbed := open
	robbed.Walk = &chat.Walk{Guide: chat.Robbery, Machine: 1, Last: now}
	rested := open
	rested.Last = now.Add(-time.Hour)
	for _, c := range []struct {
		name, text string
		state      chat.State
		typed      []string
		want       string
	}{
		{"a number", "40", open, nil, "answer 40"},
		{"a number that is a command's word", "0", open, nil, "answer 0"},
		{"one that the question does not take", "7", open, nil, "answer 7"},
		{"a number after a long pause", "40", rested, nil, ""},
		{"no number alone", "40 x", open, nil, "beside, means, weighs, answer 40 x"},
		{"a number that may be typed for a tap", "0", open, []string{"none"}, "beside, weighs, none"},
		{"without a question", "0", chat.State{V: chat.StateFormat, Machine: 1}, nil, "beside, weighs, command"},
		{"in a robbery", "40", robbed, nil, "beside, means, weighs, answer 40"},
	} {
		got := ""
		a := newAsking(t, c.typed, func(what string) {
			if got != "" {
				got += ", "
			}
			got += what
		})
		a.engine.Step(c.state, chat.Input{Kind: chat.Text, Text: c.text, At: now}, a.facts)
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

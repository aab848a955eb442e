package guides_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"shopfloat/internal/guides"
)

// good is a guide with a bit of everything; the cases below break it.
const good = `guide: squeak
title: It squeaks
hazards: fingers
record: when; where

== start
! fingers: Hands off.
[lock=dial] Slowly.
[else] Look.
- Yes -> oil
- [test=yes] Try it -> oil

== oil
One drop.
call: provider
end: solved

== asked as
it squeaks
`

func TestParseOK(t *testing.T) {
	g, err := guides.Parse("squeak.guide", []byte(strings.ReplaceAll(good, "\n", "\r\n")))
	if err != nil {
		t.Fatal(err)
	}
	if g.ID != "squeak" || g.Title != "It squeaks" ||
		len(g.Steps) != 2 || len(g.Asked) != 1 || len(g.Record) != 2 {
		t.Errorf("got %+v", g)
	}
	s, ok := g.Step("oil")
	if !ok || s.FileLine != 13 || s.End != guides.EndSolved || s.Call[0] != guides.Provider {
		t.Errorf("step oil: %+v", s)
	}
}

// Every fault is named with file and line, so that an owner can mend it.
func TestParseErr(t *testing.T) {
	long := strings.Repeat("much too long ", 30)
	for _, c := range []struct{ name, old, new, want string }{
		{"no such step", "-> oil\n- [", "-> grease\n- [",
			`squeak.guide:10: the choice "Yes" leads to step "grease"`},
		{"no end", "end: solved\n", "", `squeak.guide:13: step "oil" has neither a choice nor an end`},
		{"unreached", "== asked", "== lost\nHello.\nend: solved\n\n== asked",
			`squeak.guide:18: no choice leads to step "lost"`},
		{"loop", "end: solved", "- Again -> start",
			`squeak.guide:16: the choice "Again" leads back to step "start"`},
		{"too long", "One drop.", long, `squeak.guide:13: step "oil" is 419 characters long`},
		{"no caution", "! fingers: Hands off.\n", "",
			`squeak.guide:6: the hazard "fingers" has no caution in any step`},
		{"caution not declared", "! fingers", "! lifting",
			`squeak.guide:7: caution for "lifting", but the head does not list`},
		{"caution late", "Look.", "Look.\n! fingers: Mind.", `squeak.guide:10: cautions come first`},
		{"hazard", "hazards: fingers", "hazards: bees", `squeak.guide:3: hazard "bees" is not known`},
		{"says nothing", "One drop.", "[country=GB] One drop.", `squeak.guide:13: step "oil" says nothing`},
		{"no choice for some", "- Yes -> oil\n", "", `squeak.guide:6: step "start" has 0 choices`},
		{"condition", "[lock=dial]", "[lock=magic]", `squeak.guide:8: [lock=magic] is not a condition`},
		{"else alone", "[lock=dial] Slowly.\n", "", `squeak.guide:8: [else] needs a line with a condition`},
		{"else choice", "[test=yes] Try", "[else] Try", `squeak.guide:11: [else] is for text`},
		{"choice", "- Yes -> oil", "- Yes", `squeak.guide:10: a choice reads`},
		{"end", "end: solved", "end: happy", `squeak.guide:16: end "happy" is not known`},
		{"two ends", "end: solved", "end: solved\nend: solved", `squeak.guide:17: step "oil" ends twice`},
		{"call nobody", "call: provider\nend: solved", "end: call for help", `names nobody to call`},
		{"contact", "call: provider", "call: mum", `squeak.guide:15: contact "mum" is not known`},
		{"text after choice", "- Yes -> oil", "- Yes -> oil\nMore.", `squeak.guide:11: text after the choices`},
		{"no start", "== start", "== begin", `squeak.guide:1: the guide has no step "start"`},
		{"same name", "== oil", "== start", `squeak.guide:13: a second step is called "start"`},
		{"step name", "== oil", "== Oil!", `squeak.guide:13: a step's name is`},
		{"head", "title: It", "tilte: It", `squeak.guide:2: "tilte" is not known here`},
		{"no title", "title: It squeaks\n", "", `squeak.guide:1: the line "title: ..." is missing`},
		{"no record", "record: when; where\n", "", `squeak.guide:1: the line "record: ..." is missing`},
		{"binary", "One drop.", "\xff", `squeak.guide:1: the file is not UTF-8 text`},
		{"huge", "One drop.", strings.Repeat("#\n", 40_000),
			`squeak.guide:1: the file is larger than 65536 bytes`},
	} {
		t.Run(c.name, func(t *testing.T) {
			if !strings.Contains(good, c.old) {
				t.Fatalf("the good guide has no %q", c.old)
			}
			_, err := guides.Parse("squeak.guide", []byte(strings.Replace(good, c.old, c.new, 1)))
			var at *guides.LineError
			if !errors.As(err, &at) {
				t.Fatalf("got %v, want a fault with its line", err)
			}
			if !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v\nwant %s", err, c.want)
			}
		})
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(good))
	names, err := filepath.Glob("data/*.guide")
	if err != nil || len(names) == 0 {
		f.Fatalf("no guides to begin with: %v", err)
	}
	for _, name := range names {
		src, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(src)
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		g, err := guides.Parse("x.guide", src)
		if err != nil {
			var at *guides.LineError
			if !errors.As(err, &at) || at.Line < 1 {
				t.Errorf("fault without a line: %v", err)
			}
			return
		}
		if _, ok := g.Step(guides.StartStep); !ok {
			t.Error("accepted without a first step")
		}
	})
}

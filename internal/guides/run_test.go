package guides_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"shopfloat/internal/checks"
	"shopfloat/internal/guides"
)

var update = flag.Bool("update", false, "write the golden files anew")

// The first choice of every step is the ordinary case; the golden files show
// it as a person would read it.
func TestMainBranches(t *testing.T) {
	lib := builtin(t)
	set := guides.Settings{Lock: guides.DialLock, TestDispense: true, Country: "GB"}
	for _, id := range every(lib) {
		t.Run(id, func(t *testing.T) {
			golden(t, filepath.Join("testdata", "main", id+".txt"), walk(t, lib, id, set, nil))
		})
	}
}

// Side branches that matter, by the buttons a person taps.
func TestBranches(t *testing.T) {
	lib := builtin(t)
	list, err := os.ReadFile("testdata/branches.tsv")
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(list)) {
		if strings.HasPrefix(line, "#") {
			continue
		}
		cells := strings.Split(strings.TrimSpace(line), "\t")
		if len(cells) != 5 {
			t.Fatalf("%d cells in %q", len(cells), line)
		}
		t.Run(cells[0], func(t *testing.T) {
			set := guides.Settings{Lock: guides.Lock(cells[3]), TestDispense: true, Country: cells[2]}
			got := walk(t, lib, cells[1], set, strings.Split(cells[4], " > "))
			golden(t, filepath.Join("testdata", "branches", cells[0]+".txt"), got)
		})
	}
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(name, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs; run with -update and look at the difference. Got:\n%s", name, got)
	}
}

// walk taps the named buttons; nil taps the first of every step.
func walk(t *testing.T, lib guides.Library, id string, set guides.Settings, taps []string) string {
	t.Helper()
	var b strings.Builder
	run, err := lib.Start(id)
	for err == nil {
		var v guides.View
		if v, err = lib.View(run, set); err != nil {
			break
		}
		fmt.Fprintf(&b, "%s. Step %d of at most %d.\n", v.Title, v.Number, v.Of)
		for _, c := range v.Cautions {
			fmt.Fprintln(&b, c)
		}
		fmt.Fprintf(&b, "%s\n", v.Text)
		for _, c := range v.Call {
			fmt.Fprintf(&b, "Call: %s\n", c)
		}
		if v.End != guides.EndNone {
			fmt.Fprintf(&b, "End: %s. Write down: %s.\n", v.End, strings.Join(v.Record, "; "))
			return b.String()
		}
		pick := 0
		if taps != nil {
			n := len(run.Taken)
			if n == len(taps) {
				t.Fatalf("no end after %q, but %q", taps, v.Choices)
			}
			if pick = slices.Index(v.Choices, taps[n]); pick < 0 {
				t.Fatalf("%s has no button %q, but %q", run.Step, taps[n], v.Choices)
			}
		}
		fmt.Fprintf(&b, "> %s\n\n", v.Choices[pick])
		run, err = lib.Choose(run, set, pick)
	}
	t.Fatal(err)
	return ""
}

// Whatever a person taps in whatever shop, the guide ends, within the number
// of steps it promised, and no step is too long for the phone.
func TestEveryWalkEnds(t *testing.T) {
	lib := builtin(t)
	checks.Rapid(t, 100, 2_000, 500_000, func(rt *rapid.T) {
		set := guides.Settings{
			Lock: rapid.SampledFrom([]guides.Lock{"", guides.KeyLock, guides.DialLock,
				guides.ElectronicLock}).Draw(rt, "lock"),
			Prints: rapid.SampledFrom([]guides.Prints{"", guides.PrintsNotes, guides.PrintsMoney,
				guides.PrintsBoth, guides.PrintsNothing}).Draw(rt, "prints"),
			TestDispense:   rapid.Bool().Draw(rt, "test"),
			Country:        rapid.SampledFrom([]string{"", "GB", "US", "IE", "DE", "PL", "JP"}).Draw(rt, "country"),
			RestartMinutes: rapid.IntRange(0, 60).Draw(rt, "minutes"),
		}
		run, err := lib.Start(rapid.SampledFrom(every(lib)).Draw(rt, "guide"))
		if err != nil {
			rt.Fatal(err)
		}
		promised := 0
		for n := 1; ; n++ {
			v, err := lib.View(run, set)
			if err != nil {
				rt.Fatal(err)
			}
			if promised == 0 {
				promised = v.Of
			}
			if v.Number != n || v.Of > promised || n > v.Of {
				rt.Fatalf("%s: step %d says %d of %d after promising %d", run.Guide, n, v.Number, v.Of, promised)
			}
			text := strings.Join(append(v.Cautions, v.Text), "\n")
			long := utf8.RuneCountInString(text)
			if long > guides.StepRunesMax || v.Text == "" || strings.Contains(text, "{") {
				rt.Fatalf("%s, %s: %d characters: %q", run.Guide, run.Step, long, text)
			}
			if v.End != guides.EndNone {
				return
			}
			pick := rapid.IntRange(0, len(v.Choices)-1).Draw(rt, "choice")
			if run, err = lib.Choose(run, set, pick); err != nil {
				rt.Fatal(err)
			}
		}
	})
}

func TestChooseErr(t *testing.T) {
	lib := builtin(t)
	run, err := lib.Start("robbery")
	if err != nil {
		t.Fatal(err)
	}
	for _, index := range []int{-1, 1, 99} {
		if got, err := lib.Choose(run, guides.Settings{}, index); err == nil || got.Step != guides.StartStep {
			t.Errorf("choice %d: got %+v, %v", index, got, err)
		}
	}
	if _, err := lib.Start("unicorn"); err == nil {
		t.Error("started a guide that does not exist")
	}
	if _, err := lib.View(guides.Run{Guide: "robbery", Step: "gone"}, guides.Settings{}); err == nil {
		t.Error("showed a step that does not exist")
	}
}

// Two runs from the same step must not share what was chosen.
func TestChooseLeavesTheRunAlone(t *testing.T) {
	lib, set := builtin(t), guides.Settings{}
	start, _ := lib.Start("power")
	one, err1 := lib.Choose(start, set, 0)
	first, err2 := lib.Choose(one, set, 0)
	other, err3 := lib.Choose(one, set, 1)
	if err1 != nil || err2 != nil || err3 != nil {
		t.Fatal(err1, err2, err3)
	}
	if len(start.Taken) != 0 || len(one.Taken) != 1 || first.Taken[1] == other.Taken[1] {
		t.Errorf("start %v, one %v, first %v, other %v", start.Taken, one.Taken, first.Taken, other.Taken)
	}
}

func TestProvidersOwnInstructionComesFirst(t *testing.T) {
	lib := builtin(t)
	set := guides.Settings{Provider: map[string]string{"note-jam": "Ring us before you open it."}}
	run, _ := lib.Start("note-jam")
	v, err := lib.View(run, set)
	if err != nil || v.Own != "Ring us before you open it." {
		t.Errorf("got %q, %v", v.Own, err)
	}
	run, _ = lib.Choose(run, set, 0)
	if v, _ := lib.View(run, set); v.Own != "" {
		t.Errorf("repeated on the second step: %q", v.Own)
	}
	g, _ := lib.Guide("note-jam")
	if whole := g.Whole(set); !strings.Contains(whole, "it comes first: Ring us") {
		t.Errorf("not on paper:\n%s", whole)
	}
}

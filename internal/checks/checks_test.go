package checks_test

import (
	"flag"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"pgregory.net/rapid"

	"shopfloat/internal/checks"
)

// watched is a test that is expected to fail.
type watched struct {
	testing.TB
	said string
}

func (w *watched) Helper() {}

func (w *watched) Fatal(args ...any) {
	w.said = fmt.Sprint(args...)
	runtime.Goexit()
}

// size asks for a size in a test of its own and gives what made that fail.
func size(t *testing.T, small, ci, deep int) (n int, fault string) {
	w, done := &watched{TB: t}, make(chan struct{})
	go func() {
		defer close(done)
		n = checks.Size(w, small, ci, deep)
	}()
	<-done
	return n, w.said
}

func TestSize(t *testing.T) {
	for chosen, want := range map[string]int{"": 3, "ci": 20, "deep": 100} {
		t.Setenv(checks.Environment, chosen)
		if n, fault := size(t, 3, 20, 100); n != want || fault != "" {
			t.Errorf("%q: %d %s, want %d", chosen, n, fault, want)
		}
	}
}

// A word mistyped must not look like a deep run that found nothing.
func TestSizeErr(t *testing.T) {
	for _, chosen := range []string{"Deep", "CI", "ci ", "small", "1000"} {
		t.Setenv(checks.Environment, chosen)
		if n, fault := size(t, 3, 20, 100); !strings.Contains(fault, "want it empty, ci or deep") {
			t.Errorf("%q gives %d, %q", chosen, n, fault)
		}
	}
	t.Setenv(checks.Environment, "")
	for _, sizes := range [][3]int{{0, 1, 2}, {-1, 1, 2}, {5, 4, 6}, {5, 6, 5}} {
		if n, fault := size(t, sizes[0], sizes[1], sizes[2]); !strings.Contains(fault, "want them from one up") {
			t.Errorf("%v gives %d, %q", sizes, n, fault)
		}
	}
}

// Every property is checked as often as it says, beside others of other sizes,
// and at least once.
func TestRapid(t *testing.T) {
	if flagGiven("rapid.checks") {
		t.Skip("-rapid.checks says how often")
	}
	for _, n := range []int{2, 35, 200, 1000} {
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			t.Parallel()
			var ran atomic.Int64
			checks.Rapid(t, n, n, n, func(rt *rapid.T) {
				rapid.IntRange(0, 9).Draw(rt, "digit")
				ran.Add(1)
			})
			want := int64(n)
			if testing.Short() {
				want = max(1, want/5)
			}
			if ran.Load() != want {
				t.Errorf("checked %d times", ran.Load())
			}
		})
	}
}

func flagGiven(name string) (given bool) {
	flag.Visit(func(f *flag.Flag) { given = given || f.Name == name })
	return given
}

// Halves of a property that share out its cases check others, and the same in every run.
func TestRapidPartsDiffer(t *testing.T) {
	if flagGiven("rapid.seed") {
		t.Skip("-rapid.seed says which")
	}
	t.Setenv(checks.Environment, "ci")
	var drawn [3][]int
	for i, name := range []string{"one", "other", "one"} {
		checks.Rapid(part{t, name}, 20, 20, 20, func(rt *rapid.T) {
			drawn[i] = append(drawn[i], rapid.IntRange(0, 1_000_000).Draw(rt, "number"))
		})
	}
	if slices.Equal(drawn[0], drawn[1]) || !slices.Equal(drawn[0], drawn[2]) {
		t.Errorf("one: %v, other: %v, one again: %v", drawn[0], drawn[1], drawn[2])
	}
}

// part is a test by another name.
type part struct {
	*testing.T
	name string
}

func (p part) Name() string { return p.name }

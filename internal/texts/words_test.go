package texts_test

import (
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/texts"
)

func speaking(t *testing.T) *texts.Voice {
	t.Helper()
	c, err := texts.Load()
	if err != nil {
		t.Fatal(err)
	}
	return c.In("en", "IE", "EUR")
}

// Small things done to words, letters counted and not bytes.
func TestWords(t *testing.T) {
	for _, s := range [][2]string{
		{texts.Either(true, "a", "b"), "a"}, {texts.Either(false, "a", "b"), "b"},
		{texts.Upper("élan vital"), "Élan vital"}, {texts.Upper("20s"), "20s"}, {texts.Upper("A"), "A"},
		{texts.Short("zoé", 3), "zoé"}, {texts.Short("zoé!", 3), "zo…"}, {texts.Short("", 1), ""},
		{texts.Fold("  HeLLo\n"), "hello"},
	} {
		if s[0] != s[1] {
			t.Errorf("%q, want %q", s[0], s[1])
		}
	}
}

// A text begins with the longest of some words, and only where that word ends: it may be
// followed by a blank or a sign, never by more letters.
func TestBegins(t *testing.T) {
	words := []string{"open", "open up", "note"}
	for low, want := range map[string]string{
		"open": "4 ", "open 40 150": "4 40 150", "open up now": "7 now", "open: 40": "4 40", "open, 40": "4 40",
		"opening": "0 ", "open-air": "0 ", "openup": "0 ", "note!": "4 ", "notes": "0 ", "": "0 ",
		"please open": "0 ", "open\n40": "4 40",
	} {
		if n, rest := texts.Begins(low, words); fmt.Sprint(n, " ", rest) != want {
			t.Errorf("%q: %d, %q, want %q", low, n, rest, want)
		}
	}
	if n, _ := texts.Begins("close", nil); n != 0 {
		t.Error("no word is begun with")
	}
}

// What people say out of courtesy goes from the front, however much of it there is.
func TestUnpolite(t *testing.T) {
	v := speaking(t)
	polite := v.List("words.polite")
	if len(polite) < 2 {
		t.Fatalf("%q", polite)
	}
	for said, want := range map[string]string{
		polite[0] + " close": "close", polite[1] + " " + polite[0] + "  close": "close", "close": "close",
		"close " + polite[0]: "close " + polite[0], polite[0]: polite[0],
	} {
		if got := v.Unpolite(said); got != want {
			t.Errorf("%q: %q, want %q", said, got, want)
		}
	}
}

// Days, times, kinds and lists as the catalogue has them; 25 November 2026 is a Wednesday.
func TestSaidOften(t *testing.T) {
	v := speaking(t)
	at := time.Date(2026, 11, 25, 7, 5, 0, 0, time.UTC)
	for got, want := range map[string]string{v.Day(at): "Wed 25 Nov", v.Clock(at): "07:05", v.Kind("20"): "20s",
		v.Say("no such sentence"): "no such sentence"} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if a, b := v.List("words.back"), v.List("words.back"); len(a) == 0 || &a[0] != &b[0] {
		t.Error("a list is not kept")
	}
}

// A value of a kind whose form is not known is written all the same, each time anew; a text
// over lines that somebody typed stays in its own line; a long sentence is not mixed up with
// another that begins alike.
func TestFilledIn(t *testing.T) {
	v := speaking(t)
	for range 2 {
		if got := v.Say("kind", "face", decimal.RequireFromString("0.5")); got != "0.5s" {
			t.Errorf("%q", got)
		}
	}
	if got := v.Say("not-taken", "near", "20\nConfirmed"); strings.Contains(got, "\n") ||
		!strings.Contains(got, "20 Confirmed") {
		t.Errorf("%q", got)
	}
	long := strings.Repeat("x", 300)
	for _, end := range []string{"a", "b"} {
		if got := v.Say("not-taken", "near", long+end); !strings.Contains(got, "x"+end) {
			t.Errorf("another text is said: %q", got)
		}
	}
}

// What was said before is remembered within bounds, and many may speak at once.
func TestManySayings(t *testing.T) {
	v := speaking(t)
	var wait sync.WaitGroup
	for range 4 {
		wait.Go(func() {
			for n := range 3000 {
				if got := v.Say("kind", "face", n); got != fmt.Sprint(n)+"s" {
					t.Errorf("%d: %q", n, got)
				}
				money := v.Money(decimal.NewFromInt(int64(n)))
				if want := strings.ReplaceAll(money[3:], ",", ""); money[:3] != "€" || want != fmt.Sprint(n) {
					t.Errorf("%d: %q", n, money)
				}
			}
		})
	}
	wait.Wait()
}

// A label's words are compared without signs, and a number as it is typed mostly.
func TestPlain(t *testing.T) {
	for s, want := range map[string]string{"2,000 in each": "2000 in each", "2000 in each!": "2000 in each",
		"40, 30": "40 30", "I looked: nothing there": "i looked nothing there",
		"Fri 27 Nov, 21:10": "fri 27 nov 21 10",
		"1.5":               "1 5"} {
		if got := texts.Plain(s); got != want {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
}

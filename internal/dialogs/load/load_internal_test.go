package load

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"shopfloat/internal/advice"
	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/floor"
)

// Figures alone are notes to load with, unless they are a whole date.
func TestFiguresAreNotes(t *testing.T) {
	c := floor.Talk(t, "2026-11-26 09:00")
	c.M = books.New(1)
	for typed, want := range map[string]bool{
		"10/5": false, "20.10": false, "10 5": false, "24 dec": true, "2026-12-24": true, "friday to sunday": true,
	} {
		if _, _, ok := span(c, typed); ok != want {
			t.Errorf("%q: days %v", typed, ok)
		}
	}
}

// Why there is no advice is said in everyday words.
func TestNoAdvice(t *testing.T) {
	c := floor.Talk(t, "2026-11-26 09:00")
	for err, want := range map[error]string{
		fmt.Errorf("load: %w", advice.ErrDays): "No advice this time.\nI find no day to load for",
		errors.New("entry 3: period 9"):        "No advice this time.\nWhat is on record cannot be used",
	} {
		if got := noAdvice(c, err).Body[0].Text; !strings.HasPrefix(got, want) || strings.Contains(got, "period") {
			t.Errorf("%v: %q", err, got)
		}
	}
}

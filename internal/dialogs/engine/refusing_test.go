package engine_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
)

// refusal is what people are told of an error.
func refusal(c *engine.Talk, err error) string {
	c.Lead = nil
	c.Refuse(err)
	return c.Lead[0].Text
}

// Every code of the books has a sentence for people, and none says what the
// ledger holds. Two of them can be met by typing, day-closed and day-unknown:
// the chats refused-*.txt play them. Before all others the dialogs ask only for
// what fits, so that they are worded here alone.
func TestEveryRefusalHasASentence(t *testing.T) {
	c := floor.Talk(t, "2026-11-26 09:00")
	seen := map[string]books.Code{}
	for _, code := range books.Codes() {
		got := refusal(c, &books.Refusal{Code: code, Face: "20", From: books.Tray, Have: 61, Want: 72,
			Period: 53, Entry: 54, Box: 2})
		first, why, _ := strings.Cut(got, "\n")
		if first != "That cannot be booked. Nothing was changed." || why == "" ||
			strings.Contains(why, "refused.") || strings.Contains(why, "{{") {
			t.Errorf("%s has no sentence:\n%s", code, got)
		}
		if figures := strings.ReplaceAll(got, "20s", ""); strings.ContainsAny(figures, "0123456789") {
			t.Errorf("%s tells figures:\n%s", code, got)
		}
		if other, twice := seen[why]; twice {
			t.Errorf("%s and %s say the same", code, other)
		}
		seen[why] = code
	}
	other := refusal(c, errors.New("a broken file"))
	if seen[other] != "" || strings.Contains(other, "broken") || strings.Contains(other, "refused.") {
		t.Errorf("another error is worded %q", other)
	}
}

// A wrapped refusal is worded like itself, and the places inside the machine
// have words.
func TestRefusalNamesItsPlace(t *testing.T) {
	c := floor.Talk(t, "2026-11-26 09:00")
	for place, want := range map[books.Place]string{
		books.Tray: "in the box for refused notes", books.Path: "put aside",
		books.BoxPlace(2): "in the note box", books.BoxPlace(11): "in the note box",
	} {
		err := fmt.Errorf("entry 7: %w", &books.Refusal{Code: books.TooFew, Face: "20", From: place})
		if got := refusal(c, err); !strings.Contains(got, "not so many 20s are "+want+".") {
			t.Errorf("%s: %q", place, got)
		}
	}
}

// A refusal throws away what the step recorded so far, with the books that have it.
func TestRefuseLeavesNothing(t *testing.T) {
	c := floor.Talk(t, "2026-11-26 09:00")
	c.F.Machine = books.New(1)
	c.M = c.F.Machine.Clone()
	c.Records = []books.Record{{Kind: books.Opening}}
	c.Refuse(&books.Refusal{Code: books.DayOpen, Period: 4})
	if len(c.Records) != 0 || c.M != c.F.Machine {
		t.Errorf("%d records stay", len(c.Records))
	}
	want := "The day before is still open at this machine. First count what is left: write close."
	if len(c.Lead) != 1 || !strings.HasSuffix(c.Lead[0].Text, want) {
		t.Errorf("said %+v", c.Lead)
	}
}

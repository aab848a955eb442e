package telling_test

import (
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

func TestCopyLine(t *testing.T) {
	cat, err := texts.Load()
	if err != nil {
		t.Fatal(err)
	}
	sh, err := shop.New(1, 1, shop.Example())
	if err != nil {
		t.Fatal(err)
	}
	now := time.Date(2026, 11, 26, 8, 0, 0, 0, time.UTC)
	for want, last := range map[string]*chat.Copied{
		"I know of no copy":  nil,
		"is whole":           {At: now.Add(-5 * time.Hour), Entries: 1234},
		"does not hold":      {At: now.Add(-5 * time.Hour), Entries: 1234, Faults: 1},
		"Thu 26 Nov, 03:00,": {At: now.Add(-5 * time.Hour), Entries: 1234},
		"1,234 records":      {At: now.Add(-5 * time.Hour), Entries: 1234},
	} {
		f := chat.Facts{Shop: sh, Ask: chat.Ask{Copied: func() *chat.Copied { return last }}}
		teller := &telling.Teller{V: cat.In("en", sh.Country, sh.Currency), F: f, Now: now}
		if got := telling.CopyLine(teller); !strings.Contains(got, want) {
			t.Errorf("%+v: %q, want %q", last, got, want)
		}
	}
	nobody := &telling.Teller{V: cat.In("en", "", ""), Now: now}
	if got := telling.CopyLine(nobody); !strings.Contains(got, "no copy") {
		t.Errorf("nobody to ask: %q", got)
	}
}

func TestProofLine(t *testing.T) {
	cat, err := texts.Load()
	if err != nil {
		t.Fatal(err)
	}
	sh, err := shop.New(1, 1, shop.Example())
	if err != nil {
		t.Fatal(err)
	}
	now := time.Date(2026, 11, 26, 8, 0, 0, 0, time.UTC)
	for want, last := range map[string]*chat.Proved{
		"checked Thu 26 Nov, 03:00: all 1,234 hold together": {At: now.Add(-5 * time.Hour), Entries: 1234},
		"Keep the slips. Ring whoever runs the program":      {At: now, Entries: 9, Faults: 2},
	} {
		f := chat.Facts{Shop: sh, Ask: chat.Ask{Proved: func() *chat.Proved { return last }}}
		teller := &telling.Teller{V: cat.In("en", sh.Country, sh.Currency), F: f, Now: now}
		if got := telling.ProofLine(teller); !strings.Contains(got, want) {
			t.Errorf("%+v: %q, want %q", last, got, want)
		}
		if got := telling.Memory(teller); !strings.Contains(got, want) || !strings.Contains(got, "no copy") {
			t.Errorf("%+v: %q, want %q and the copy", last, got, want)
		}
	}
	if got := telling.ProofLine(&telling.Teller{V: cat.In("en", "", ""), Now: now}); got != "" {
		t.Errorf("nobody looked: %q", got)
	}
}

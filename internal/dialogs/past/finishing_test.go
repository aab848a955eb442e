package past_test

import (
	"bytes"
	"strings"
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
	"shopfloat/internal/workbook"
)

// A month that is over can be finished by who keeps the books: it is read back, said to the
// others who do, and from then on the month says who finished it.
func TestFinishAMonth(t *testing.T) {
	f := month(t)
	var finished []shop.Finished
	f.Knows = func(facts *chat.Facts) { facts.Ask.Finished = func() []shop.Finished { return finished } }
	expect(t, f.Says("owner", "month"), "together", "Finish")
	expect(t, f.Says("owner", "month october"), "[Finish October]", "")
	expect(t, f.Taps("owner", "Finish Oct"), "Oct 2026|still to come|[Finish it]", "finished already")
	said := f.Taps("owner", "Finish it")
	expect(t, said, "Oct 2026 is finished, by Ada", "not over")
	if f.Last.Orders.Finish != "2026-10" {
		t.Fatalf("%+v\n%s", f.Last.Orders, said)
	}
	finished = []shop.Finished{{Month: "2026-10", By: 1, At: f.Now, Upto: map[shop.MachineID]int64{1: 5}}}
	expect(t, f.Says("owner", "month october"), "Ada", "[Finish October]")
	expect(t, f.Press("owner", chat.Button{Data: "o:finish-month:2026-10"}), "", "[Confirm]")
}

// A button about a month that is not over, is none, or was finished meanwhile does nothing;
// nor does one beside another dialog.
func TestFinishingThatCannotBe(t *testing.T) {
	finish := func(month string) chat.Button { return chat.Button{Data: "o:finish-month:" + month} }
	for name, s := range map[string]struct{ before, month, want string }{
		"not over":     {"", "2026-11", "not over"},
		"none":         {"", "2026-13", ""},
		"no month":     {"", "x", ""},
		"other dialog": {"owner: top up\n", "2026-10", "first"},
	} {
		f := month(t)
		f.Play(s.before)
		f.Press("owner", finish(s.month))
		if f.State("owner").Flow == "finish-month" || f.Last.Orders.Finish != "" {
			t.Errorf("%s: it goes on\n%s", name, f.Out.String())
		}
		if f.Last.Notice == "" || !strings.Contains(f.Last.Notice, s.want) {
			t.Errorf("%s: %q, want %q", name, f.Last.Notice, s.want)
		}
	}
	f := month(t)
	var finished []shop.Finished
	f.Knows = func(facts *chat.Facts) { facts.Ask.Finished = func() []shop.Finished { return finished } }
	f.Says("owner", "month october")
	f.Taps("owner", "Finish Oct")
	finished = []shop.Finished{{Month: "2026-10", By: 1, At: f.Now}}
	said := f.Taps("owner", "Finish it")
	if f.Last.Orders.Finish != "" || !strings.Contains(said, "finished already") {
		t.Errorf("it was finished meanwhile: %+v", f.Last.Orders)
	}
}

// A month in other forms: each file is what its name says, and the check word stands in the
// message.
func TestOtherForms(t *testing.T) {
	for said, s := range map[string]struct{ name, begins, has string }{
		"export november xlsx":      {"2026-11.xlsx", "PK\x03\x04", ""}, // ZIP local file header
		"export november pdf":       {"2026-11.pdf", "%PDF-", ""},
		"export journal november":   {"2026-11.journal", "", "2026-11-23"},
		"export november beancount": {"2026-11.beancount", "", "2026-11-23 *"},
	} {
		f := month(t)
		f.Engine.Book = workbook.Write
		var file *chat.File
		var text string
		f.Check = func(r chat.Reply) {
			if r.File != nil {
				file, text = r.File, floor.Said(r.Body...)
			}
		}
		f.Says("owner", said)
		if file == nil || file.Name != s.name || !bytes.HasPrefix(file.Data, []byte(s.begins)) ||
			!bytes.Contains(file.Data, []byte(s.has)) {
			t.Errorf("%q: %+v\n%s", said, file, f.Out.String())
			continue
		}
		if !strings.Contains(text, chat.CheckMark) {
			t.Errorf("%q says no check word: %q", said, text)
		}
	}
}

// A finished month is in the journal as it was finished.
func TestJournalKnowsFinishedMonths(t *testing.T) {
	f := month(t)
	asked := 0
	f.Knows = func(facts *chat.Facts) {
		facts.Ask.Finished = func() []shop.Finished { asked++; return nil }
	}
	f.Says("owner", "export october journal")
	if asked == 0 {
		t.Error("nobody was asked which months are finished")
	}
}

// When the last copy was made is told to whoever manages.
func TestBackup(t *testing.T) {
	f := floor.New(t, dialogs.New)
	expect(t, f.Says("owner", "backup"), "copy", "")
}

package letters_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/advice"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/dues"
	"shopfloat/internal/letters"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// closing is a day that ends with so many 50s left; 12 balance with 28 paid out.
func closing(left int) string {
	return fmt.Sprintf("staff1: open 40 150 200\nstaff1: [Confirm]\nstaff1: [All done]\n"+
		"staff1: [With a device]\n"+
		"@2026-11-25 21:05\n"+
		"staff1: close %d 60 80\nstaff1: none\nstaff1: none\nstaff1: [Confirm]\nstaff1: 50x28 20x90 10x120\n"+
		"staff1: none\nstaff1: [Confirm]%s", left,
		map[bool]string{true: "\nstaff1: [All done]", false: "\nstaff1: [Skip]\nstaff1: [All done]"}[left == 12])
}

// week plays a day of a shop and gives what the letter of Monday 30 November is made of.
func week(t *testing.T, id shop.ID, script string, late bool) (*telling.Teller, chat.Estate) {
	t.Helper()
	f := floor.New(t, dialogs.New)
	f.Shop.ID, f.Shop.Name = id, fmt.Sprintf("Shop %d", id)
	f.Shop.CreditDays = 0
	if late {
		f.Shop.CreditDays = 1
	}
	f.Play(script)
	f.At("2026-11-30 09:30")
	m := f.Machine.Clone()
	m.ID = shop.MachineID(id)
	s := *f.Shop
	s.Machines = slices.Clone(s.Machines)
	s.Machines[0].ID = m.ID
	entries := f.Entries
	facts := f.Facts("owner")
	all := floor.Texts(t)
	teller := &telling.Teller{V: all.In("en", "IE", "EUR"), F: facts, M: m, Kit: &s.Machines[0], Now: f.Now}
	past := func() []books.Entry { return entries }
	learned := func() (advice.State, error) { return advice.Learned(m.ID, entries) }
	return teller, chat.Estate{Shop: &s, Machine: m, Past: past, Learned: learned, Check: "word-" + s.Name,
		Due: dueOf(m)}
}

func write(t *testing.T, list ...chat.Estate) string {
	t.Helper()
	teller, _ := week(t, 1, "", false)
	all := floor.Texts(t)
	voice := func(s *shop.Shop) *texts.Voice { return all.In("en", s.Country, s.Currency) }
	var out []string
	for _, b := range letters.Weekly(teller, list, "2026-11-30", voice) {
		out = append(out, b.Text)
	}
	return strings.Join(out, "\n")
}

// The worst comes first: a 50 missing, then a day that nobody finished, then habits. What
// is well or not used is named in one line each.
func TestWorstComesFirst(t *testing.T) {
	_, well := week(t, 1, closing(12), false)
	_, missing := week(t, 2, closing(11), false)
	_, open := week(t, 3, "staff1: open 40 150 200\nstaff1: [Confirm]", false)
	_, idle := week(t, 4, "", false)
	well.Shop.Hours = [7]shop.Hours{3: well.Shop.Hours[3]} // Wednesdays only: all in time
	got := write(t, well, missing, open, idle)
	lines := strings.Split(got, "\n")
	for i, want := range []string{"Your week, Mon 23 Nov to Sun 29 Nov: 4 machines.",
		"Shop 2: Wed 25 Nov: €50 missing; ", "Shop 3: Wed 25 Nov is not finished; ",
		"All well: Shop 1", "Not used: Shop 4",
		"Paid out: €8,800", "No reminder was needed."} {
		if i >= len(lines) || !strings.HasPrefix(lines[i], want) {
			t.Fatalf("line %d is not %q:\n%s", i+1, want, got)
		}
	}
	if !strings.Contains(got, "Check words: Shop 1 word-Shop 1, Shop 2 word-Shop 2, Shop 3 word-Shop 3") {
		t.Errorf("check words:\n%s", got)
	}
}

// However many machines there are, a letter has at most twelve lines, and those that do not
// go in are named.
func TestTwelveLines(t *testing.T) {
	var list []chat.Estate
	for id := range shop.ID(30) {
		script := closing(11)
		switch {
		case id%10 == 8:
			script = ""
		case id%10 == 9:
			script = closing(12)
		}
		_, e := week(t, id+1, script, false)
		if id%10 == 9 {
			e.Shop.Hours = [7]shop.Hours{3: e.Shop.Hours[3]}
		}
		list = append(list, e)
	}
	got := write(t, list...)
	if n := strings.Count(got, "\n") + 1; n > reminders.LetterLines {
		t.Errorf("%d lines:\n%s", n, got)
	}
	for _, want := range []string{"Something at: Shop ", "All well: Shop 10, ", "Not used: Shop 9, ", " more"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing in\n%s", want, got)
		}
	}
}

// A shop whose letter is off is in none; without any machine in use there is no letter.
func TestNoLetter(t *testing.T) {
	_, off := week(t, 1, closing(11), false)
	off.Shop.Plan.Summary = "off"
	_, idle := week(t, 2, "", false)
	if got := write(t, off); got != "" {
		t.Errorf("a letter of a shop that wants none:\n%s", got)
	}
	if got := write(t, off, idle); strings.Contains(got, "Shop 1") {
		t.Errorf("it tells of a shop that wants none:\n%s", got)
	}
}

// Reminders that were followed within the hour are counted as such; those of other weeks
// and tasks are left out. The opening was at 06:40 and the count at 21:05.
func TestWhichRemindersHelped(t *testing.T) {
	_, e := week(t, 1, closing(12), false)
	at := func(clock string) time.Time {
		when, err := time.Parse("2006-01-02 15:04", clock)
		if err != nil {
			t.Fatal(err)
		}
		return when
	}
	told := func(date shop.Date, task reminders.Task, first, last string) chat.Reminded {
		return chat.Reminded{Name: reminders.Name{Date: date, Task: task}, First: at(first), Last: at(last)}
	}
	e.Reminded = []chat.Reminded{
		told("2026-11-25", reminders.Closing, "2026-11-25 21:00", "2026-11-25 21:00"),
		told("2026-11-25", reminders.Opening, "2026-11-25 06:45", "2026-11-25 07:00"), // opened before it
		told("2026-11-26", reminders.Opening, "2026-11-26 06:45", "2026-11-26 07:45"), // nobody did
		told("2026-11-25", reminders.Eve, "2026-11-25 09:30", "2026-11-25 09:30"),
		told("2026-11-22", reminders.Closing, "2026-11-22 21:00", "2026-11-22 21:00"),
	}
	const want = "Reminded of 3 tasks, 1 done within the hour. Not of help: opening."
	if got := write(t, e); !strings.Contains(got, want) {
		t.Error(got)
	}
}

// dueOf adds up what is still to come by a machine's books that was due before a day.
func dueOf(m *books.Machine) func(shop.Date) dues.Owed {
	return func(before shop.Date) dues.Owed {
		w := dues.Wanted{Due: [2]shop.Date{"0", before.Add(-1)}}
		return dues.OwedOf(w.Among(m.Claims))
	}
}

// While somebody counts, nothing is told that could say what should be in the machine.
func TestLateMoneyStaysUnsaidInACount(t *testing.T) {
	_, e := week(t, 1, closing(12), true)
	if got := write(t, e); !strings.Contains(got, "€4,400 from the bank is late") {
		t.Errorf("late money:\n%s", got)
	}
	e.Blind = true
	if got := write(t, e); strings.Contains(got, "from the bank") {
		t.Errorf("in a count:\n%s", got)
	}
}

// The letter says whether the records hold together, where somebody looked.
func TestLetterTellsOfTheProof(t *testing.T) {
	teller, estate := week(t, 1, closing(12), false)
	all := floor.Texts(t)
	voice := func(s *shop.Shop) *texts.Voice { return all.In("en", s.Country, s.Currency) }
	for want, faults := range map[string]int{"all 7 hold together": 0, "something does not hold together": 1} {
		teller.F.Ask.Proved = func() *chat.Proved {
			return &chat.Proved{At: teller.Now, Entries: 7, Faults: faults}
		}
		said := ""
		for _, b := range letters.Weekly(teller, []chat.Estate{estate}, "2026-11-30", voice) {
			said += b.Text
		}
		if !strings.Contains(said, want) {
			t.Errorf("%d faults: %q is not in\n%s", faults, want, said)
		}
	}
}

// What was not understood stands in one line, over all shops once each; words that were
// typed but once or twice are not told. With every line there is, twelve are enough.
func TestLetterTellsWhatWasMissed(t *testing.T) {
	all := floor.Texts(t)
	voice := func(s *shop.Shop) *texts.Voice { return all.In("en", s.Country, s.Currency) }
	day := func(d int) time.Time { return time.Date(2026, 11, d, 9, 0, 0, 0, time.UTC) }
	missed := []chat.Missed{{Text: "feed the badger", Times: 4, Last: day(27)},
		{Text: "wobble the curtain", Times: 2, Last: day(24)}, {Text: "long ago", Times: 9, Last: day(20)}}
	teller, first := week(t, 1, closing(11), true)
	_, second := week(t, 2, closing(11), true)
	second.Shop.ID, second.Missed = first.Shop.ID, missed // another machine of the same shop
	first.Missed = missed
	list := []chat.Estate{first, second}
	for id := range shop.ID(12) {
		_, e := week(t, id+3, closing(11), true)
		e.Missed = nil
		list = append(list, e)
	}
	teller.F.Ask.Copied = func() *chat.Copied { return &chat.Copied{At: teller.Now, Entries: 7} }
	teller.F.Ask.Proved = func() *chat.Proved { return &chat.Proved{At: teller.Now, Entries: 7} }
	for _, of := range [][]chat.Estate{list, list[:1]} {
		got := letters.Weekly(teller, of, "2026-11-30", voice)[0].Text
		const want = "Not understood at once: 6 times so far, most “feed the badger”. Type missed."
		if !strings.Contains(got, want) || strings.Contains(got, "curtain") {
			t.Errorf("%d machines:\n%s", len(of), got)
		}
		if n := strings.Count(got, "\n") + 1; n > reminders.LetterLines {
			t.Errorf("%d machines, %d lines:\n%s", len(of), n, got)
		}
	}
	first.Missed = missed[1:2]
	got := letters.Weekly(teller, []chat.Estate{first}, "2026-11-30", voice)[0].Text
	if !strings.Contains(got, "Not understood at once: 2 times so far. Type missed.") {
		t.Error(got)
	}
}

package closing_test

import (
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
)

// visited is the floor on a day when the engineer came at 11:20: 10 fifties, 50
// twenties and 20 tens had been paid out by then, and 30, 100 and 180 are left.
func visited(t testing.TB) *floor.Floor {
	t.Helper()
	f := floor.New(t, dialogs.New)
	f.Play("staff1: open 40 150 200; [Confirm]\n@2026-11-25 11:20\n" +
		"staff1: visit; [Announced]; 4711; 30 100 180; none; 10 50 20; [Confirm]")
	return f
}

func TestVisitBegins(t *testing.T) {
	start := func(t testing.TB) *floor.Floor {
		f := floor.New(t, dialogs.New)
		f.Play("staff1: open 40 150 200; [Confirm]")
		return f
	}
	tell(t, start, []story{
		{"who is there", "staff1: visit", "[Announced and checked]|[Nobody knows of it]|[More]",
			"top box"},
		{"nobody knew", "staff1: visit; [Nobody knows]",
			"others> A visit to the machine that nobody knew of: Ben|step back",
			"Which reference"},
		{"no reference", "staff1: visit; [Announced]; [Skip]", "Before anything is opened", "?!"},
		{"words for a reference", "staff1: visit; [Announced]; tom", "Which reference do they have", "opened"},
		{"longer than a reference", "staff1: visit; [Announced]; 1234567890123456789012345678901",
			"Which reference", "opened"},
		{"a reference", "staff1: visit; [Announced]; rm 48-213", "Before anything is opened", ""},
		{"no count", "staff1: visit; [Announced]; [Skip]; [There is no count]",
			"Nothing is counted before the work|[Confirm]", "[Change]"},
		{"read back", "staff1: visit; [Announced]; [Skip]; 30 100 180; 20x2; [Skip]",
			"Before the work:|20s  100 notes|Box for refused notes: 2 x 20s|[Confirm]|[Change]", ""},
		{"counted anew", "staff1: visit; [Announced]; [Skip]; 30 100 180; 20x2; [Skip]; [Change]; 31 100 180",
			"Look in the box for refused notes", "2 x 20s"},
		{"figures asked anew",
			"staff1: visit; [Announced]; [Skip]; 30 100 180; 20x2; [Skip]; [Change]; 31 100 180; none",
			"paid out so far", "Right?"},
		{"begun", "staff1: visit; [Announced]; [Skip]; 30 100 180; none; [Skip]; [Confirm]",
			"Visit recorded, 06:40. They may begin.|[The work is done]", ""},
		{"given up", "staff1: visit; [Announced]; [Skip]; 30; cancel", "Nothing of it was booked", ""},
	})
}

// The record of a visit's begin says what was checked, counted and amiss by then.
func TestVisitBegun(t *testing.T) {
	f := visited(t)
	r := last(f, books.VisitBegun)
	if !r.Has(books.Announced) || r.Has(books.Uncounted) || r.Trouble.Reference != "4711" ||
		notes(r, books.Remaining)["20"] != 100 || len(r.Amounts) != 1 || !r.Amounts[0].Value.IsZero() {
		t.Errorf("on record as %+v", r.Record)
	}
	for script, want := range map[string]string{
		"30 100 180; none; 10 50 20":    "0",   // as it should be
		"30 98 180; none; 10 50 20":     "-40", // two twenties short
		"30 98 180; 20x2; 10 50 20":     "0",   // they lie with the refused notes
		"30 98 180; none; 10 52 20":     "0",   // the machine says that it paid them out
		"30 100 181; none; €500 50 20":  "10",
		"[There is no count]":           "",
		"30 100 180; none; [Skip, I do": "",
	} {
		f := floor.New(t, dialogs.New)
		f.Play("staff1: open 40 150 200; [Confirm]\nstaff1: visit; [Announced]; [Skip]; " + script)
		f.Play("staff1: [Confirm]")
		r := last(f, books.VisitBegun)
		switch {
		case want == "" && len(r.Amounts) != 0, want != "" && len(r.Amounts) != 1,
			want != "" && r.Amounts[0].Value.String() != want:
			t.Errorf("after %q the difference is %v, want %s", script, r.Amounts, want)
		}
		if r.Has(books.Uncounted) != strings.Contains(script, "no count") {
			t.Errorf("after %q the marks are %v", script, r.Marks)
		}
	}
}

// Notes found before the engineer came are there, wherever they lie.
func TestVisitAfterFinding(t *testing.T) {
	for place, want := range map[string]string{"[Put aside]; [Confirm]": "0", "[Box for]; [Confirm]": "-40"} {
		f := floor.New(t, dialogs.New)
		f.Play("staff1: open 40 150 200; [Confirm]; found 2x20; " + place +
			"; visit; [Announced]; [Skip]; 30 98 180; none; 10 50 20; [Confirm]")
		if r := last(f, books.VisitBegun); r.Amounts[0].Value.String() != want {
			t.Errorf("%s: the difference is %s, want %s", place, r.Amounts[0].Value, want)
		}
	}
}

// What somebody records beside the count before is shown before it is booked.
func TestVisitOvertaken(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play("staff1: open 40 150 200; [Confirm]; visit; [Announced]; [Skip]; 30 100 180; none; [Skip]")
	f.Record(3, books.Ruled(books.Record{Kind: books.Test, Period: 1, Where: books.Cash, Happened: f.Now,
		Figures: []books.Figure{{Field: books.Tried, Box: 2, Face: "20", Notes: 1}}}))
	f.Expect(f.Taps("staff1", "Confirm"), "Something changed meanwhile|Before the work", "may begin")
}

func TestVisitEnds(t *testing.T) {
	const done = "staff1: [The work is done]; "
	tell(t, visited, []story{
		{"asked again", done + "30", "20s (middle box), how many", ""},
		{"the counts fit", done + "30 100 180; none; none; none",
			"After the work:|The two counts fit|[Count again]", "Touched"},
		{"fewer", done + "30 99 180; none; none; none", "Fewer than before: 1 x 20s", "More:"},
		{"more", done + "30 101 180; none; none; none", "More than before: 1 x 20s", "Fewer"},
		{"fewer and more", done + "29 101 180; none; none; none", "Fewer than before: 1 x 50s. More: 1 x 20s", ""},
		{"among the refused notes", done + "30 99 180; 20x1; none; none", "The two counts fit", "Fewer"},
		{"put aside", done + "30 99 180; none; 20x1; [Put aside]; none",
			"Touched: 1 x 20s, put aside|The two counts fit", ""},
		{"back in the boxes", done + "30 99 180; none; 20x1; [Back in]; none", "Fewer than before: 1 x 20s", ""},
		{"tested", done + "30 99 180; none; none; 0 1 0; [Shop's safe]; [Yes]",
			"Test payout: 1 x 20s, in the shop's safe|The two counts fit", ""},
		{"tested, in the till", done + "30 99 180; none; none; 0 1 0; [Till]; [No]", "The two counts fit", ""},
		{"tested, refused", done + "30 99 180; 20x1; none; 0 1 0; [Box for]; [No]", "The two counts fit", ""},
		{"no count", done + "[There is no count]; none; none", "no two counts to compare", "fit"},
		{"counted again", done +
			"30 99 180; none; 20x1; [Put aside]; 0 1 0; [Till]; [Yes]; [Count again]; 30 100 180; none; none; none",
			"The two counts fit", "Touched|Test"},
		{"no count, then one", done +
			"[There is no count]; none; none; [Count again]; 30 100 180; none; none; none",
			"The two counts fit", ""},
		{"recorded", done + "30 100 180; none; none; none; [Confirm]",
			"End of the visit recorded, 11:20.|The two counts fit|lock the safe", "others>"},
		{"told", done + "30 99 180; none; none; none; [Confirm]",
			"others> Engineer's visit, noted by Ben|Fewer than before", ""},
		{"gone on with", "staff1: cancel\n@2026-11-25 15:00\nstaff2: visit", "[The work is done]", "announced"},
		{"gone on with on another day", "staff1: cancel\n@2026-11-26 09:00\nstaff2: visit", "[Announced",
			"[The work is done]"},
		{"ended by another meanwhile",
			"staff1: cancel\nstaff2: visit; [The work is done]; 30 100 180; none; none; none\n" +
				"owner: visit; [Take over]; [The work is done]; 30 100 180; none; none; none; [Confirm]",
			"End of the visit", ""},
	})
}

// The end of a visit says what was counted, handled and tried, and each is
// booked where it is now.
func TestVisitEnded(t *testing.T) {
	f := visited(t)
	f.Play(
		"staff1: [The work is done]; 29 98 179; none; 20x2; [Put aside]; 1 0 1; [Shop's safe]; [Yes]; [Confirm]")
	e, test, found := last(f, books.VisitEnded), last(f, books.Test), last(f, books.Found)
	if away := notes(e, books.Away); notes(e, books.Touched)["20"] != 2 || away["50"] != 1 || away["20"] != 2 ||
		e.Target != last(f, books.VisitBegun).Seq {
		t.Errorf("the end is %+v", e.Record)
	}
	if !test.Has(books.Counted) || test.Where != books.Cash || notes(test, books.Tried)["10"] != 1 {
		t.Errorf("the test is %+v", test.Record)
	}
	if found.Where != books.Path || notes(found, books.FoundAt)["20"] != 2 {
		t.Errorf("the notes found are %+v", found.Record)
	}
	if v := f.Machine.Calls[0]; !v.Known || len(v.Change) != 0 {
		t.Errorf("the visit is %+v", v)
	}
}

// A difference at closing is placed before, during or after the visit.
func TestVisitPlaces(t *testing.T) {
	f := visited(t)
	f.Play("staff1: [The work is done]; 30 99 180; none; none; none; [Confirm]\n@2026-11-25 21:05")
	out := f.Play("staff1: close 12 58 80; none; none; [Confirm]; 28 90 120; none")
	f.Expect(out, "€40 is missing|Before it: nothing. During it: €20 missing. Since then: €20 missing.", "")
}

// An empty machine is visited without counts; a period that is closed meanwhile
// takes no test payout any more.
func TestVisitOfEmptyMachine(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Expect(f.Play("staff1: visit; [Announced]; [Skip]"), "Nothing is counted before the work", "top box")
	f.Expect(f.Play("staff1: [Confirm]; [The work is done]"), "End of the visit recorded|no two counts",
		"top box")
	if e := last(f, books.VisitEnded); !e.Has(books.Uncounted) || e.Period != 0 {
		t.Errorf("on record as %+v", e.Record)
	}
	f = visited(t)
	f.Play("staff1: [The work is done]; 29 100 180; none; none; 1 0 0; [Shop's safe]; [Yes]")
	f.Record(3, books.Ruled(books.Record{Kind: books.Count, Period: 1, Happened: f.Now,
		Figures: last(f, books.VisitBegun).Figures}))
	f.Expect(f.Taps("staff1", "Confirm"), "Something changed meanwhile|Test payout", "recorded")
	f.Expect(f.Taps("staff1", "Confirm"), "End of the visit recorded", "")
	for _, e := range f.Entries {
		if e.Kind == books.Test {
			t.Error("a test payout of a period that is counted already")
		}
	}
}

package day_test

import (
	"testing"
	"time"

	"shopfloat/internal/books"
)

func TestEarlier(t *testing.T) {
	play(t, "", []story{
		{"asked", "staff1: earlier", "Like 24.11. 06:40", "[Opening"},
		{"no time", "staff1: earlier\nstaff1: soon", "did not understand", "[Opening]"},
		{"no time after the word", "staff1: earlier soon", "could not read \"soon\" as a time", "[Opening]"},
		{"not yet", "staff1: earlier 25.11. 06:41", "has not come yet: it is", "[Opening]"},
		{"now", "staff1: earlier 25.11. 06:40", "[Opening]|[Closing]", ""},
		{"too long ago", "staff1: earlier 20.9. 06:40", "too long ago", "[Opening]"},
		{"taken", "staff1: earlier 24.11. 06:40",
			"Tue 24 Nov, 06:40|[Opening]|[Top-up]|[Notes moved]|[Levels]|[Closing]", ""},
		{"not open then", "staff1: earlier 24.11. 06:40\nstaff1: [Top-up]",
			"was not open on Tue 24 Nov, 06:40|[Opening]", "top box"},
		{"begun again", "staff1: earlier 24.11. 06:40\nstaff1: earlier 23.11. 07:00", "Mon 23 Nov, 07:00", ""},
	})
}

// A day from paper: nobody ticks today what was done then, and no lock is spoken of.
func TestDayFromPaper(t *testing.T) {
	f := onFloor(t, "staff1: earlier 24.11. 06:40\nstaff1: [Opening]\nstaff1: 40 150 200")
	expect(t, f.Play("staff1: [Confirm]"), "Nov recorded|24 Nov", "before customers|lock")
	r := last(f)
	if then := time.Date(2026, 11, 24, 6, 40, 0, 0, time.UTC); len(r.Ticks) > 0 || !r.Happened.Equal(then) ||
		len(r.Marks) > 0 {
		t.Errorf("%+v", r)
	}
	expect(t, f.Play("staff1: earlier 24.11. 12:00\nstaff1: [Top-up]\nstaff1: 20x50"), "Right?|[Confirm]",
		"Type the same")
	expect(t, f.Play("staff1: [Confirm]"), "Top-up recorded|12:00", "lock")
	expect(t, f.Play("staff1: earlier 24.11. 13:00\nstaff1: [Levels]\nstaff1: 30 180 150\nstaff1: [Confirm]"),
		"20s   180",
		"closing time|will be")
	expect(t, f.Play("staff1: earlier 24.11. 14:00\nstaff1: [Box swapped]"), "[50s (top box)]", "open the safe")
	expect(t,
		f.Play("staff1: cancel\nstaff1: earlier 24.11. 15:00\nstaff1: [Notes moved]\nstaff1: [Take change]\n"+
			"staff1: 20x5\nstaff1: [Confirm]"),
		"Change taken|15:00", "lock")
	if got := f.Machine.Current().Box(2).Held; got != 150+50-5 {
		t.Errorf("%d twenties", got)
	}
}

// A day that came between: its opening needs a period of its own, which paper marks.
func TestOpeningBeforeTheOpenOne(t *testing.T) {
	f := onFloor(t,
		open+"staff1: earlier 24.11. 06:40\nstaff1: [Opening]\nstaff1: 40 150 200\nstaff1: [Confirm]")
	r := last(f)
	if r.Kind != books.Opening || len(r.Marks) != 1 || r.Marks[0] != books.Paper {
		t.Errorf("%+v", r)
	}
	if cur := f.Machine.Current(); cur == nil || cur.No != 1 {
		t.Errorf("%+v", cur)
	}
}

// A closed day takes nothing new; a manager may correct it, and chooses among its records.
func TestClosedDay(t *testing.T) {
	const closed = closedDay + "@2026-11-26 09:00\n"
	play(t, closed, []story{
		{"staff", "staff1: earlier 25.11. 12:00\nstaff1: [Top-up]", "That day is closed|25 november", "[Correct"},
		{"another time", "staff1: earlier 25.11. 12:00\nstaff1: [Top-up]\nstaff1: [Another", "When did it happen?",
			"closed"},
		{"a manager", "owner: earlier 25.11. 12:00\nowner: [Top-up]", "That day is closed|[Correct", ""},
		{"correcting it", "owner: earlier 25.11. 12:00\nowner: [Top-up]\nowner: [Correct",
			"[1. opening, Wed 25 Nov, 06:40]|[2. closing count", "That day is closed"},
		{"the bank is no part of it", "owner: earlier 25.11. 12:00\nowner: [Notes moved]", "[Bank to safe]",
			"closed"},
	})
	f := onFloor(t,
		closed+"@2026-11-26 09:05\nstaff1: open 40 150 200\nstaff1: [Confirm]\nowner: earlier 25.11. 12:00\n"+
			"owner: [Top-up]")
	expect(t, f.Taps("owner", "Correct"), "[1. opening|[3. printed figures", "[5. opening") // not those of today
}

// A photo goes with the dialog under way, or with a record of the last half hour.
func TestPhotoAfterARecord(t *testing.T) {
	for at, want := range map[string]string{
		"07:10": "Photo noted with opening, 06:40.", "07:11": "don't know what this photo belongs to",
	} {
		f := onFloor(t, open+"@2026-11-25 "+at)
		expect(t, photo(f, "staff1"), want, "")
		kept := last(f).Kind == books.Attachment
		if kept != (at == "07:10") {
			t.Errorf("%s: %+v", at, last(f))
		}
	}
	f := onFloor(t, open+"staff2: top up 20x50")
	expect(t, photo(f, "staff2"), "Photo noted with this top-up.|[Confirm]", "")
	f.Play("staff2: [Confirm]")
	if r := last(f); r.Kind != books.TopUp || len(r.Photos) != 1 {
		t.Errorf("%+v", r)
	}
	f = onFloor(t, open)
	expect(t, photo(f, "staff2"), "don't know", "") // another person's record
}

package day_test

import (
	"slices"
	"testing"

	"shopfloat/internal/books"
)

func TestTestDispense(t *testing.T) {
	play(t, open, []story{
		{"asked", "staff2: test", "[1 of each]", "[Confirm]"},
		{"one of each", "staff2: test\nstaff2: [1 of each]", "count the test notes as paid out|[Yes]|[No]", ""},
		{"places", "staff2: test 20x2\nstaff2: yes",
			"[Box for refused notes]|[Back in their note boxes]|[Shop's safe]|[Till]", ""},
		{"read back", "staff2: test 20x2\nstaff2: [Yes]\nstaff2: [Till]", "2 notes  €40|till|[Confirm]", ""},
		{"nothing", "staff2: test 20x0\nstaff2: [Yes]\nstaff2: [Till]", "at least one note", "[Confirm]"},
		{"typed anew", "staff2: test 20x2\nstaff2: [Yes]\nstaff2: [Till]\nstaff2: 20x3",
			"3 notes  €60|till|[Confirm]", ""},
		{"all anew", "staff2: test 20x2\nstaff2: [Yes]\nstaff2: [Till]\nstaff2: [Change]\nstaff2: 20x3",
			"[Yes]|[No]", "[Confirm]"},
		{"not open", "staff1: undo\nstaff1: [Confirm]\nstaff2: test", "not open", ""},
	})
	f := onFloor(t,
		open+"staff2: test\nstaff2: [1 of each]\nstaff2: [Yes]\nstaff2: [Shop's safe]\nstaff2: [Confirm]")
	if r := last(f); r.Kind != books.Test || r.Where != books.Cash || len(r.Figures) != 3 ||
		!slices.Equal(r.Marks, []books.Mark{books.Counted}) {
		t.Errorf("%+v", r)
	}
	holds(t, f, 39, 149, 199)
	f = onFloor(t, open+"staff2: test 20x2\nstaff2: [No]\nstaff2: [Back in]")
	expect(t, f.Out.String(), "Not counted by the machine as paid out.|They are back in their note boxes.", "")
	f.Play("staff2: [Confirm]")
	if r := last(f); r.Where != books.Boxes || len(r.Marks) > 0 {
		t.Errorf("%+v", r)
	}
	holds(t, f, 40, 150, 200)
}

func TestFound(t *testing.T) {
	play(t, open, []story{
		{"asked", "staff2: found", "20s", "[Confirm]"},
		{"places", "staff2: found 2x20", "[Box for refused notes]|[Put aside]", "[Till]"},
		{"read back", "staff2: found 2x20\nstaff2: [Put aside]", "2 x 20s|[Confirm]", ""},
		{"nothing", "staff2: found 0x20\nstaff2: [Put aside]", "at least one note", "[Confirm]"},
		{"typed anew", "staff2: found 2x20\nstaff2: [Put aside]\nstaff2: 3x20", "3 x 20s|[Confirm]", ""},
		{"all anew", "staff2: found 2x20\nstaff2: [Put aside]\nstaff2: [Change]\nstaff2: 3x20",
			"[Box for refused notes]", "[Confirm]"},
		{"recorded", "staff2: found 2x20\nstaff2: [Put aside]\nstaff2: [Confirm]", "06:40|2 x 20s|lock the safe",
			""},
	})
	f := onFloor(t, open+"staff2: found 2x20 1x50\nstaff2: [Box for]\nstaff2: [Confirm]")
	want := []books.Figure{{Field: books.FoundAt, Face: "50", Notes: 1}, {Field: books.FoundAt, Face: "20",
		Notes: 2}}
	if r := last(f); r.Kind != books.Found || r.Where != books.Tray || !slices.Equal(r.Figures, want) {
		t.Errorf("%+v", r)
	}
	if got := f.Machine.Balance.At(books.Tray, "20"); got != 2 {
		t.Errorf("%d twenties in the box for refused notes", got)
	}
}

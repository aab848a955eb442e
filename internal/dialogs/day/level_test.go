package day_test

import (
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/floor"
)

// Opened at 06:40; the shop closes at 21:00.
func TestLevel(t *testing.T) {
	const at = open + "@2026-11-25 08:40\n"
	play(t, at, []story{
		{"asked", "staff2: level", "top box", "[Confirm]"},
		{"not open", "@2026-11-25 06:45\nstaff1: undo\nstaff1: [Confirm]\nstaff2: level", "not open", "top box"},
		// two hours: 40 twenties paid are 20 an hour, 110 last 5.5 hours, to 14:10
		{"runs out", "staff2: level 40 110 200\nstaff2: [Confirm]",
			"Since 06:40|20s   110        40  20/h|20s (middle box) will be empty about 14:10", "enough"},
		// 20 paid are 10 an hour, 130 last 13 hours, to 21:40
		{"lasts", "staff2: level 40 130 200\nstaff2: [Confirm]", "everything lasts until closing time", "empty"},
		// 21 paid: 129 last 12 hours and 17 minutes, to 20:57
		{"just not", "staff2: level 40 129 200\nstaff2: [Confirm]", "empty about 20:57", "everything"},
		{"empty", "staff2: level 40 0 200\nstaff2: [Confirm]", "20s (middle box) is empty", "about"},
		{"more than put in", "staff2: level 40 153 200\nstaff2: [Confirm]", "3 more than was put in", "everything"},
		{"more than fits", "staff2: level 40 2001 200", "do not fit", "paid out"},
		{"to the nearest note", "staff2: level 39 145 200\nstaff2: [Confirm]",
			"1/h|3/h", ""}, // 1 in two hours, 5 in two hours
	})
	f := onFloor(t, at+"staff2: level 40 110 200\nstaff2: [Confirm]")
	r := last(f)
	if r.Kind != books.Level || r.Period != 1 || len(r.Figures) != 3 || r.Figures[1].Notes != 110 {
		t.Errorf("%+v", r)
	}
	// a minute after the opening nothing is known of a pace
	expect(t, onFloor(t, open).Play("staff2: level 40 149 200\nstaff2: [Confirm]"), "0/h|everything lasts", "")
}

// Few notes are few from the number on that the settings say, at any pace.
func TestLevelLow(t *testing.T) {
	for low, want := range map[int64]string{130: "20s (middle box) is nearly empty: 130 left.",
		129: "everything lasts"} {
		f := floorOf(t, func(f *floor.Floor) { f.Shop.Machines[0].Boxes[1].Low = low })
		f.Play(open + "@2026-11-25 08:40")
		expect(t, f.Play("staff2: level 40 130 200\nstaff2: [Confirm]"), want, "")
	}
}

// While somebody counts, a level is not taken: it tells what should be there.
func TestLevelIsHidden(t *testing.T) {
	f := onFloor(t, open+"@2026-11-25 20:00\nstaff2: level\nstaff1: close")
	expect(t, f.Says("staff2", "40 110 200"), "", "paid|40  ")
	if r := last(f); r.Kind == books.Level {
		t.Errorf("%+v", r)
	}
}

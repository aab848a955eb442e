package lines_test

import (
	"testing"

	"shopfloat/internal/lines"
)

func TestRefusedBox(t *testing.T) {
	for text, want := range map[string]struct{ rest, notes string }{
		"35 22 9 and nothing in the reject":                       {"35 22 9", ""},
		"35 tens 22 twenties 9 fifties and nothing in the reject": {"35 tens 22 twenties 9 fifties", ""},
		"35 22 9 refused 0":                                       {"35 22 9", ""},
		"35 22 9, refused: none.":                                 {"35 22 9", ""},
		"35 22 9 and the reject box is empty":                     {"35 22 9", ""},
		"35 22 9, reject tray empty":                              {"35 22 9", ""},
		"35 22 9, no notes in the refused box":                    {"35 22 9", ""},
		"35 tens, 22 twenties, 9 fifties, 2 twenties in the refused box": {
			"35 tens, 22 twenties, 9 fifties", "2 twenties"},
		"35 22 9 and there are 2 twenties in the rejects": {"35 22 9", "2 twenties"},
		"35 22 9, reject 2 twenties":                      {"35 22 9", "2 twenties"},
		"35 22 9 refused 20x2 10x1":                       {"35 22 9", "20x2 10x1"},
		"35 22 9 and the reject has 2 twenties and 1 ten": {"35 22 9", "2 twenties and 1 ten"},
		"the reject has 2 twenties":                       {"the reject has 2 twenties", "-"},
		"35 in the top, 22 in the middle, 9 in the bottom and nothing in the reject box": {
			"35 in the top, 22 in the middle, 9 in the bottom", ""},
		"35, 22, 9 and 2 twenties in the reject": {"35, 22, 9", "2 twenties"},
		"28 90 120":                              {"28 90 120", "-"},
		"it was refused":                         {"it was refused", "-"},
	} {
		rest, notes, said := lines.RefusedBox(text)
		if !said {
			notes = "-"
		}
		if rest != want.rest || notes != want.notes {
			t.Errorf("%q: %q, %q, want %q, %q", text, rest, notes, want.rest, want.notes)
		}
	}
}

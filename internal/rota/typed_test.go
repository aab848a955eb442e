package rota_test

import (
	"strings"
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/reminders"
	"shopfloat/internal/rota"
)

// The words of a reminder's button lead where it leads, for whoever was sent it and while the
// task is to be done; "later" does where no dialog is open.
func TestTypedButton(t *testing.T) {
	for _, x := range []struct {
		typed, script, told string
		idle                bool
		want                string // how the tap begins
		off                 bool
	}{
		{"start closing", opened, "staff1", true, "o:start:closing.", false},
		{"In 15 minutes!", opened, "staff1", true, "o:later:closing.", false},
		{"in 30 minutes", opened, "staff1", false, "o:later:closing.", false},
		{"later", opened, "staff1", true, "o:later:closing.", true},
		{"later", opened, "staff1", false, "", false}, // an answer, perhaps
		{"later", opened, "staff2", true, "", true},   // somebody else was told
		{"start closing", opened, "staff2", true, "", false},
		{"start closing", closed, "staff1", true, "", false}, // it is done
		{"not today", opened, "staff1", true, "", false},     // a command for all, which reads back
		{"closed today", opened, "staff1", true, "", false},
		{"more", opened, "staff1", true, "", false},
		{"", opened, "staff1", true, "", false},
	} {
		f := floor.New(t, dialogs.New)
		f.Play(x.script)
		key := rota.DueKey(teller(f, "staff1"), reminders.Name{Date: "2026-11-25", Task: reminders.Closing})
		f.Told = map[string][]chat.Told{key: {{Person: floor.People[x.told]}}}
		tap, off := rota.TypedButton(teller(f, "staff1"), x.typed, x.idle)
		if !strings.HasPrefix(tap, x.want) || x.want == "" && tap != "" || off != x.off {
			t.Errorf("%q, %s told: %q %t", x.typed, x.told, tap, off)
		}
	}
}

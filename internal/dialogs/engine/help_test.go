package engine_test

import (
	"fmt"
	"strings"
	"testing"

	"shopfloat/internal/access"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
)

// manyCommands are commands that help lists on its further pages.
func manyCommands(n int) (list []engine.Declaration) {
	names := []string{engine.DoOpen, engine.DoTopUp, engine.DoSwap, engine.DoLevel, engine.DoTest,
		engine.DoFound,
		engine.DoClose, engine.DoFinish, engine.DoSettle, engine.DoPrinted, engine.DoEarlier, engine.DoStatus,
		engine.DoHistory, engine.DoUndo, engine.DoFloat, engine.DoDay, engine.DoMonth, engine.DoExport,
		engine.DoOwed,
		engine.DoCredit, engine.DoDebit}
	for _, name := range names[:n] {
		list = append(list, tells(name, name))
	}
	return list
}

// Help shows the words for what is done, and what each is for six at a time; a page behind
// the last is the last, and what is no page is the first message.
func TestHelpPages(t *testing.T) {
	for n, pages := range map[int]int{1: 1, 3: 1, 4: 2, 9: 2, 10: 3} { // beside move, help and my code
		f := floor.New(t, floor.Of(append(manyCommands(n), twoScreens())...))
		expect(t, f.Says("staff1", "help"), "Write what you do: move.|Something wrong? Just say it|help more",
			"open ")
		seen := 0
		for page := 1; page <= pages+1; page++ {
			said := f.Says("staff1", fmt.Sprintf("help %d", page))
			rows := strings.Count(said, "\n") - 2
			if page <= pages {
				seen += rows
			}
			if rows > 6 || rows < 1 {
				t.Errorf("%d commands, page %d has %d:\n%s", n, page, rows, said)
			}
			if next := fmt.Sprintf("write: help %d", page+1); strings.Contains(said, next) != (page < pages) {
				t.Errorf("%d commands, page %d leads on:\n%s", n, page, said)
			}
			if page >= pages {
				expect(t, said, "Counts: 40 150 200", "For more")
			}
		}
		if seen != n+3 {
			t.Errorf("of %d commands %d are listed", n+3, seen)
		}
		if f.Says("staff1", "help more") != f.Says("staff1", "help 1") {
			t.Error("more is not the first of the further pages")
		}
		for _, none := range []string{"0", "-1", "99999999999999999999", "1.5"} {
			if f.Says("staff1", "help "+none) != f.Says("staff1", "help") {
				t.Errorf("help %s is not the first message", none)
			}
		}
	}
}

// Help shows nobody what is not for them.
func TestHelpByRole(t *testing.T) {
	secret := tells(engine.DoFloat, "float")
	secret.Role, secret.Help = access.Managing, engine.HelpOften
	never := tells(engine.DoOpen, "open")
	never.Help = engine.HelpNever
	f := floor.New(t, floor.Of(secret, never, twoScreens()))
	expect(t, f.Says("owner", "help"), "do: float, move.", "open,")
	expect(t, f.Says("staff1", "help"), "do: move.", "float|open,")
	expect(t, f.Says("owner", "help more"), "my code", "open:")
}

package dialogs_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
)

// columns are those of the table of SECURITY.md after the action; a name of a state
// stands for whether it can be done in it.
var columns = []string{"by", "owner", "manager", "staff", "bookkeeper", "counter", "before", "disputed",
	"counting"}

// securityTable are the rows of that table as they stand, by action.
func securityTable(t *testing.T) map[string]string {
	t.Helper()
	doc, err := os.ReadFile(filepath.Join("..", "..", "SECURITY.md"))
	if err != nil {
		t.Fatal(err)
	}
	head, table := "| action | "+strings.Join(columns, " | ")+" |", map[string]string{}
	_, rest, found := strings.Cut(string(doc), head+"\n")
	if !found {
		t.Fatalf("SECURITY.md has no table %s", head)
	}
	rest, _, _ = strings.Cut(rest, "\n\n")
	for line := range strings.Lines(rest) {
		if _, name, ok := strings.Cut(line, "| `"); ok {
			name, _, _ = strings.Cut(name, "`")
			table[name] = strings.TrimSpace(line)
		}
	}
	return table
}

// by says how something is done.
func by(e *engine.Engine, action string) string {
	if slices.ContainsFunc(e.Commands(), func(c engine.Command) bool { return c.Name == action }) {
		return "word"
	}
	if slices.ContainsFunc(e.Cards(), func(s engine.Standing) bool { return s.Name == action }) {
		return "button"
	}
	return "dialog"
}

// TestSecuritySaysWhatIsSo: the table of rights in SECURITY.md is what the program
// does, for every action, standing buttons too, every role and every state. Where it
// is not, the row that belongs there is said.
func TestSecuritySaysWhatIsSo(t *testing.T) {
	e, table := theEngine(t), securityTable(t)
	states := map[string]state{"counter": {shared: true}, "before": {fresh: true}, "disputed": {disputed: true}}
	yes := map[bool]string{true: "yes", false: ""}
	for _, action := range e.Actions() {
		row := "| `" + action + "` |"
		for _, c := range columns {
			cell := ""
			switch st, is := states[c]; {
			case c == "by":
				cell = by(e, action)
			case c == "counting": // a dialog that would tell what should be there waits
				f := e.Flows[action]
				cell = yes[f == nil || f.Tells == engine.TellsNothing]
			case is:
				cell = yes[mayNow(e, action, shop.Owner, st)]
			default: // a role, in whatever state it can be done at all
				cell = yes[mayNow(e, action, shop.Role(c), state{}) ||
					mayNow(e, action, shop.Role(c), state{fresh: true})]
			}
			row += " " + cell + " |"
		}
		if table[action] != row {
			t.Errorf("SECURITY.md says\n%s\nthe program\n%s", table[action], row)
		}
		delete(table, action)
	}
	for action := range table {
		t.Errorf("SECURITY.md has a row for %s, which cannot be done", action)
	}
}

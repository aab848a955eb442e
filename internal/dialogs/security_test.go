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

// securityTable is the table of SECURITY.md: what each row says, by column.
func securityTable(t *testing.T) map[string]map[string]string {
	t.Helper()
	doc, err := os.ReadFile(filepath.Join("..", "..", "SECURITY.md"))
	if err != nil {
		t.Fatal(err)
	}
	var columns []string
	table := map[string]map[string]string{}
	for line := range strings.Lines(string(doc)) {
		cells := strings.Split(strings.Trim(strings.TrimSpace(line), "|"), "|")
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		switch {
		case cells[0] == "action":
			columns = cells
		case columns == nil || len(cells) != len(columns) || !strings.HasPrefix(cells[0], "`"):
			continue
		default:
			row := map[string]string{}
			for i, c := range cells[1:] {
				row[columns[i+1]] = c
			}
			table[strings.Trim(cells[0], "`")] = row
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
// does, for every action, standing buttons too, every role and every state.
func TestSecuritySaysWhatIsSo(t *testing.T) {
	e, table := theEngine(t), securityTable(t)
	yes := map[bool]string{true: "yes", false: ""}
	states := map[string]state{"counter": {shared: true}, "before": {fresh: true}, "disputed": {disputed: true}}
	cells := 0
	want := func(action, column, says string) {
		cells++
		if got, ok := table[action][column]; !ok || got != says {
			t.Errorf("%s, %s: SECURITY.md says %q, the program %q", action, column, got, says)
		}
	}
	for _, action := range e.Actions() {
		want(action, "by", by(e, action))
		for _, role := range shop.Roles() { // in whatever state it can be done at all
			may := mayNow(e, action, role, state{}) || mayNow(e, action, role, state{fresh: true})
			want(action, string(role), yes[may])
		}
		for column, st := range states {
			want(action, column, yes[mayNow(e, action, shop.Owner, st)])
		}
		f := e.Flows[action]
		want(action, "counting", yes[f == nil || f.Tells == engine.TellsNothing])
	}
	if cells != 9*len(table) || len(table) < 70 {
		t.Errorf("%d cells compared of %d rows", cells, len(table))
	}
}

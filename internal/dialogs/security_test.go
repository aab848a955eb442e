package dialogs_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestSecuritySaysWhatIsSo: the table of rights in SECURITY.md is the one that
// TestRights compares with the declarations, row for row.
func TestSecuritySaysWhatIsSo(t *testing.T) {
	doc, err := os.ReadFile(filepath.Join("..", "..", "SECURITY.md"))
	if err != nil {
		t.Fatal(err)
	}
	var columns []string
	said := map[string]string{}
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
			var may []string
			for i, c := range cells[1:] {
				if c == "yes" {
					may = append(may, strings.NewReplacer("counter", "shared", "before", "fresh").Replace(columns[i+1]))
				}
			}
			said[strings.Trim(cells[0], "`")] = strings.Join(may, " ")
		}
	}
	rows := 0
	for line := range strings.Lines(writtenTable) {
		if words := strings.Fields(line); len(words) > 0 {
			rows++
			if got, want := said[words[0]], strings.Join(words[1:], " "); got != want {
				t.Errorf("%s: SECURITY.md says %q, the program %q", words[0], got, want)
			}
		}
	}
	if rows < 50 || rows != len(said) {
		t.Errorf("%d rows here, %d in SECURITY.md", rows, len(said))
	}
}

package rules

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"
)

// columnsMax is how long a line may be; a tab is one column.
const columnsMax = 110

// longLines are how many longer lines a directory has left from before the
// rule. The numbers go down only; a directory that is not here has none.
var longLines = map[string]int{
	"cmd/bot": 9, "internal/access": 8, "internal/counts": 1, "internal/desk": 4, "internal/dialogs": 63,
	"internal/guides": 5, "internal/reminders": 2, "internal/store": 30,
	"internal/telegram": 1, "internal/texts": 2,
	"internal/dialogs/ask": 2, "internal/dialogs/closing": 6, "internal/dialogs/correct": 1,
	"internal/dialogs/day": 4, "internal/dialogs/load": 1, "internal/dialogs/money": 1,
	"internal/dialogs/past": 2, "internal/dialogs/reminding": 1, "internal/dialogs/trouble": 5,
}

// tagged finds a field with a tag, which is one line whatever stands in it, and
// a file that a program wrote.
var (
	tagged    = regexp.MustCompile("`[a-z]+:\"")
	generated = regexp.MustCompile(`(?m)^// Code generated .* DO NOT EDIT\.$`)
)

func TestLinesStayShort(t *testing.T) {
	long, last := map[string]int{}, map[string]string{}
	read := 0
	for _, path := range goFiles(t) {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if generated.Match(data) {
			continue
		}
		rel, err := filepath.Rel(root, filepath.Dir(path))
		if err != nil {
			t.Fatal(err)
		}
		dir := filepath.ToSlash(rel)
		for line := range strings.Lines(string(data)) {
			read++
			if utf8.RuneCountInString(strings.TrimRight(line, "\n")) > columnsMax && !tagged.MatchString(line) {
				long[dir]++
				last[dir] = filepath.Base(path) + ": " + strings.TrimSpace(line)
			}
		}
	}
	for dir, n := range long {
		if n > longLines[dir] {
			t.Errorf("%s has %d lines of more than %d columns, %d are allowed; the last one is in %s",
				dir, n, columnsMax, longLines[dir], last[dir])
		}
	}
	if read < 10_000 {
		t.Fatalf("found only %d lines", read)
	}
}

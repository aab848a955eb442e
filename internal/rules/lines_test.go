package rules

import (
	"os"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"
)

// columnsMax is how long a line may be; a tab is one column.
const columnsMax = 110

// tagged finds a field with a tag, which is one line whatever stands in it, and
// a file that a program wrote.
var (
	tagged    = regexp.MustCompile("`[a-z]+:\"")
	generated = regexp.MustCompile(`(?m)^// Code generated .* DO NOT EDIT\.$`)
)

func TestLinesStayShort(t *testing.T) {
	read := 0
	for _, path := range goFiles(t) {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if generated.Match(data) {
			continue
		}
		for line := range strings.Lines(string(data)) {
			read++
			if utf8.RuneCountInString(strings.TrimRight(line, "\n")) > columnsMax && !tagged.MatchString(line) {
				t.Errorf("%s has a line of more than %d columns: %s", path, columnsMax, strings.TrimSpace(line))
			}
		}
	}
	if read < 10_000 {
		t.Fatalf("found only %d lines", read)
	}
}

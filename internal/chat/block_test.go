package chat_test

import (
	"testing"

	"shopfloat/internal/chat"
)

// Columns line up by letters, those of the left to the left, and no line ends
// in blanks.
func TestColumns(t *testing.T) {
	for _, x := range []struct {
		left int
		rows [][]string
		want string
	}{
		{1, [][]string{{"50s", "40", "€2,000"}, {"10s", "200", ""}, {"", "", "€7"}},
			"50s   40  €2,000\n10s  200\n              €7"},
		{2, [][]string{{"a", "bb", "c"}, {"aa", "b", "cc"}}, "a   bb   c\naa  b   cc"},
		{0, [][]string{{"é", "b"}, {"aa", "bb", "more"}}, " é   b\naa  bb  more"},
		{1, nil, ""},
	} {
		got := chat.Columns(x.left, x.rows)
		if got.Text != x.want || !got.Fixed {
			t.Errorf("%d to the left:\n%s\nwant\n%s", x.left, got.Text, x.want)
		}
	}
}

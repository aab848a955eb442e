package dayfile_test

import (
	"errors"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"shopfloat/internal/dayfile"
)

const (
	emptyDay    = `{"currency":"EUR"}`
	emptyAnswer = `{"lines":[],"total_variance":"0.00","verdict":"balanced","credit_due":"0.00","causes":[]}`
)

func TestBatch(t *testing.T) {
	longest := emptyDay + strings.Repeat(" ", dayfile.SizeMax-len(emptyDay))
	tooLong := `{"error":"day: line of more than 1048576 bytes"}`
	tooEarly := `{"error":"day: not valid JSON, the text ends too early"}`
	cases := []struct {
		name           string
		in             string
		out            []string
		days, unusable int
	}{
		{"nothing", "", nil, 0, 0},
		{"one day", emptyDay + "\n", []string{emptyAnswer}, 1, 0},
		{"last line without an end", emptyDay, []string{emptyAnswer}, 1, 0},
		{"windows line ends", emptyDay + "\r\n" + emptyDay + "\r\n", []string{emptyAnswer, emptyAnswer}, 2, 0},
		{"goes on after a bad line", "{}\n" + emptyDay + "\nx\n" + emptyDay + "\n", []string{
			`{"error":"currency: missing, write it like \"EUR\""}`, emptyAnswer,
			`{"error":"day: not valid JSON"}`, emptyAnswer,
		}, 4, 2},
		{"an empty line is a bad line", "\n" + emptyDay + "\n\n", []string{tooEarly, emptyAnswer, tooEarly}, 3, 2},
		{"longest line", longest + "\n" + emptyDay + "\n", []string{emptyAnswer, emptyAnswer}, 2, 0},
		{"too long", longest + " \n" + emptyDay + "\n", []string{tooLong, emptyAnswer}, 2, 1},
		{"far too long", strings.Repeat(longest, 3) + "\n" + emptyDay, []string{tooLong, emptyAnswer}, 2, 1},
		{"far too long at the end", emptyDay + "\n" + longest + longest, []string{emptyAnswer, tooLong}, 2, 1},
		{"<, > and & stay as they are", `{"currency":"<&>"}`, []string{
			`{"error":"currency: \"<&>\": not an ISO 4217 currency code, write it like EUR"}`,
		}, 1, 1},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var out strings.Builder
			days, unusable, err := dayfile.Batch(strings.NewReader(c.in), &out)
			if err != nil || days != c.days || unusable != c.unusable {
				t.Errorf("%d days, %d unusable, %v; want %d and %d", days, unusable, err, c.days, c.unusable)
			}
			want := ""
			for _, line := range c.out {
				want += line + "\n"
			}
			if out.String() != want {
				t.Errorf("got  %s\nwant %s", out.String(), want)
			}
		})
	}
}

type brokenWriter struct{}

var errBroken = errors.New("broken")

func (brokenWriter) Write([]byte) (int, error) { return 0, errBroken }

func TestBatchErrReadWrite(t *testing.T) {
	many := strings.Repeat(emptyDay+"\n", 100)
	if _, _, err := dayfile.Batch(strings.NewReader(many), brokenWriter{}); !errors.Is(err, errBroken) {
		t.Errorf("writing fails: %v", err)
	}
	var out strings.Builder
	broken := io.MultiReader(strings.NewReader(emptyDay+"\n"), iotest.ErrReader(errBroken))
	if days, _, err := dayfile.Batch(broken, &out); !errors.Is(err, errBroken) || days != 1 ||
		out.String() != emptyAnswer+"\n" {
		t.Errorf("reading fails after one day: %d, %q, %v", days, out.String(), err)
	}
}

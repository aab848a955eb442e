package counts_test

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shopfloat/internal/counts"
)

// cells writes what a result should be: notes by line, -1 for an open one, and the code.
func cells(notes []int64, code counts.Code) string {
	var words []string
	for line, n := range notes {
		if n >= 0 {
			words = append(words, fmt.Sprintf("%d=%d", line, n))
		}
	}
	if code != counts.OK {
		words = append(words, code.String())
	}
	return strings.Join(words, " ")
}

func openLines(n int) []int64 { return slices.Repeat([]int64{-1}, n) }

// listModel answers with n numbers, 31 and on: all lines, or those from the next one on.
func listModel(lines, next, n int) string {
	answers, code := openLines(lines), counts.OK
	next = min(max(next, 0), lines)
	from := next
	switch rest := lines - next; {
	case n == lines:
		from = 0
	case n > rest:
		return counts.TooMany.String()
	case n > 1 && n < rest:
		code = counts.TooFew
	}
	for i := range n {
		answers[from+i] = int64(31 + i)
	}
	return cells(answers, code)
}

// Any number of bare numbers, for any number of lines, from any next line, with every sign between.
func TestListsAgainstModel(t *testing.T) {
	faces := []string{"10001", "10002", "10003", "10004", "10005"}
	separators := []string{" ", ", ", ",", "; ", " / ", "\n", " | ", ". ", " and ", " & ", "\n\n"}
	for lines := 1; lines <= len(faces); lines++ {
		req := requestOf(faces[:lines]...)
		for req.Next = -1; req.Next <= lines+1; req.Next++ {
			for n := 1; n <= 7; n++ {
				for _, sep := range separators {
					var typed []string
					for i := range n {
						typed = append(typed, strconv.Itoa(31+i))
					}
					text := strings.Join(typed, sep)
					want := listModel(lines, req.Next, n)
					if sep == "," && want == "too many" {
						continue // then it is one number, which TestSignsInNumbers has
					}
					if got := show(counts.Parse(text, req)); got != want {
						t.Fatalf("%q for %d lines from %d: %q, want %q", text, lines, req.Next, got, want)
					}
				}
			}
		}
	}
}

// facesModel answers with counts for a kind of note, the k-th being 31+k: in the order of the boxes if they
// are as many as there are boxes.
func facesModel(faces, named []string) string {
	answers, code := openLines(len(faces)), counts.OK
	fault := func(c counts.Code) {
		if code == counts.OK {
			code = c
		}
	}
	for k, face := range named {
		var boxes, mentions []int
		for line, f := range faces {
			if f == face {
				boxes = append(boxes, line)
			}
		}
		for i, f := range named {
			if f == face {
				mentions = append(mentions, i)
			}
		}
		switch {
		case len(boxes) == 0:
			fault(counts.UnknownFace)
		case len(boxes) == 1 && len(mentions) > 1:
			if k != mentions[0] {
				fault(counts.Twice)
			}
		case len(mentions) > len(boxes):
			fault(counts.Twice)
		case len(mentions) < len(boxes):
			fault(counts.AmbiguousFace)
		default:
			answers[boxes[slices.Index(mentions, k)]] = int64(31 + k)
		}
	}
	return cells(answers, code)
}

// Every way to spread two kinds of note over three boxes, and every order of up to four counts for them.
func TestFacesAgainstModel(t *testing.T) {
	kinds := []string{"20", "10", "5"}
	var each func(n int, chosen []string, yield func([]string))
	each = func(n int, chosen []string, yield func([]string)) {
		if n == 0 {
			yield(chosen)
			return
		}
		for _, kind := range kinds {
			each(n-1, append(slices.Clone(chosen), kind), yield)
		}
	}
	each(3, nil, func(faces []string) {
		req := requestOf(faces...)
		for n := 1; n <= 4; n++ {
			each(n, nil, func(named []string) {
				var before, behind []string
				for k, face := range named {
					before = append(before, fmt.Sprintf("%ss %d", face, 31+k))
					behind = append(behind, fmt.Sprintf("%d x %s", 31+k, face))
				}
				want := facesModel(faces, named)
				for _, text := range []string{strings.Join(before, ", "), strings.Join(behind, "\n")} {
					if got := show(counts.Parse(text, req)); got != want {
						t.Fatalf("boxes %v: %q is read as %q, want %q", faces, text, got, want)
					}
				}
			})
		}
	})
}

// Pairs of face and notes in every order, in one row and in rows of their own.
func TestPairsInEveryOrder(t *testing.T) {
	notes := map[string]int64{"50": 31, "20": 32, "10": 33}
	req := shop()
	for _, order := range [][]int{{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}} {
		for n := 2; n <= 3; n++ {
			answers := openLines(3)
			var rows []string
			for _, line := range order[:n] {
				face := req.Lines[line].Face
				answers[line] = notes[face]
				rows = append(rows, fmt.Sprintf("%s %d", face, notes[face]))
			}
			for _, sep := range []string{"\n", " ", ", "} {
				text := strings.Join(rows, sep)
				if got, want := show(counts.Parse(text, req)), cells(answers, counts.OK); got != want {
					t.Errorf("%q is read as %q, want %q", text, got, want)
				}
			}
		}
	}
}

// A line that two counts claim keeps neither, whatever the two call it; the other line keeps its own.
func TestTwiceKeepsNeither(t *testing.T) {
	names := []string{
		"20s 31", "20x31", "middle 31", "box 2: 31", "2: 31", "second 31", "31 twenties", "€620 in 20s",
	}
	for _, first := range names {
		for _, second := range names {
			text := first + ", " + strings.Replace(second, "31", "32", 1) + "\ntop 7"
			res := counts.Parse(text, shop())
			if got := show(res); got != "0=7 twice" || res.Problem.Line > 1 {
				t.Errorf("%q is read as %q", text, got)
			}
		}
	}
}

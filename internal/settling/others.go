package settling

import (
	"strconv"
	"strings"

	"shopfloat/internal/matching"
	"shopfloat/internal/statement"
)

// Bounds of what is told of lines that are for no shop.
const (
	othersKept  = 500 // lines of a file that are kept until it is known which they are
	othersShown = 6
	numbersMax  = 120 // letters
)

// foreign notes which lines are for no shop: how many, the first of them, and their numbers.
func (r *Reading) foreign(report statement.Report, o matching.Outcome, first []Other) {
	var spans spans
	foreign(report, o, func(no int) {
		r.Foreign++
		spans.add(no)
		if no <= len(first) && len(r.Others) < othersShown {
			r.Others = append(r.Others, first[no-1])
		}
	})
	r.Numbers = spans.String()
}

// spans writes numbers that grow: 1-3, 7.
type spans struct {
	said     []string
	from, to int
	letters  int
}

func (s *spans) add(no int) {
	if s.from > 0 && no == s.to+1 {
		s.to = no
		return
	}
	s.flush()
	s.from, s.to = no, no
}

func (s *spans) flush() {
	if s.from == 0 || s.letters > numbersMax {
		return
	}
	word := strconv.Itoa(s.from)
	if s.to > s.from {
		word += "-" + strconv.Itoa(s.to)
	}
	if s.letters += len(word) + 2; s.letters > numbersMax {
		word = "…"
	}
	s.said = append(s.said, word)
}

func (s *spans) String() string {
	s.flush()
	return strings.Join(s.said, ", ")
}

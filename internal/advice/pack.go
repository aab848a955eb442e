package advice

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
)

// What a line of a written state tells.
const (
	closedLine  = "closed"
	tillLine    = "till"
	warnedLine  = "warned"
	troubleLine = "trouble"
)

// MarshalText writes a state in lines: its form and last entry, then each thing it knows. It is
// read and written with each day of a shop, and closed periods are the most of it.
func (s State) MarshalText() ([]byte, error) {
	b := fmt.Appendf(nil, "%d %d\n", s.Version, s.Seq)
	var err error
	for i := range s.Days {
		if b, err = s.Days[i].append(b); err != nil {
			return nil, err
		}
	}
	for _, t := range s.Tills {
		b = fmt.Appendf(b, "%s %d %d %s %d\n", tillLine, t.Seq, Seconds(t.At), t.Face, t.Notes)
	}
	for _, w := range s.Warned {
		b = fmt.Appendf(b, "%s %d %d %d\n", warnedLine, w.Seq, w.Period, Seconds(w.At))
	}
	for _, t := range s.Troubles {
		line, err := json.Marshal(t) // some of it is words
		if err != nil {
			return nil, err
		}
		b = fmt.Appendf(b, "%s %s\n", troubleLine, line)
	}
	return b, nil
}

// append writes a period in a line: when it was closed, how long before that it was opened, and
// of each kind what is not nothing.
func (c *Closed) append(b []byte) ([]byte, error) {
	number := func(n int64) { b = strconv.AppendInt(append(b, ' '), n, 10) }
	word := func(s string) { b = append(append(b, ' '), s...) }
	b = append(b, closedLine...)
	number(c.Seq)
	number(c.Seq - c.No)
	word(orDash(string(c.Date)))
	number(Seconds(c.Opened))
	number(Seconds(c.Counted) - Seconds(c.Opened))
	word(map[bool]string{true: "early", false: "-"}[c.Early])
	word(orDash(c.Boxes))
	for _, k := range c.Kinds {
		word(string(k.Face))
		b = strconv.AppendInt(append(b, '/'), k.Paid, 10)
		b = strconv.AppendInt(append(b, '/'), k.PutIn, 10)
		switch {
		case k.RanOut:
			b = strconv.AppendInt(append(b, '/'), Seconds(k.Emptied), 10)
		case !k.Emptied.IsZero():
			return nil, fmt.Errorf("the %s of period %d were gone and did not run out", k.Face, c.No)
		}
	}
	return append(b, '\n'), nil
}

// UnmarshalText reads it back.
func (s *State) UnmarshalText(text []byte) error {
	head, rest, _ := strings.Cut(string(text), "\n")
	r := reader{rest: head}
	*s = State{Version: int(r.number()), Seq: r.number()}
	r.end()
	if n := strings.Count(rest, closedLine+" "); n > 0 {
		s.Days = make([]Closed, 0, n)
	}
	for r.err == nil && rest != "" {
		r.rest, rest, _ = strings.Cut(rest, "\n")
		s.take(&r)
		r.end()
	}
	if r.err != nil {
		return fmt.Errorf("what is learnt: %w", r.err)
	}
	return nil
}

// take reads a line.
func (s *State) take(r *reader) {
	switch what := r.word(); what {
	case closedLine:
		s.Days = append(s.Days, r.closed())
	case tillLine:
		s.Tills = append(s.Tills, Brought{r.number(), r.time(), cashmath.Face(r.word()), r.number()})
	case warnedLine:
		s.Warned = append(s.Warned, Warned{r.number(), r.number(), r.time()})
	case troubleLine:
		var t Trouble
		r.err = json.Unmarshal([]byte(r.rest), &t)
		s.Troubles, r.rest = append(s.Troubles, t), ""
	default:
		r.err = fmt.Errorf("a line of %q", what)
	}
}

// reader takes a line apart and keeps the first error.
type reader struct {
	rest string
	err  error
}

func (r *reader) word() (word string) {
	word, r.rest, _ = strings.Cut(r.rest, " ")
	return word
}

// end finds fault with what is left of a line.
func (r *reader) end() {
	if r.err == nil && r.rest != "" {
		r.err = fmt.Errorf("%q is left of a line", r.rest)
	}
}

func (r *reader) number() int64 { return r.read(r.word()) }

func (r *reader) read(s string) int64 {
	v, err := strconv.ParseInt(s, 10, 64)
	if r.err == nil {
		r.err = err
	}
	return v
}

func (r *reader) time() time.Time { return at(r.number()) }

func (r *reader) closed() Closed {
	c := Closed{Seq: r.number()}
	c.No, c.Date = c.Seq-r.number(), shop.Date(noDash(r.word()))
	c.Opened = r.time()
	c.Counted = c.Opened.Add(time.Duration(r.number()) * time.Second)
	c.Early, c.Boxes = r.word() == "early", noDash(r.word())
	if r.rest != "" {
		c.Kinds = make([]PaidOut, 0, 1+strings.Count(r.rest, " "))
	}
	for r.rest != "" {
		face, figures, _ := strings.Cut(r.word(), "/")
		paid, figures, _ := strings.Cut(figures, "/")
		putIn, emptied, ranOut := strings.Cut(figures, "/")
		k := PaidOut{Face: cashmath.Face(face), Paid: r.read(paid), PutIn: r.read(putIn), RanOut: ranOut}
		if ranOut {
			k.Emptied = at(r.read(emptied))
		}
		c.Kinds = append(c.Kinds, k)
	}
	return c
}

func at(unix int64) time.Time {
	if unix == 0 {
		return time.Time{}
	}
	return time.Unix(unix, 0).UTC()
}

// Seconds is a moment as what is learnt is kept, in seconds since 1970; 0 for none.
func Seconds(t time.Time) int64 {
	if t.IsZero() {
		return 0
	}
	return t.Unix()
}

func orDash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

func noDash(s string) string {
	if s == "-" {
		return ""
	}
	return s
}

package settling

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/matching"
	"shopfloat/internal/shop"
	"shopfloat/internal/statement"
)

// proposal is one as JSON.
type proposal struct {
	Line   int         `json:"line"`
	Amount string      `json:"amount"`
	Claims []shop.Date `json:"claims"`
	Sure   bool        `json:"sure"`
}

func proposals(list []matching.Proposal) []proposal {
	out := []proposal{}
	for _, p := range list {
		x := proposal{Line: p.Line, Amount: p.Amount.StringFixed(2), Claims: []shop.Date{}, Sure: p.Sure}
		if len(p.For) > 0 {
			if c, err := cashmath.LookupCurrency(p.For[0].Currency); err == nil {
				x.Amount = c.Amount(p.Amount)
			}
		}
		for _, c := range p.For {
			x.Claims = append(x.Claims, c.Day)
		}
		out = append(out, x)
	}
	return out
}

// WriteJSON writes the outcome as JSON. Foreign lines are written one after
// the other, since a large file has many.
func WriteJSON(w *bufio.Writer, report statement.Report, o matching.Outcome) {
	part := func(name string, v any) {
		data, _ := json.Marshal(v) // of strings and numbers, which it takes
		_, _ = fmt.Fprintf(w, "%s:%s", name, data)
	}
	part(`{"lines"`, report.Lines)
	part(`,"balance"`, report.Balance)
	part(`,"matched"`, proposals(o.Matched))
	part(`,"offered"`, proposals(o.Offered))
	_, _ = io.WriteString(w, `,"foreign":[`)
	first := true
	foreign(report, o, func(no int) {
		if !first {
			_ = w.WriteByte(',')
		}
		first = false
		_, _ = w.Write(strconv.AppendInt(w.AvailableBuffer(), int64(no), 10))
	})
	part(`],"seen"`, append([]int{}, o.Seen...))
	_, _ = io.WriteString(w, "}\n") // w keeps its error
}

// foreign hands over the lines that are for no shop: all that are nothing else.
func foreign(report statement.Report, o matching.Outcome, fn func(int)) {
	other := map[int]bool{}
	for _, p := range slices.Concat(o.Matched, o.Offered) {
		other[p.Line] = true
	}
	for _, no := range o.Seen {
		other[no] = true
	}
	for no := 1; no <= report.Lines; no++ {
		if !other[no] {
			fn(no)
		}
	}
}

// Print writes the outcome for people.
func Print(w io.Writer, report statement.Report, o matching.Outcome) {
	_, _ = fmt.Fprintf(w, "%d lines, balance %s\n", report.Lines, report.Balance)
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, p := range slices.Concat(o.Matched, o.Offered) {
		word := "offered"
		if p.Sure {
			word = "sure"
		}
		var days []string
		for _, c := range p.For {
			days = append(days, string(c.Day))
		}
		_, _ = fmt.Fprintf(t, "line %d\t%s\t%s\t%s\t%s\n", p.Line, p.Amount, word, strings.Join(days, " "),
			reason(p))
	}
	_ = t.Flush()
	n := 0
	foreign(report, o, func(int) { n++ })
	_, _ = fmt.Fprintf(w, "%d foreign, %d booked before\n", n, len(o.Seen))
}

// reasons word why a line may be for a day.
var reasons = map[matching.Why]string{
	matching.Exact: "the sum of the day", matching.Several: "the sum of these days",
	matching.Named:   "the sum of the day that its words name",
	matching.Stated:  "the sum of the day with the charges the bank names",
	matching.WithFee: "the day and a whole number of fees", matching.InParts: "a part; line %d has another",
	matching.More: "a little more: fee income?", matching.Less: "a little less: charges?",
	matching.TakenBack: "line %d and this one take each other back", matching.Claimed: "a customer's claim?",
}

func reason(p matching.Proposal) string {
	s := reasons[p.Why]
	switch {
	case strings.Contains(s, "%d") && p.Other > 0:
		s = fmt.Sprintf(s, p.Other)
	case strings.Contains(s, "%d"):
		s = "takes back a payment that is booked"
	}
	if p.Same {
		s += "; another day has the same sum"
	}
	if p.Late {
		s += "; late"
	}
	return s
}

package lines

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"shopfloat/internal/counts"
)

// Meant is what a count means that came without a command.
type Meant struct {
	Command string // open, close, finish or settle; empty: not known
	Rest    string // what goes with it
	Asks    bool   // it may be one thing or another, and is to be asked; Rest is a number for each box then
}

// Uncommanded says what a text means that counts every box of a machine, in words: it is the opening
// of one that is not open; with the box for refused notes behind the others it is an evening's count;
// what was paid out is the slip that is waited for. Anything else is to be asked. Figures alone, and a text
// of which not every word is explained, mean nothing here. slip is the text without words like "the slip
// says" and order the slip's lines; open is the machine, waits a period for its slip, stay notes overnight.
func Uncommanded(text, slip string, req counts.Request, order []Line, open, waits, stay bool) (m Meant) {
	boxes, _, refused := RefusedBox(text)
	slip, _ = PaidOut(slip)
	paid := slip != text
	if paid && (waits || open && stay) {
		boxes = slip
	}
	res := counts.Parse(boxes, req)
	if n := len(res.Items); res.Problem != nil || res.Bare || n == 0 || n != len(req.Lines) {
		return m
	}
	switch {
	case paid && waits && !refused:
		return Meant{Command: "finish", Rest: slip}
	case paid && open && stay && !refused:
		return Meant{Command: "settle", Rest: slip}
	case paid || Whole(text, req) != nil: // figures alone may be anything
	case open && refused:
		return Meant{Command: "close", Rest: text}
	case (open || waits) && !putIn.MatchString(text):
		same := func(l counts.Line, o Line) bool { return l.Face == string(o.Face) }
		if m.Asks = true; slices.EqualFunc(req.Lines, order, same) { // else they went to other lines
			m.Rest = strings.Trim(fmt.Sprint(ByLine(len(res.Items), res.Items)), "[]")
		}
	case !open && !refused && !waits:
		return Meant{Command: "open", Rest: text}
	}
	return m
}

// putIn are words by which notes were added.
var putIn = regexp.MustCompile(`(?i)\bput\b`)

package lines_test

import (
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/counts"
	"shopfloat/internal/lines"
)

// A count in words without a command is what it can be now, and asked where it can be several things.
func TestUncommanded(t *testing.T) {
	req := counts.Request{Currency: "EUR", Lines: []counts.Line{{Face: "10", Position: 1, Name: "top"},
		{Face: "20", Position: 2, Name: "middle"}, {Face: "50", Position: 3, Name: "bottom"}}}
	const count = "35 tens, 22 twenties and 9 fifties"
	const refused = "35 tens 22 twenties 9 fifties and nothing in the reject"
	order := []lines.Line{{Face: "10"}, {Face: "20"}, {Face: "50"}}
	for _, c := range []struct {
		text, slip  string
		open, waits bool
		want        lines.Meant
	}{
		{count, count, false, false, lines.Meant{Command: "open", Rest: count}},
		{count, count, true, false, lines.Meant{Asks: true, Rest: "35 22 9"}},
		{count, count, false, true, lines.Meant{Asks: true, Rest: "35 22 9"}},
		{refused, refused, true, false, lines.Meant{Command: "close", Rest: refused}},
		{refused, refused, true, true, lines.Meant{Command: "close", Rest: refused}},
		{refused, refused, false, false, lines.Meant{}},
		{"i put " + count, "i put " + count, true, false, lines.Meant{}},
		{"i put " + count, "i put " + count, false, false, lines.Meant{Command: "open", Rest: "i put " + count}},
		{"35 22 9", "35 22 9", false, false, lines.Meant{}},
		{"35 22 9", "35 22 9", true, true, lines.Meant{}},
		{"35 tens, 22 twenties", "35 tens, 22 twenties", false, false, lines.Meant{}},
		{count + " strange", count + " strange", false, false, lines.Meant{}},
		{"paid out 85 38 11", "paid out 85 38 11", false, true, lines.Meant{Command: "finish", Rest: "85 38 11"}},
		{"paid out 85 38 11", "paid out 85 38 11", false, false, lines.Meant{}},
		{"paid out 85 38 11", "paid out 85 38 11", true, false, lines.Meant{}},
		{"the slip says 85 38 11", "85 38 11", false, true, lines.Meant{Command: "finish", Rest: "85 38 11"}},
		{"the slip says 85 38 11", "85 38 11", true, false, lines.Meant{}},
		{"", "", false, false, lines.Meant{}},
	} {
		if got := lines.Uncommanded(c.text, c.slip, req, order, c.open, c.waits, false); got != c.want {
			t.Errorf("%q, open %t, waits %t: %+v, want %+v", c.text, c.open, c.waits, got, c.want)
		}
		want := c.want
		if c.open && !c.waits && strings.HasSuffix(c.slip, "85 38 11") { // where notes stay in it is the day's slip
			want = lines.Meant{Command: "settle", Rest: "85 38 11"}
		}
		if got := lines.Uncommanded(c.text, c.slip, req, order, c.open, c.waits, true); got != want {
			t.Errorf("%q, notes stay, open %t, waits %t: %+v, want %+v", c.text, c.open, c.waits, got, want)
		}
	}
	slices.Reverse(order) // the figures would go to other lines of the slip
	want := lines.Meant{Asks: true}
	if got := lines.Uncommanded(count, count, req, order, false, true, false); got != want {
		t.Errorf("a slip in another order: %+v, want %+v", got, want)
	}
}

package statements_test

import (
	"slices"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dues"
)

// sharing is a shop as of [owed] whose days a line may be shared out over, after a file with a
// payment of 4,375 that fits no day.
func sharing(t *testing.T, more ...string) *bank {
	t.Helper()
	b := owed(t)
	knows := b.Knows
	b.Knows = func(facts *chat.Facts) {
		knows(facts)
		claims := func(w dues.Wanted) []books.Claim { return w.Among(b.Machine.Claims) }
		facts.Ask.Sites = func() []chat.Site {
			return []chat.Site{{Shop: b.Shop, Person: facts.Person, Machine: b.Machine,
				Ask: chat.Ask{Claims: claims}}}
		}
	}
	b.sends("owner", append([]string{"2026-11-26;Settlement;4375.00"}, more...)...)
	b.taps("owner", "Example")
	return b
}

// says types something, and reads and books what it leads to.
func (b *bank) says(text string) string {
	b.T.Helper()
	return b.Says("owner", text) + b.after("owner")
}

// A line is shared out over days by hand, until nothing is left of it, and then read back; no day
// gets more than is due for it or left of the line, nor gets a part twice.
func TestSplit(t *testing.T) {
	b := sharing(t)
	b.Expect(b.taps("owner", "Share it out"), "€4,375 of it is left to share out.|[Wed 25 Nov, €1,000]|"+
		"[Tue 24 Nov, €500]|[Mon 23 Nov, €4,380]|[Back]", "Confirm")
	b.Expect(b.taps("owner", "Mon 23 Nov"), "How much of it is for Mon 23 Nov? €4,380 is due there, "+
		"€4,375 is left of the payment.|[€4,375]|[Back]", "Tue 24")
	for _, wrong := range []string{"4375.01", "0"} {
		b.Expect(b.says(wrong), "That is too much or nothing: at most €4,375 fits there.|How much of it is for Mon",
			"to share out")
	}
	b.Expect(b.says("blue"), "How much of it is for Mon 23 Nov?", "at most|to share out")
	b.Expect(b.taps("owner", "Back"), "€4,375 of it is left to share out.|[Mon 23 Nov, €4,380]", "How much")
	b.taps("owner", "Mon 23 Nov")
	b.Expect(b.says("4000"), "Mon 23 Nov  €4,000|€375 of it is left|[Wed 25 Nov, €1,000]|[Tue 24 Nov, €500]",
		"[Mon 23 Nov|Confirm")
	b.taps("owner", "Tue 24 Nov")
	b.Expect(b.says("300"), "Mon 23 Nov  €4,000|Tue 24 Nov    €300|€75 of it is left|[Wed 25 Nov, €1,000]",
		"[Tue 24 Nov|Confirm")
	b.taps("owner", "Wed 25 Nov")
	n := len(b.Entries)
	b.Expect(b.taps("owner", "€75"), "€4,375 came.|Mon 23 Nov  €4,000|Tue 24 Nov    €300|Wed 25 Nov     €75|"+
		"[Confirm]", "left to share out")
	if len(b.Entries) != n {
		t.Fatal("booked before it was read back")
	}
	b.Expect(b.taps("owner", "Confirm"), "Statement done. 1 line booked.", "left open")
	var shared []string
	for _, e := range b.Entries[n:] {
		for _, p := range e.Parts {
			shared = append(shared, string(p.As)+" "+p.Value.String())
		}
	}
	if want := []string{"pays 4000", "pays 300", "pays 75"}; !slices.Equal(shared, want) {
		t.Errorf("booked %v, want %v", shared, want)
	}
	if b.owes() != "1505" { // 5,880 - 4,375
		t.Errorf("the bank owes %s", b.owes())
	}
}

// What is due for a day bounds its part, and the button for the most of it gives just that.
func TestSplitMost(t *testing.T) {
	b := sharing(t)
	b.taps("owner", "Share it out")
	b.Expect(b.taps("owner", "Tue 24 Nov"), "[€500]", "[€4,375]")
	b.Expect(b.says("501"), "at most €500 fits there.", "to share out")
	b.Expect(b.taps("owner", "€500"), "Tue 24 Nov  €500|€3,875 of it is left", "[Tue 24 Nov")
}

// Who goes back from sharing out finds the line as it was, and what was shared is forgotten; from
// the reading back the line is asked about again, with the days chosen by hand among its ways.
func TestSplitBack(t *testing.T) {
	b := sharing(t)
	b.taps("owner", "Share it out")
	b.taps("owner", "Tue 24 Nov")
	b.taps("owner", "€500")
	b.Expect(b.taps("owner", "Back"), "What is it for?|[1. Mon 23 Nov]|[Share it out by hand]", "€3,875|2. ")
	b.Expect(b.taps("owner", "Share it out"), "€4,375 of it is left|[Tue 24 Nov, €500]", "€3,875")
	b.taps("owner", "Mon 23 Nov")
	b.Expect(b.taps("owner", "€4,375"), "Mon 23 Nov  €4,375|[Confirm]", "charges")
	b.Expect(b.taps("owner", "Back"), "What is it for?|[1. Mon 23 Nov]|[2. Mon 23 Nov]", "Confirm")
	if b.owes() != "5880" {
		t.Errorf("booked without a tap: the bank owes %s", b.owes())
	}
	b.Expect(b.taps("owner", "Leave it open"), "0 lines booked.|1 line is left open.", "")
}

// Of two lines the second is asked about once the first is booked, with parts of its own.
func TestSplitThenNext(t *testing.T) {
	b := sharing(t, "2026-11-26;Settlement;490.00")
	b.taps("owner", "Share it out")
	b.taps("owner", "Mon 23 Nov")
	b.taps("owner", "€4,375")
	b.Expect(b.taps("owner", "Confirm"), "Line 2, Thu 26 Nov: €490 came.|[1. Tue 24 Nov]", "4,375|Line 1")
	b.Expect(b.taps("owner", "Share it out"), "€490 of it is left|[Mon 23 Nov, €5]", "€4,3")
	b.Expect(b.Says("owner", "cancel"), "Left. The line you confirmed stays booked.", "")
	if b.owes() != "1505" {
		t.Errorf("the bank owes %s", b.owes())
	}
}

// Money that goes out is shared out over nothing.
func TestNoSplitOfWhatWentOut(t *testing.T) {
	b := owed(t)
	b.Play("owner: credit 4380 for monday; [Confirm]")
	b.sends("owner", "2026-11-26;Reversal;-40.00")
	said := b.taps("owner", "Example")
	b.Expect(said, "€40|What is it for?", "Share it out")
}

package ask_test

import (
	"testing"

	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/lines"
)

// far doubts more than 500 notes.
func far(_ *engine.Talk, _ ask.Line, n int64) ask.Doubt {
	return ask.Doubt{Why: map[bool]string{true: "far"}[n > 500], Likely: 7}
}

// said plays lines to a question and gives what came back to the last.
func said(t *testing.T, q ask.Question, list ...string) (last string) {
	t.Helper()
	f := asks(t, q)
	for _, line := range list {
		last = f.Says("staff1", line)
	}
	return last
}

// A figure that comes first and is more than its kind can be may be the whole sum, whether or
// not its kind can make it; where a figure came before, where no sum is asked for and where
// there is one kind alone it is a doubtful count.
func TestWholeSumComesFirst(t *testing.T) {
	paid := paidOut()
	paid.Check = far
	for _, sum := range []string{"4420", "4400", "501"} {
		expect(t, said(t, paid, sum), sum+" of the 50s, or everything together?|[Everything together]|[Change]",
			"Please check")
	}
	expect(t, said(t, paid, "500"), "20s: how many", "together")
	expect(t, said(t, paid, "28", "4400"), "4,400 notes of 20s?|[It really is 4,400]", "together")
	alone := ask.Question{Name: "paid", Money: true, Lines: ask.KindLines, Check: far}
	expect(t, said(t, alone, "4400"), "4,400 notes of 50s?|[It really is 4,400]", "together")
	unchecked := paidOut()
	expect(t, said(t, unchecked, "4400"), "20s: how many", "together")
	expect(t, ofOneBox(t, paid, "4400"), "4,400 notes of 50s?|[It really is 4,400]", "together")
}

// "The slip says" before one figure makes it the whole sum, where that is asked for and no kind
// is asked by itself.
func TestSlipSaysTheSum(t *testing.T) {
	paid := paidOut()
	paid.Check = far
	expect(t, said(t, paid, "the slip says 4420"), "total 4420", "answered|how many")
	expect(t, said(t, paid, "28", "the slip says 4420"), "4,420 notes of 20s?", "total")
	expect(t, said(t, paid, "the slip says 28 89 120"), "answered [28 89 120]", "total")
	none := ask.Question{Name: "paid", Money: true, Lines: ask.KindLines, Check: far}
	expect(t, said(t, none, "the slip says 28"), "20s: how many", "total|each kind")
	expect(t, ofOneBox(t, paid, "the slip says 28"), "answered [28]", "total")
}

// What the machine is said to show is no count of notes in the hand: it is asked back. Where
// figures that it shows are asked for it is taken, and words without figures are none.
func TestMachineSays(t *testing.T) {
	loaded := ask.Question{Name: "loaded"}
	expect(t, said(t, loaded, "the machine says 40 150 200"),
		"Do you mean 50s 40? 20s 150? 10s 200?|[Use 50x40, 20x150, 10x200]", "answered")
	expect(t, said(t, loaded, "the machine says 40 150 200", "yes"), "answered [40 150 200]", "")
	expect(t, said(t, loaded, "sorry, it says 40 150 200"), "Do you mean|[Use 50x40, 20x150, 10x200]",
		"answered")
	expect(t, said(t, loaded, "the machine says so"), "I did not understand that.", "Do you mean|[Use")
	expect(t, said(t, loaded, "40 150 200"), "answered [40 150 200]", "Do you mean")
	expect(t, said(t, loaded, "50s 40, 20s 150, 10s 200"), "answered [40 150 200]", "Do you mean")
	shown := ask.Question{Name: "shown"}
	expect(t, said(t, shown, "the machine says 40 150 200"), "answered [40 150 200]", "Do you mean")
	expect(t, said(t, paidOut(), "the machine says 28 89 120"), "answered [28 89 120]", "Do you mean")
}

// A guess is asked back where a line is asked. While a figure is doubted, and while one waits
// for its kind, it is for neither.
func TestGuessesWithin(t *testing.T) {
	loaded, added := ask.Question{Name: "loaded", Check: far}, ask.Question{Name: "added", Partial: true}
	expect(t, said(t, loaded, "40", "maybe about 150"), "Do you mean 20s 150?|[Use 150]", "answered")
	const not = `could not take in "maybe about 150"|`
	expect(t, said(t, loaded, "40 900", "maybe about 150"), not+"900 notes of 20s", "Do you mean|[Use")
	expect(t, said(t, added, "50", "maybe about 150"), not+"50: in which box?", "Do you mean|[Use")
	const beside = "cancelled 1 twenty" // a word that may change what the figure is
	expect(t, said(t, loaded, "40", beside), "Do you mean 20s 1?|[Use 20x1]", "10s (bottom box)")
	expect(t, said(t, loaded, "40 900", beside), "could not take in|900 notes of 20s", "Do you mean")
	expect(t, said(t, added, "50", beside), "could not take in|50: in which box?", "Do you mean")
}

// A box that is asked back as empty may be said to be so once more, in whatever words; a figure
// is its count, and what is said of another box leaves it asked.
func TestEmptyOnceMore(t *testing.T) {
	q := ask.Question{Name: "loaded", Check: func(_ *engine.Talk, _ ask.Line, n int64) ask.Doubt {
		return lines.Nothing(n)
	}}
	const asked = "20s (middle box), 0 notes.|[Empty]|[I count it now]"
	expect(t, said(t, q, "40 0 200"), asked, "answered")
	for _, none := range []string{"0", "none", "it is empty", "nothing", "middle box none", "Empty"} {
		expect(t, said(t, q, "40 0 200", none), "answered [40 0 200]", "[Empty]")
	}
	expect(t, said(t, q, "40 0 200", "7"), "answered [40 7 200]", "[Empty]")
	expect(t, said(t, q, "40 0", "0", "200"), "answered [40 0 200]", "[Empty]")
	expect(t, said(t, q, "40 0 200", "10s none"), asked, "answered")
	expect(t, said(t, q, "40 0 200", "not empty"), asked, "answered")
	expect(t, said(t, q, "40 0 200", "maybe empty"), asked, "answered")
	expect(t, said(t, q, "0"), "50s (top box), 0 notes.|[Empty]", "middle")
	expect(t, said(t, q, "40", "0"), asked, "answered")
	expect(t, said(t, ask.Question{Name: "loaded", Check: far}, "40 900 200", "0"), "answered [40 0 200]", "900")
}

// A sentence that changes an earlier figure shows what holds now; one that adds a figure or says
// the same again shows nothing.
func TestAmendedIsShown(t *testing.T) {
	q := ask.Question{Name: "loaded"}
	expect(t, said(t, q, "50s 40"), "20s (middle box): how many", "So far")
	expect(t, said(t, q, "50s 40", "20s 150"), "10s (bottom box): how many", "So far")
	expect(t, said(t, q, "50s 40", "sorry 50s 41"), "So far: 50s 41.|20s (middle box): how many", "")
	expect(t, said(t, q, "50s 40", "sorry 50s 40"), "20s (middle box): how many", "So far")
	expect(t, said(t, q, "40", "i mean 41"), "So far: 50s 41.|20s (middle box): how many", "")
	expect(t, said(t, q, "i mean 41"), "20s (middle box): how many", "So far")
	expect(t, said(t, q, "i mean 41", "150", "200"), "answered [41 150 200]", "")
}

// A sum beside the counts of all lines is compared with them, and is not taken in their place.
func TestSumBesideCounts(t *testing.T) {
	const counted = "50x40 20x150 10x200"
	for _, q := range []ask.Question{{Name: "loaded"}, paidOut()} {
		expect(t, said(t, q, counted+" total 7000"), "answered [40 150 200]", "These notes|total 7000")
		expect(t, said(t, q, counted+" total 7100"),
			"These notes make €7,000, not €7,100. Look again at both.|answered [40 150 200]", "total 7100")
		expect(t, said(t, q, counted), "answered [40 150 200]", "These notes")
	}
	expect(t, said(t, paidOut(), "total 4420"), "total 4420", "answered")
	loaded := ask.Question{Name: "loaded"}
	expect(t, said(t, loaded, "only one total"), "I need the notes of each kind", "answered")
}

// Yes and no are the option that begins so, wherever in the list that stands; other words go on.
func TestPickYesOrNo(t *testing.T) {
	for said, want := range map[string]string{"yes": "all", "Yeah.": "all", "no": "one", "nope": "one",
		"hm": ""} {
		chosen := ""
		p := ask.Pick{Head: ask.Asking("ask.how"), What: "what.move",
			Take: func(c *engine.Talk, value string) { chosen = value; c.GoTo("done") },
			Options: func(*engine.Talk) []ask.Option {
				return []ask.Option{{Label: "Yes, all of them", Value: "all"}, {Label: "No, one is enough", Value: "one"}}
			}}
		if f := onStage(t, p.Worded()); f.Says("staff1", said) == "" || chosen != want {
			t.Errorf("%q: chose %q, want %q", said, chosen, want)
		}
	}
}

// ofOneBox is what is said of words typed at a question in a shop with one note box.
func ofOneBox(t *testing.T, q ask.Question, typed string) string {
	t.Helper()
	f := floor.New(t, floor.Of(asking(q)))
	f.Shop.Machines[0].Boxes = f.Shop.Machines[0].Boxes[:1]
	f.Says("staff1", "move")
	return f.Says("staff1", typed)
}

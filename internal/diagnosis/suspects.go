package diagnosis

// strength orders explanations as the evidence does: an event on record, one altered
// figure, a mere shape, two slips together.
type strength int

const (
	event strength = iota
	altered
	shape
	together
)

// suspect is a slip that may have happened, with its effect on the variance.
//
// bits is what it asks us to believe, on a logarithmic scale: one of some sixteen
// kinds of slip, one of so many figures, one of so many ways to get it wrong. Every
// bit halves the odds. The sum decides between explanations of equal strength and
// whether two slips together are more believable than notes simply being gone.
type suspect struct {
	slip     Slip
	effect   effect
	strength strength
	bits     int
	partial  bool  // only a part of what the event on record would do
	free     bool  // the likely figure is one of ten that would do as well
	at       []int // the misplaced figures, as indexes of the entries
}

// kindBits is the price of assuming that any slip of a given kind happened at all.
const kindBits = 4

// explanation is one or two suspects that explain the whole variance.
type explanation struct {
	suspects []suspect
	strength strength
	bits     int
}

func alone(s suspect) explanation {
	return explanation{suspects: []suspect{s}, strength: s.strength, bits: s.bits}
}

func both(a, b suspect) explanation {
	return explanation{suspects: []suspect{a, b}, strength: together, bits: a.bits + b.bits}
}

// rereads reports whether both read the same figure in another way.
func (s suspect) rereads(other suspect) bool {
	a, b := s.slip, other.slip
	return a.misread() && b.misread() && a.Field == b.Field && a.Lot == b.Lot && a.Face == b.Face
}

// misread reports whether a slip is one figure written wrongly on its own line.
func (s Slip) misread() bool {
	return s.ID == ValueForQuantity || s.ID == TypedInBundles || s.ID == DigitsTransposed || s.ID == DigitSlid
}

// named fills in the faces of a slip from the lines it touches: one, two or, where
// it runs over the whole day, none.
func (b *books) named(slip Slip, e effect) Slip {
	switch lines := e.lines(); len(lines) {
	case 1:
		slip.Face = b.faces[lines[0]]
	case 2:
		slip.Face, slip.OtherFace = b.faces[lines[0]], b.faces[lines[1]]
	}
	return slip
}

func figure(n int64) *int64 { return &n }

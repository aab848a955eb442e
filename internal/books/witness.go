package books

// Witness is a record that a second person stands by a closing count, or, with
// the mark Alone, that nobody else was there.
const (
	Witness Kind = "witness"
	Alone   Mark = "alone"
)

// postWitness takes in who stands by the last count of a period: never the
// person who counted.
func postWitness(_ *Machine, p *Period, e *Entry) ([]Move, error) {
	if p.Status != Waiting || e.Target != p.CountSeq {
		return nil, &Refusal{Code: NoCount, Period: p.No}
	}
	if p.Witness != 0 || p.Alone {
		return nil, &Refusal{Code: StoodBy, Period: p.No}
	}
	if e.Has(Alone) {
		p.Alone = true
		return nil, nil
	}
	if e.By == p.CountedBy {
		return nil, &Refusal{Code: OwnCount}
	}
	p.Witness = e.By
	return nil, nil
}

package diagnosis

import "slices"

// searchMax bounds the search for two slips: beyond so many figures in one day
// everything fits something, and time runs out.
const searchMax = 150

// facesMax bounds the kinds of note of a day; no currency has nearly as many.
const facesMax = 64

// Explain lists what may have gone wrong, best first: nothing if every line
// balances, one Unexplained if no slip fits.
func Explain(facts Facts) []Cause {
	b := layOut(facts)
	if b.variance.none() {
		return nil
	}
	if len(b.faces) > facesMax {
		return b.ranked(nil)
	}
	events := b.events()
	found, settled := b.singles(events)
	switch {
	case len(b.entries) > searchMax:
	case !settled:
		found = append(found, b.pairs(events)...)
	case !slices.ContainsFunc(found, otherThanTopup):
		found = append(found, b.hidden()...)
	}
	return b.ranked(found)
}

// slackBits is how much less believable than a plain loss one slip may be and still
// be named: it is the thing to look at first, before anybody speaks of a loss.
const slackBits = 1

// singles lists the single slips that explain the whole variance. They settle the
// matter if one of them is an exact event or one altered figure.
func (b *books) singles(events []suspect) (found []explanation, settled bool) {
	candidates := append(b.finish(b.variance), b.misentered()...)
	for _, s := range events {
		if s.effect.equals(b.variance) {
			candidates = append(candidates, s)
		}
	}
	for _, s := range append(candidates, b.shapes()...) {
		if b.believable(s) {
			found = append(found, alone(s))
			settled = settled || s.strength <= altered && s.slip.ID != NoteInTransport
		}
	}
	return found, settled
}

// believable weighs one slip against plain loss. An event that fits in full always
// counts; so does any slip where notes are too many, for nobody loses those.
func (b *books) believable(s suspect) bool {
	if s.strength == event && !s.partial || slices.Max(b.variance) > 0 {
		return true
	}
	return s.bits <= b.lossBits()+slackBits
}

// finish lists the slips, other than recorded events, that settle a rest alone.
func (b *books) finish(rest effect) []suspect {
	suspects := b.transport(rest)
	switch lines := rest.lines(); len(lines) {
	case 1:
		suspects = append(suspects, b.misreadings(lines[0], rest[lines[0]])...)
	case 2:
		for _, s := range append(b.misplacements(lines), b.merged(rest)...) {
			if s.effect.equals(rest) {
				suspects = append(suspects, s)
			}
		}
	}
	return suspects
}

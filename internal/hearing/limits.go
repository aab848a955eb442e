package hearing

import (
	"slices"

	"shopfloat/internal/guides/search"
)

// Limits say how sure is sure enough. They are chosen by leaving voices out: what a voice
// says is heard by a model that has learnt from the others only.
type Limits struct {
	Clear float64 // sure enough to be done without asking back
	Lead  float64 // and so much surer than the next
	Small float64 // how much surer than that nothing is asked for
}

// The limits that are tried.
var (
	clearTried = []float64{0.3, 0.4, 0.5, 0.6, 0.7, 0.8}
	leadTried  = []float64{1.2, 1.4, 1.6, 2, 2.5, 3, 4}
	smallTried = []float64{0.6, 0.8, 1, 1.2, 1.4, 1.7, 2, 2.5, 3, 4}
)

// The shares that are wanted: of what asks for something, heard right at first or within
// what is listed; of wrong things started, and of chatter that is answered.
const (
	rightLeast  = 0.90
	listedLeast = 0.97
	wrongMost   = 0.03
	chatterMost = 0.03
)

// unheard is what a voice said that a model has not learnt from, and how that hears it.
type unheard struct {
	want     string
	readings []Reading
}

// chooseLimits leaves out one voice after the other.
func chooseLimits(all []said, topics []search.Topic, find *search.Index) (Limits, error) {
	var heard []unheard
	for _, voice := range voicesOf(all) {
		rest, out := without(all, voice)
		e, err := learnFrom(rest, topics, find)
		if err != nil {
			return Limits{}, err
		}
		for _, s := range out {
			for _, p := range s.phrases {
				r := slices.DeleteFunc(e.heard(p.text), isDanger)
				heard = append(heard, unheard{s.class(), short(r)})
			}
		}
	}
	return best(heard), nil
}

func voicesOf(all []said) (out []string) {
	for _, s := range all {
		for _, p := range s.phrases {
			if !slices.Contains(out, p.voice) {
				out = append(out, p.voice)
			}
		}
	}
	slices.Sort(out)
	return out
}

// without parts what one voice says from what the others say.
func without(all []said, voice string) (rest, out []said) {
	for _, s := range all {
		mine, others := s, s
		mine.phrases, others.phrases = nil, nil
		for _, p := range s.phrases {
			if p.voice == voice {
				mine.phrases = append(mine.phrases, p)
			} else {
				others.phrases = append(others.phrases, p)
			}
		}
		rest = append(rest, others)
		if len(mine.phrases) > 0 && !isDanger(Reading{Kind: first(kindOf(s.class()))}) {
			out = append(out, mine)
		}
	}
	return rest, out
}

func first(k Kind, _ string) Kind { return k }

// class is the name of what is said.
func (s said) class() string {
	switch kind, _ := kindOf(s.id); {
	case s.id == chatterFile:
		return None
	case s.guide || kind == Danger:
		return s.id
	}
	return commandID + s.id
}

// short keeps the readings that the rules look at.
func short(list []Reading) (out []Reading) {
	asked := 0
	for _, r := range list {
		if r.Kind != Small {
			if asked++; asked > listMax {
				continue
			}
		}
		out = append(out, r)
	}
	return out
}

// best are the limits that come closest to the shares that are wanted, taken together.
func best(heard []unheard) (out Limits) {
	most := -1e9
	for _, small := range smallTried {
		for _, clearMin := range clearTried {
			for _, lead := range leadTried {
				l := Limits{Clear: clearMin, Lead: lead, Small: small}
				if worth := l.worth(heard); worth > most {
					most, out = worth, l
				}
			}
		}
	}
	return out
}

// worth is below nothing by as much as the shares fall short of those that are wanted, each
// as bad as another. Where that is even, asking back is a tap, and done is better.
func (l Limits) worth(heard []unheard) float64 {
	const doneWorth = 0.1
	var asked, right, listed, done, wrong, chatter, answered float64
	for _, h := range heard {
		d := Decide(h.readings, false, l)
		names := d.Names()
		if h.want == None {
			if chatter++; names[0] != None {
				answered++
			}
			continue
		}
		asked++
		if slices.Contains(names, h.want) {
			listed++
		}
		switch {
		case names[0] == h.want && d.Act == Do:
			right, done = right+1, done+1
		case names[0] == h.want:
			right++
		case d.Act == Do:
			wrong++
		}
	}
	short := max(0, rightLeast-right/asked) + max(0, listedLeast-listed/asked) +
		max(0, answered/chatter-chatterMost) + max(0, wrong/asked-wrongMost)
	return doneWorth*done/asked - short
}

package advice

import "slices"

// partDays is how many closed periods a part of a state has when it is full.
const partDays = 100

// KeepDays is how long a part is kept, in days behind the newest closed period.
const KeepDays = learnDays + 2*spareDays

// Parts parts a state, so that going on changes little of what is kept: parts that are full,
// oldest first, which no later day changes, and the one that is added to. What tills brought is
// let go soon and stays with that one.
func (s State) Parts() (full []State, last State) { return s.parts(partDays) }

func (s State) parts(most int) (full []State, last State) {
	for len(s.Days) > most {
		n := most
		for n < len(s.Days) && s.Days[n].Seq == s.Days[n-1].Seq { // closed by the same entry
			n++
		}
		if n == len(s.Days) {
			break
		}
		seq := s.Days[n-1].Seq
		full = append(full, State{Version: StateVersion, Seq: seq, Days: s.Days[:n:n],
			Warned:   kept(s.Warned, func(w Warned) bool { return w.Seq <= seq }),
			Troubles: kept(s.Troubles, func(t Trouble) bool { return t.Seq <= seq })})
		s.Days = s.Days[n:]
		s.Warned = kept(s.Warned, func(w Warned) bool { return w.Seq > seq })
		s.Troubles = kept(s.Troubles, func(t Trouble) bool { return t.Seq > seq })
	}
	return full, s
}

// Joined puts parts of a state together again, oldest first.
func Joined(parts []State) State {
	all := State{Version: StateVersion}
	for _, p := range parts {
		all.Seq = max(all.Seq, p.Seq)
		all.Days = append(all.Days, p.Days...)
		all.Tills = append(all.Tills, p.Tills...)
		all.Warned = append(all.Warned, p.Warned...)
		all.Troubles = append(all.Troubles, p.Troubles...)
	}
	all.Days = slices.Clip(all.Days)
	return all.within(learnDays+spareDays, tillDays)
}

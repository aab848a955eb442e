package leaks

import "shopfloat/internal/cashmath"

// watch runs one cumulative sum over days; k and h are in parts of a note.
type watch struct {
	face  cashmath.Face
	k, h  int
	sums  []float64 // the larger side after each day, in notes, missing negative
	leaks []Leak
}

// side is one direction of the sum: what it has gathered since it was last at nothing.
type side struct {
	sign  int64 // of the differences it gathers
	since int   // index of the day it began with
	leak  int   // index of the leak that goes on; below 0: none
}

func (w *watch) run(days []Day) {
	c := Limits{K: float64(w.k), H: float64(w.h)}.Start(float64(w.h / 2))
	plain := c.Start(0) // for the picture: a head start would look like notes
	over, missing := side{sign: 1, leak: -1}, side{sign: -1, leak: -1}
	for i, d := range days {
		high, low := c.Hi, c.Lo
		off := float64(clip(d.Notes[w.face]) * part)
		hi, lo := c.Add(off)
		_, _ = plain.Add(off)
		c.cap(2 * c.H)
		plain.cap(2 * c.H)
		w.step(&over, days[:i+1], high == 0, hi, c.Hi <= c.H/2)
		w.step(&missing, days[:i+1], low == 0, lo, c.Lo <= c.H/2)
		sum := plain.Hi
		if plain.Lo > plain.Hi {
			sum = -plain.Lo
		}
		w.sums = append(w.sums, sum/part)
	}
}

// step follows one side to the last of the days. A leak is thought to have begun on
// the first day after the sum was at nothing, and to have ended when the sum is down
// at half of its limit: one that hovers there is one leak and not many.
func (w *watch) step(s *side, days []Day, wasNothing, signal, low bool) {
	now := len(days) - 1
	if wasNothing && s.leak < 0 {
		s.since = now
	}
	if !signal {
		if s.leak >= 0 && low {
			w.leaks[s.leak].Ended = true
			s.leak, s.since = -1, now
		}
		return
	}
	if s.leak < 0 {
		s.leak = len(w.leaks)
		w.leaks = append(w.leaks, Leak{})
	}
	l := Leak{Face: w.face, Over: s.sign > 0, Since: days[s.since].Date, Until: days[now].Date}
	for _, d := range days[s.since:] {
		l.Days++
		if n := s.sign * d.Notes[w.face]; n > 0 {
			l.Times++
			l.Notes += n
		}
	}
	w.leaks[s.leak] = l
}

package leaks

import "math"

// Everything about chance is in parts of a note, so that sums are exact.
const (
	part  = 6 // parts of a note
	clipN = 1 // a difference of more notes counts as one: what keeps coming back shows by how often
)

// odds are the chances of a day's difference, clipped: missing, none, too many.
type odds [2*clipN + 1]float64

func clip(notes int64) int64 { return min(max(notes, -clipN), clipN) }

// What an ordinary shop is thought to be before it has days of its own, and how many
// days that is worth. Chosen here, no source: now and then a note or more.
const (
	usualOff  = 0.04
	usualDays = 60
)

// ordinary estimates how differences would be spread if nothing leaked. A leak shows
// on one side only, so a difference is believed as often as its rarer side has it, and by
// its own spread more: the rarer of two is seldom the true one.
func ordinary(days []int64) odds {
	var missing, over float64
	for _, notes := range days {
		switch clip(notes) {
		case -clipN:
			missing++
		case clipN:
			over++
		}
	}
	rarer := min(missing, over)
	p := (rarer + math.Sqrt(rarer) + usualOff*usualDays) / float64(len(days)+usualDays)
	return odds{p, 1 - 2*p, p}
}

// runLength is how many steps one side of a cumulative sum takes on average to a
// signal: exact, by the chain of its states (Brook and Evans 1972). K, H and the head
// start are in parts of a note.
func runLength(o odds, k, h, head int) float64 {
	n := h + 1
	rows := make([][]float64, n)
	for s := range rows {
		rows[s] = make([]float64, n+1)
		rows[s][s], rows[s][n] = 1, 1
		for i, p := range o {
			if to := max(0, s+(i-clipN)*part-k); to <= h {
				rows[s][to] -= p
			}
		}
	}
	return solve(rows)[head]
}

// solve eliminates; the chain leaves every state, so the pivots are not nought.
func solve(rows [][]float64) []float64 {
	n := len(rows)
	for i := range rows {
		for j := i + 1; j < n; j++ {
			f := rows[j][i] / rows[i][i]
			if f == 0 {
				continue
			}
			for c := i; c <= n; c++ {
				rows[j][c] -= f * rows[i][c]
			}
		}
	}
	x := make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		x[i] = rows[i][n]
		for c := i + 1; c < n; c++ {
			x[i] -= rows[i][c] * x[c]
		}
		x[i] /= rows[i][i]
	}
	return x
}

// limitFor finds the lowest limit, in parts of a note, whose false alarms are at least
// so many steps apart, its own head start of half of it included.
func limitFor(o odds, k, least, most int, apart float64) int {
	h := least // upwards: far above, the run is longer than a float can tell
	for h < most && runLength(o, k, h, h/2) < apart {
		h++
	}
	return h
}

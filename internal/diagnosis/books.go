package diagnosis

import (
	"math/bits"
	"slices"

	"shopfloat/internal/cashmath"
)

// books is a day laid out for searching: one line per face value, by falling value.
type books struct {
	facts    Facts
	faces    []cashmath.Face
	lineOf   map[cashmath.Face]int
	units    []int64 // face value of each line in ten-thousandths
	variance effect
	in       cashmath.Notes // everything recorded as put in
	entries  []entry
	tidy     bool // loads and top-ups are round figures in this shop
}

// effect is what a slip does to the variance, in notes per line.
type effect []int64

// entry is one figure somebody wrote down. A note more in it moves the variance of
// its line by sign.
type entry struct {
	field Field
	lot   int
	line  int
	typed int64
	sign  int64
}

func layOut(facts Facts) *books {
	result := cashmath.Reconcile(facts.Day)
	b := &books{facts: facts, lineOf: make(map[cashmath.Face]int, len(result.Lines))}
	for i, line := range result.Lines {
		b.lineOf[line.Face] = i
		b.faces = append(b.faces, line.Face)
		b.units = append(b.units, line.Face.Decimal().Shift(4).IntPart())
		b.variance = append(b.variance, line.VarianceNotes)
	}
	day := facts.Day
	b.in = day.In()
	b.enter(Loaded, -1, day.Loaded)
	b.enter(Topups, -1, day.Topups...)
	b.enter(Removed, +1, day.Removed...)
	b.enter(Dispensed, +1, day.Dispensed)
	b.enter(Reversed, -1, day.Reversed)
	b.enter(Remaining, +1, day.Remaining)
	b.enter(Rejects, +1, day.Rejects)
	b.tidy = b.roundLoads()
	return b
}

// enter adds the figures of a field. A nought is no figure that could be misread.
func (b *books) enter(field Field, sign int64, lots ...cashmath.Notes) {
	for lot, notes := range lots {
		first := len(b.entries)
		for face, typed := range notes {
			if typed > 0 {
				b.entries = append(b.entries, entry{field, lot, b.lineOf[face], typed, sign})
			}
		}
		slices.SortFunc(b.entries[first:], func(x, y entry) int { return x.line - y.line })
	}
}

func (b *books) allLines() []int {
	lines := make([]int, len(b.faces))
	for i := range lines {
		lines[i] = i
	}
	return lines
}

// roundLoads reports whether this shop loads in tens: all but one figure at most, and
// three figures at least.
func (b *books) roundLoads() bool {
	figures, odd := 0, 0
	for _, e := range b.entries {
		if e.field != Loaded && e.field != Topups {
			continue
		}
		figures++
		if e.typed%10 != 0 {
			odd++
		}
	}
	return figures >= 3 && odd <= 1
}

// along spreads notes over the lines, times factor.
func (b *books) along(notes cashmath.Notes, factor int64) effect {
	e := make(effect, len(b.faces))
	for face, count := range notes {
		if line, known := b.lineOf[face]; known {
			e[line] += factor * count
		}
	}
	return e
}

// less is what remains of e once other is explained.
func (e effect) less(other effect) effect {
	rest := make(effect, len(e))
	for i := range e {
		rest[i] = e[i] - other[i]
	}
	return rest
}

// lines lists where e is not 0.
func (e effect) lines() []int {
	var lines []int
	for i, notes := range e {
		if notes != 0 {
			lines = append(lines, i)
		}
	}
	return lines
}

// touched counts the lines where e is not 0.
func (e effect) touched() int {
	count := 0
	for _, notes := range e {
		if notes != 0 {
			count++
		}
	}
	return count
}

func (e effect) equals(other effect) bool {
	for i := range e {
		if e[i] != other[i] {
			return false
		}
	}
	return true
}

func (e effect) none() bool { return e.touched() == 0 }

// meets reports whether both touch the same line.
func (e effect) meets(other effect) bool {
	for i := range e {
		if e[i] != 0 && other[i] != 0 {
			return true
		}
	}
	return false
}

// only keeps one line of e.
func (e effect) only(line int) effect {
	single := make(effect, len(e))
	single[line] = e[line]
	return single
}

// choice is how many bits it takes to pick one of n.
func choice(n int) int { return bits.Len(uint(max(n-1, 0))) }

// magnitude is how many bits a count takes, 0 or more.
func magnitude(notes int64) int { return bits.Len64(uint64(notes)) }

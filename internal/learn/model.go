// Package learn is a small linear model over marks of short texts, and what
// goes with it: bringing the forms of an English word together, and mending
// typing slips. It knows nothing of what the texts are about.
package learn

import "math"

// Mark is something that a text has or has not: a word, an idea, two of them
// together. It is kept as a hash, and a model tells it by half of that: of some
// 100,000 marks one pair meets, and counts as one.
type Mark struct {
	ID   uint64
	Pair bool // two things together: there are many more pairs than words
}

// The offset and the prime of FNV-1a, 64 bits (IETF draft-eastlake-fnv).
const (
	fnvOffset = 14695981039346656037
	fnvPrime  = 1099511628211
)

// key is what a model tells a mark by.
func (m Mark) key() uint32 { return uint32(m.ID >> 32) }

// Of makes a mark of a word.
func Of(s string) Mark {
	h := uint64(fnvOffset)
	for i := range len(s) {
		h = (h ^ uint64(s[i])) * fnvPrime
	}
	return Mark{ID: h}
}

// Both makes a mark of two that stand in one text, in whatever order.
func Both(a, b Mark) Mark {
	low, high := min(a.ID, b.ID), max(a.ID, b.ID)
	return Mark{ID: (low*fnvPrime ^ high) * fnvPrime, Pair: true}
}

// Example is a text to learn from, by its marks, each once.
type Example struct {
	Marks  []Mark
	Class  int
	Weight float64 // how much it counts; 0 is 1
}

// Model weighs marks for and against each class by softmax regression.
type Model struct {
	classes int
	ids     table    // mark to its row
	first   []uint32 // where the weights of a row begin; one more for the end
	class   []uint8  // of each weight
	weight  []float32
}

// example is one with the marks that are kept, by their rows.
type example struct {
	rows   []int
	class  int
	weight float64
}

// Effort is how long a model learns, and how much its weights shrink meanwhile. With Mean they are the
// means of the second half of the rounds: the order of the examples then matters less.
type Effort struct {
	Rounds int
	Shrink float64
	Mean   bool
}

// Usual is chosen by cross-validation over the phrases of the guides; see SEARCH.md there. So are
// the others.
var Usual = Effort{Rounds: 8, Shrink: 1e-3}

const (
	pace     = 0.4
	tiny     = 1e-3 // steps smaller than this are not worth taking
	pairSize = 0.4  // keeps pairs from drowning the words
	classMax = 256
)

// trainer is a model while it learns.
type trainer struct {
	Effort
	classes  int
	ids      map[uint32]int32
	size     []float64 // how much a mark counts, by row
	w, grad2 []float64 // rows x classes
	far      []int     // classes that are wrong by more than a little
}

// New learns from examples. A mark that stands in one example only is left out.
func New(examples []Example, classes int) Model { return Usual.New(examples, classes) }

// New learns from examples with some effort.
func (e Effort) New(examples []Example, classes int) Model {
	t := trainer{Effort: e, ids: map[uint32]int32{}, classes: min(classes, classMax)}
	seen := map[uint32]bool{}
	for _, ex := range examples {
		for _, m := range ex.Marks {
			key := m.key()
			if _, known := t.ids[key]; known || !seen[key] {
				seen[key] = true
				continue
			}
			t.ids[key] = int32(len(t.ids))
			size := 1.0
			if m.Pair {
				size = pairSize
			}
			t.size = append(t.size, size)
		}
	}
	rows := make([]example, len(examples))
	for i, ex := range examples {
		rows[i] = example{class: ex.Class, weight: ex.Weight}
		if ex.Weight == 0 {
			rows[i].weight = 1
		}
		for _, m := range ex.Marks {
			if id, ok := t.ids[m.key()]; ok {
				rows[i].rows = append(rows[i].rows, int(id))
			}
		}
	}
	t.learn(rows)
	return t.model()
}

// learn fits the weights by stochastic gradient steps in a fixed shuffled
// order, so that the same phrases always give the same weights.
func (t *trainer) learn(examples []example) {
	t.w = make([]float64, len(t.size)*t.classes)
	t.grad2 = make([]float64, len(t.w))
	p := make([]float64, t.classes)
	order := shuffler(1)
	var sum []float64
	if t.Mean {
		sum = make([]float64, len(t.w))
	}
	for round := range t.Rounds {
		order.shuffle(examples)
		for _, ex := range examples {
			t.chances(ex.rows, p)
			p[ex.class]--
			t.step(ex, p)
		}
		if t.Mean && 2*round >= t.Rounds {
			for i, w := range t.w {
				sum[i] += w / float64(t.Rounds-(t.Rounds+1)/2)
			}
		}
	}
	if t.Mean {
		t.w = sum
	}
}

// step moves the weights against the error, less where they moved much before.
func (t *trainer) step(ex example, wrong []float64) {
	v := scale(len(ex.rows)) * ex.weight
	t.far = t.far[:0]
	for c, g := range wrong {
		if g >= tiny || g <= -tiny {
			t.far = append(t.far, c)
		}
	}
	for _, id := range ex.rows {
		row, sum := t.w[id*t.classes:(id+1)*t.classes], t.grad2[id*t.classes:(id+1)*t.classes]
		for _, c := range t.far {
			g := wrong[c]*v*t.size[id] + t.Shrink*row[c]
			sum[c] += g * g
			row[c] -= pace * g / (math.Sqrt(sum[c]) + 1e-6)
		}
	}
}

func (t *trainer) chances(rows []int, p []float64) {
	clear(p)
	for _, id := range rows {
		size := t.size[id]
		for c, w := range t.w[id*t.classes : (id+1)*t.classes] {
			p[c] += w * size
		}
	}
	softmax(p, scale(len(rows)))
}

// model keeps what was learnt, with the size of a mark in its weights.
func (t *trainer) model() Model {
	m := Model{classes: t.classes, ids: tableFor(len(t.ids)), first: make([]uint32, 0, len(t.size)+1)}
	for key, id := range t.ids {
		m.ids.put(key, id)
	}
	for id, size := range t.size {
		m.first = append(m.first, uint32(len(m.class)))
		for c, w := range t.w[id*t.classes : (id+1)*t.classes] {
			if w *= size; w != 0 {
				m.class, m.weight = append(m.class, uint8(c)), append(m.weight, float32(w))
			}
		}
	}
	m.first = append(m.first, uint32(len(m.class)))
	return m
}

// Classes is how many classes there are.
func (m *Model) Classes() int { return m.classes }

// Chances gives the probability of each class.
func (m *Model) Chances(marks []Mark) []float64 {
	p := make([]float64, m.classes)
	known := 0
	for _, mark := range marks {
		id, ok := m.ids.row(mark.key())
		if !ok {
			continue
		}
		known++
		for i := m.first[id]; i < m.first[id+1]; i++ {
			p[m.class[i]] += float64(m.weight[i])
		}
	}
	softmax(p, scale(known))
	return p
}

// scale keeps a long text from shouting louder than a short one.
func scale(n int) float64 { return 1 / math.Sqrt(float64(max(n, 1))) }

// softmax makes probabilities of sums.
func softmax(p []float64, v float64) {
	top := math.Inf(-1)
	for c := range p {
		p[c] *= v
		top = max(top, p[c])
	}
	sum := 0.0
	for c := range p {
		p[c] = math.Exp(p[c] - top)
		sum += p[c]
	}
	for c := range p {
		p[c] /= sum
	}
}

// shuffler is a linear congruential generator (Knuth's MMIX constants): the
// order must be mixed, not secret, and the same on every machine.
type shuffler uint64

func (s *shuffler) shuffle(examples []example) {
	for i := len(examples) - 1; i > 0; i-- {
		*s = *s*6364136223846793005 + 1442695040888963407
		j := int(uint64(*s>>33) % uint64(i+1))
		examples[i], examples[j] = examples[j], examples[i]
	}
}

// Package learn is a small linear model over marks of short texts, and what
// goes with it: bringing the forms of an English word together, and mending
// typing slips. It knows nothing of what the texts are about.
package learn

import (
	"math"
	"strings"
)

// Model weighs marks for and against each class by softmax regression.
type Model struct {
	ids     map[string]int
	size    []float64 // how much a mark counts, by id
	classes int
	w       []float32 // ids x classes
}

// Example is a text to learn from, by its marks.
type Example struct {
	Marks []string
	Class int
}

type example struct {
	marks []int
	class int
}

// Chosen by cross-validation over the phrases of the guides; see SEARCH.md there.
const (
	rounds   = 8
	pace     = 0.4
	shrink   = 1e-3
	tiny     = 1e-3 // steps smaller than this are not worth taking
	pairSize = 0.4  // there are many more pairs than words: keep them from drowning the words
)

// PairSign joins two marks that stand in one text.
const PairSign = "+"

// New learns from examples, as often as rounds says. A mark that stands in one
// example only is left out.
func New(examples []Example, classes int) Model {
	m := Model{ids: map[string]int{}, classes: classes}
	seen := map[string]bool{}
	for _, ex := range examples {
		for _, mark := range ex.Marks {
			if _, known := m.ids[mark]; known || !seen[mark] {
				seen[mark] = true
				continue
			}
			m.ids[mark] = len(m.ids)
			m.size = append(m.size, markSize(mark))
		}
	}
	rows := make([]example, len(examples))
	for i, ex := range examples {
		rows[i] = example{marks: m.number(ex.Marks), class: ex.Class}
	}
	m.learn(rows)
	return m
}

func markSize(mark string) float64 {
	if strings.Contains(mark, PairSign) {
		return pairSize
	}
	return 1
}

func (m *Model) number(marks []string) []int {
	var out []int
	for _, mark := range marks {
		if id, ok := m.ids[mark]; ok {
			out = append(out, id)
		}
	}
	return out
}

// learn fits the weights by stochastic gradient steps in a fixed shuffled
// order, so that the same phrases always give the same weights.
func (m *Model) learn(examples []example) {
	w := make([]float64, len(m.ids)*m.classes)
	grad2 := make([]float64, len(w))
	p := make([]float64, m.classes)
	order := shuffler(1)
	for range rounds {
		order.shuffle(examples)
		for _, ex := range examples {
			weigh(m, w, ex.marks, p)
			p[ex.class]--
			m.step(w, ex.marks, p, grad2)
		}
	}
	m.w = make([]float32, len(w)) // half the memory, and precise enough to weigh with
	for i, v := range w {
		m.w[i] = float32(v)
	}
}

// step moves the weights against the error, less where they moved much before.
func (m *Model) step(w []float64, marks []int, wrong, grad2 []float64) {
	v := scale(len(marks))
	for _, id := range marks {
		row, sum := w[id*m.classes:(id+1)*m.classes], grad2[id*m.classes:(id+1)*m.classes]
		for c, g := range wrong {
			if g < tiny && g > -tiny {
				continue
			}
			g = g*v*m.size[id] + shrink*row[c]
			sum[c] += g * g
			row[c] -= pace * g / (math.Sqrt(sum[c]) + 1e-6)
		}
	}
}

// scale keeps a long question from shouting louder than a short one.
func scale(n int) float64 { return 1 / math.Sqrt(float64(max(n, 1))) }

// Classes is how many classes there are.
func (m *Model) Classes() int { return m.classes }

// Chances gives the probability of each class.
func (m *Model) Chances(marks []string) []float64 {
	p := make([]float64, m.classes)
	weigh(m, m.w, m.number(marks), p)
	return p
}

// weigh fills p with the probability of each class, by weights in whatever form.
func weigh[F float32 | float64](m *Model, w []F, marks []int, p []float64) {
	clear(p)
	for _, id := range marks {
		size := m.size[id]
		for c, w := range w[id*m.classes : (id+1)*m.classes] {
			p[c] += float64(w) * size
		}
	}
	v, top := scale(len(marks)), math.Inf(-1)
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

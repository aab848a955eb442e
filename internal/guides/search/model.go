package search

import (
	"math"
	"strings"
)

// model weighs marks for and against each class by softmax regression.
type model struct {
	ids     map[string]int
	size    []float64 // how much a mark counts, by id
	classes int
	w       []float64 // ids x classes
}

// example is a phrase to learn from, its marks as ids.
type example struct {
	marks []int
	class int
}

// Chosen by cross-validation over the learnt phrases; see SEARCH.md.
const (
	rounds   = 8
	pace     = 0.4
	shrink   = 1e-3
	tiny     = 1e-3 // steps smaller than this are not worth taking
	pairSize = 0.4  // there are many more pairs than words: keep them from drowning the words
)

// newModel gives a number to every mark used more than once.
func newModel(rows [][]string, classes int) model {
	m := model{ids: map[string]int{}, classes: classes}
	seen := map[string]bool{}
	for _, row := range rows {
		for _, mark := range row {
			if _, known := m.ids[mark]; known || !seen[mark] {
				seen[mark] = true
				continue
			}
			m.ids[mark] = len(m.ids)
			m.size = append(m.size, markSize(mark))
		}
	}
	m.w = make([]float64, len(m.ids)*classes)
	return m
}

func markSize(mark string) float64 {
	if strings.Contains(mark, pairSign) {
		return pairSize
	}
	return 1
}

func (m *model) number(marks []string) []int {
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
func (m *model) learn(examples []example) {
	grad2 := make([]float64, len(m.w))
	p := make([]float64, m.classes)
	order := shuffler(1)
	for range rounds {
		order.shuffle(examples)
		for _, ex := range examples {
			m.chances(ex.marks, p)
			p[ex.class]--
			m.step(ex.marks, p, grad2)
		}
	}
}

// step moves the weights against the error, less where they moved much before.
func (m *model) step(marks []int, wrong, grad2 []float64) {
	v := scale(len(marks))
	for _, id := range marks {
		row, sum := m.row(m.w, id), m.row(grad2, id)
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

func (m *model) row(all []float64, id int) []float64 {
	return all[id*m.classes : (id+1)*m.classes]
}

// scale keeps a long question from shouting louder than a short one.
func scale(n int) float64 { return 1 / math.Sqrt(float64(max(n, 1))) }

// chances fills p with the probability of each class.
func (m *model) chances(marks []int, p []float64) {
	clear(p)
	for _, id := range marks {
		size := m.size[id]
		for c, w := range m.row(m.w, id) {
			p[c] += w * size
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

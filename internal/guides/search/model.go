package search

import (
	"math"
)

// model weighs marks for and against each class by softmax regression.
type model struct {
	ids     map[string]int
	classes int
	w       []float64 // ids x classes
}

type example struct {
	marks []int
	class int
}

var (
	rounds = 12
	pace   = 0.4
	shrink = 1e-3
	tiny   = 1e-3 // steps smaller than this are not worth taking
)

func (m *model) number(marks []string) []int {
	var out []int
	for _, s := range marks {
		if id, ok := m.ids[s]; ok {
			out = append(out, id)
		}
	}
	return out
}

// learn fits the weights by stochastic gradient steps in a fixed shuffled
// order, so that the same phrases always give the same weights.
func (m *model) learn(examples []example) {
	grad2 := make([]float64, len(m.w))
	order := uint64(1)
	p := make([]float64, m.classes)
	for range rounds {
		for i := len(examples) - 1; i > 0; i-- {
			order = order*6364136223846793005 + 1442695040888963407
			j := int((order >> 33) % uint64(i+1))
			examples[i], examples[j] = examples[j], examples[i]
		}
		for _, ex := range examples {
			m.chances(ex.marks, p)
			p[ex.class]--
			v := scale(len(ex.marks))
			for _, id := range ex.marks {
				row := m.w[id*m.classes : (id+1)*m.classes]
				g2 := grad2[id*m.classes : (id+1)*m.classes]
				for c, g := range p {
					if g < tiny && g > -tiny {
						continue
					}
					g = g*v + shrink*row[c]
					g2[c] += g * g
					row[c] -= pace * g / (math.Sqrt(g2[c]) + 1e-6)
				}
			}
		}
	}
}

// scale keeps a long question from shouting louder than a short one.
func scale(n int) float64 { return 1 / math.Sqrt(float64(max(n, 1))) }

// chances fills p with the probability of each class.
func (m *model) chances(marks []int, p []float64) {
	clear(p)
	for _, id := range marks {
		row := m.w[id*m.classes : (id+1)*m.classes]
		for c := range p {
			p[c] += row[c]
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

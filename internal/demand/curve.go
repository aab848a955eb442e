package demand

import "slices"

// shares are the probabilities at which a curve is kept.
var shares = [...]float64{0.01, 0.02, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.98, 0.99}

// curve holds quantiles of the surprise in spreads, one for each of shares.
type curve [len(shares)]float64

// residualsMax: older surprises no longer shape the curve.
const residualsMax = 500

func curveOf(residuals []float64) curve {
	last := slices.Clone(residuals[max(0, len(residuals)-residualsMax):])
	slices.Sort(last)
	var c curve
	for i, p := range shares {
		c[i] = SampleQuantile(last, p)
	}
	return c
}

// mix takes share of c and the rest of other.
func (c curve) mix(other curve, share float64) curve {
	for i := range c {
		c[i] = share*c[i] + (1-share)*other[i]
	}
	return c
}

// at reads the curve at p, 0 < p < 1: straight on normal probability paper,
// also beyond its ends.
func (c curve) at(p float64) float64 {
	i := 1
	for i < len(shares)-1 && shares[i] < p {
		i++
	}
	left, right := NormalQuantile(shares[i-1]), NormalQuantile(shares[i])
	slope := (c[i] - c[i-1]) / (right - left)
	return c[i-1] + slope*(NormalQuantile(p)-left)
}

// normalCurve is the curve of normal surprises.
func normalCurve() curve {
	var c curve
	for i, p := range shares {
		c[i] = NormalQuantile(p)
	}
	return c
}

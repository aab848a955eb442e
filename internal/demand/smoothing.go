package demand

// Trend is a smoothed level and how much it grows a step.
type Trend struct{ Level, Slope float64 }

// Step moves on by one value: exponential smoothing of the level with rate
// alpha and of the slope with rate gamma, both within 0 to 1. damping within 0
// to 1 is the share of the slope kept a step; 1 keeps all. With gamma 0 and no slope it
// is single exponential smoothing (NIST/SEMATECH e-Handbook 6.4.3.1 and 6.4.3.3).
func (t Trend) Step(value, alpha, gamma, damping float64) Trend {
	return t.learn(value-t.Next(damping), alpha, gamma, damping)
}

// Next is the level expected one step on.
func (t Trend) Next(damping float64) float64 { return t.Level + damping*t.Slope }

// learn is Step told the surprise, the value less what was expected, so that a
// caller can doubt it first.
func (t Trend) learn(surprise, alpha, gamma, damping float64) Trend {
	slope := damping * t.Slope
	return Trend{
		Level: t.Level + slope + alpha*surprise,
		Slope: slope + gamma*alpha*surprise,
	}
}

// Ahead is the growth expected over the next steps, 0 or more.
func (t Trend) Ahead(steps int, damping float64) float64 {
	sum, slope := 0.0, t.Slope
	for range steps {
		slope *= damping
		sum += slope
	}
	return sum
}

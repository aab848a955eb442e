package demand

import "math"

// state is what is known of one series on one evening, in log units.
type state struct {
	level       float64
	week        [7]float64
	fade        float64
	days        float64
	weekDays    [7]float64
	spread2     float64
	weekSpread2 [7]float64
}

func (s *state) spread(w int, t *tuning) float64 {
	return math.Sqrt(t.spreadOwn*s.weekSpread2[w] + (1-t.spreadOwn)*s.spread2)
}

type fit struct {
	t     *tuning
	cal   *Calendar
	eff   effects
	first Day
	year  []float64 // drift per day, index t, covers horizon too
	s     state
	resid []float64 // standardised
	pred  []float64
}

func (f *fit) learn(i int, v float64) {
	s, t := &f.s, f.t
	day := f.first + Day(i)
	w := int(day.Weekday())
	if i < len(f.year) {
		s.level += f.year[i]
	}
	s.fade *= t.fadeKeep
	p := s.level + s.week[w] + s.fade + f.eff.of(f.cal, day)
	if math.IsNaN(v) {
		return
	}
	special, _ := f.cal.at(day)
	xmas := special >= christmasFirst && special <= christmasLast
	e := v - p
	sp := s.spread(w, t)
	if !xmas {
		f.resid = append(f.resid, e/sp)
	}
	cl := t.clip * sp
	if s.days < 28 {
		cl = t.clipStart * sp
	}
	e = min(max(e, -cl), cl)
	s.days++
	s.weekDays[w]++
	if !xmas {
		s.level += max(t.levelRate, 1/(s.days+1)) * e
		s.week[w] += max(t.weekdayRate, 1/(s.weekDays[w]+t.weekdayCount+1)) * e
	}
	s.fade += t.fadeRate * e
	if !xmas {
		e2 := (v - p) * (v - p)
		m := 9.0 * sp * sp
		e2 = min(e2, m)
		s.spread2 += max(t.spreadRate, 1/(s.days+10)) * (e2 - s.spread2)
		s.weekSpread2[w] += max(t.spreadRate, 1/(s.weekDays[w]+10)) * (e2 - s.weekSpread2[w])
	}
}

// movement is the smoothed level of the year, free of calendar and weekday
func movement(cal *Calendar, first Day, logs []float64, eff *effects, half int) []float64 {
	n := len(logs)
	adj := make([]float64, n)
	var week [7][]float64
	for i, v := range logs {
		day := first + Day(i)
		adj[i] = v - eff.of(cal, day)
		sp, _ := cal.at(day)
		if sp >= christmasFirst && sp <= christmasLast {
			adj[i] = math.NaN()
		}
		if !math.IsNaN(adj[i]) {
			w := day.Weekday()
			week[w] = append(week[w], adj[i])
		}
	}
	var prof [7]float64
	for w := range prof {
		prof[w] = median(week[w])
	}
	var sum, cnt []float64
	sum = make([]float64, n+1)
	cnt = make([]float64, n+1)
	for i := range adj {
		sum[i+1], cnt[i+1] = sum[i], cnt[i]
		x := adj[i] - prof[(first+Day(i)).Weekday()]
		if !math.IsNaN(x) {
			x = max(min(x, 0.6), -0.6)
			sum[i+1] += x
			cnt[i+1]++
		}
	}
	out := make([]float64, n)
	last := 0.0
	for i := range out {
		a, b := max(0, i-half), min(n, i+half+1)
		if c := cnt[b] - cnt[a]; c > 0 {
			last = (sum[b] - sum[a]) / c
		}
		out[i] = last
	}
	return out
}

func newFit(cal *Calendar, first Day, logs []float64, t *tuning, pri *Priors, horizon int) *fit {
	f := &fit{t: t, cal: cal, first: first}
	f.eff = learnEffects(cal, first, logs, t, &pri.effects)
	n := len(logs)
	f.year = make([]float64, n+horizon)
	if n >= 392 && t.yearKeep > 0 {
		m := movement(cal, first, logs, &f.eff, t.yearSmooth)
		for i := 365; i < len(f.year); i++ {
			f.year[i] += t.yearKeep * (m[i-364] - m[i-365])
		}
	}
	if t.yearPrior > 0 {
		for i := range f.year {
			f.year[i] += t.yearPrior * (pri.yearAt(first+Day(i)) - pri.yearAt(first+Day(i)-1))
		}
	}
	f.start(logs, pri)
	for i, v := range logs {
		f.learn(i, v)
	}
	return f
}

func (f *fit) start(logs []float64, pri *Priors) {
	s, t := &f.s, f.t
	s.week = pri.week
	var v []float64
	for i := 0; i < min(len(logs), 14); i++ {
		if !math.IsNaN(logs[i]) {
			v = append(v, logs[i]-s.week[(f.first+Day(i)).Weekday()]-f.eff.of(f.cal, f.first+Day(i)))
		}
	}
	if len(v) == 0 {
		for i := 0; i < len(logs); i++ {
			if !math.IsNaN(logs[i]) {
				v = append(v, logs[i])
			}
		}
	}
	s.level = median(v)
	s.days = 5
	s.spread2 = t.spreadStart * t.spreadStart
	for w := range s.weekSpread2 {
		s.weekSpread2[w] = s.spread2
	}
}

// at predicts h days after the last learned day (index n-1): log point and spread
func (f *fit) at(n, h int) (float64, float64) {
	s, t := &f.s, f.t
	day := f.first + Day(n-1+h)
	w := int(day.Weekday())
	p := s.level + s.week[w] + f.eff.of(f.cal, day) + s.fade*math.Pow(t.fadeKeep, float64(h)) + t.bias
	for i := n; i < n+h && i < len(f.year); i++ {
		p += f.year[i]
	}
	if h > 1 {
		p += t.biasFar
	}
	return p, s.spread(w, t)
}

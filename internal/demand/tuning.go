package demand

// tuning holds every number of the method that is not learned from the shop's
// own history. How they were chosen stands in VALIDATION.md.
type tuning struct {
	outage float64 // below this share of the median day the machine was out: teaches nothing

	effectPrior float64 // own occurrences a shipped effect weighs as much as
	monthShare  float64 // share of the month's effects that is believed
	effectWeeks int     // weeks on either side that say what is ordinary

	levelRate    float64 // share of a day's surprise that moves the level for good
	weekdayRate  float64 // ... the weekday's own level
	fadeRate     float64 // ... the passing deviation
	fadeKeep     float64 // share of the passing deviation left the next day
	clip         float64 // a surprise counts up to so many usual spreads
	clipStart    float64
	weekdayCount float64 // days a shipped weekday level weighs as much as

	spreadRate  float64 // learning rate of the usual spread
	spreadOwn   float64 // part of the spread that is the weekday's own
	spreadStart float64 // spread before anything is known, in log units
	widen       float64 // widening of the quantiles beyond one spread

	yearKeep   float64 // share of last year's own movement carried over
	yearPrior  float64 // share of the shipped yearly movement
	yearSmooth int     // days on either side over which last year is smoothed

	quantileShipped float64 // weight of the shipped quantiles beside the own
	bias            float64 // log bias of the point
	biasFar         float64
}

func localTuning() tuning {
	return tuning{
		outage: 0.1, effectPrior: 0.5, monthShare: 1, effectWeeks: 5,
		levelRate: 0.04, weekdayRate: 0.10, fadeRate: 0.2, fadeKeep: 0.8, clip: 1.2, clipStart: 2, weekdayCount: 0.5,
		spreadRate: 0.03, spreadOwn: 0.7, spreadStart: 0.3, widen: 1.08,
		yearKeep: 0.6, yearSmooth: 14, biasFar: 0.01,
	}
}

func shippedTuning() tuning {
	t := localTuning()
	t.effectPrior, t.monthShare, t.fadeRate, t.quantileShipped = 2, 0.8, 0.15, 0.6
	t.weekdayCount = 2
	return t
}

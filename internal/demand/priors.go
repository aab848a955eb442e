package demand

// Priors is what is believed of a machine before its own history speaks.
type Priors struct {
	effects  effects
	weights  [groups]float64 // own days an effect is worth, by group
	weekdays [7]float64      // log level of each weekday, Sunday first
	spread   float64         // usual size of a surprise, in log units
	surprise curve
	ownCurve float64 // share of the own curve once there are enough days

	weekdayWeight float64 // own days a weekday's level is worth
}

// NoPriors believes in ordinary days and normal surprises only, and gives way to
// the shop's own history at once.
func NoPriors() *Priors {
	return &Priors{
		weights:       [groups]float64{groupEaster: 0.3, groupHoliday: 1.75, groupChristmas: 0.3, groupMonth: 14},
		spread:        0.3,
		surprise:      normalCurve(),
		ownCurve:      1,
		weekdayWeight: 0.1,
	}
}

// Shipped is what cash machines of one open data set have in common: 111
// machines in England, 1996 to 1998 (NN5 competition, Monash archive, Zenodo
// record 4656110, CC BY 4.0). Habits differ by country and decade, so own days
// weigh against it from the first.
func Shipped() *Priors {
	return &Priors{
		effects:       shippedEffects,
		weights:       shippedWeights,
		weekdays:      shippedWeekdays,
		spread:        0.2,
		surprise:      shippedSurprise,
		ownCurve:      0.4,
		weekdayWeight: 3,
	}
}

var shippedWeights = [groups]float64{groupEaster: 2, groupHoliday: 6, groupChristmas: 2, groupMonth: 60}

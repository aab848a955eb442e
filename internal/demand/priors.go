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

	alert  float64         // surprises one way that add up to so many spreads are a new level; 0: none
	unsure [groups]float64 // usual size of what a day's class differs by from shop to shop, in log units
	alike  float64         // how much a kind of note learns of what a shop's kinds do on the mean, 0 to 1
	widen  float64         // a load's spread over that of surprises, which are of days the model has seen
	rates  rates
}

// openRates are those of the open data, which are machines with two years behind them.
var openRates = rates{
	level: 0.05, lately: 0.0875, recent: 0.23, short: 0.7, many: 0.8, burst: 0.6, doubt: 1.2,
	start: 4, curveDays: 40,
	spread: 0.05, spreadDays: 10, spreadOwn: 0.6, spreadLargest: 2.5,
}

// youngRates are those of a shop that has hardly begun.
var youngRates = rates{
	level: 0.03, lately: 0.05, recent: 0.04, many: 0.5, doubt: 1.5, start: 7, curveDays: 400, young: true,
	spread: 0.02, spreadDays: 6, spreadOwn: 0.1, spreadLargest: 2.2,
}

// NoPriors believes in ordinary days and normal surprises only, and gives way to
// the shop's own history at once.
func NoPriors() *Priors {
	return &Priors{
		weights: [groups]float64{
			groupEaster: 0.3, groupHoliday: 1.75, groupChristmas: 0.3, groupMonth: 14, groupPayday: 14,
		},
		spread:        0.3,
		surprise:      normalCurve(),
		ownCurve:      1,
		weekdayWeight: 0.1,
		widen:         1.12,
		rates:         openRates,
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
		unsure:        [groups]float64{0.15, 0.15, 0.15, 0.15, 0.15},
		alike:         0.5,
		widen:         1.05,
		rates:         openRates,
	}
}

// Abroad is Shipped for a shop of another country than the table's: its weekdays and
// months are hardly believed, the shop's own count from the first, a new level is seen
// within days, and a day of a class that the shop has hardly had is uncertain. The
// numbers are chosen in the closed loop of the tests, on seeds that are not reported.
func Abroad() *Priors {
	p := Shipped()
	for w := range p.weekdays {
		p.weekdays[w] *= abroadShare
	}
	for k := monthFirst; k <= monthLast; k++ {
		p.effects[k] *= abroadMonth
	}
	p.weights[groupMonth], p.weights[groupPayday], p.weekdayWeight, p.spread = 8, 0.7, 0.3, 0.2
	p.unsure = [groups]float64{0.17, 0.17, 0.17, abroadMonthUnsure, 0.2}
	p.alert, p.alike, p.widen, p.rates = 4.5, 0.7, 1.035, youngRates
	return p
}

// How much of the shipped weekdays, and of the first and last days of a month, is believed abroad.
const abroadShare, abroadMonth = 0.3, 0.15

// abroadMonthUnsure is about the size of the shipped first and last days of a month.
const abroadMonthUnsure = 0.07

var shippedWeights = [groups]float64{
	groupEaster: 2, groupHoliday: 6, groupChristmas: 2, groupMonth: 60, groupPayday: 60,
}

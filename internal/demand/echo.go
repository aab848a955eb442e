package demand

// Numbers of the echo; VALIDATION.md says how they were chosen.
const (
	echoShare = 0.1 // what a surprise says of the same weekday a year later
	echoWorth = 400 // days that this is worth beside what a shop's own say
	echoMost  = 1.5 // spreads up to which a surprise counts
)

// echo is what the surprises of the same days a year ago say: a school's holidays, a fair and
// a match come again, and are in no calendar.
type echo struct {
	spreads []float64 // surprises by day of history; 0 where there was none
	product sample    // of surprises a year apart, over the earlier one's square
}

// learn takes the surprise of a day of the history, in spreads.
func (e *echo) learn(i int, spreads float64) {
	spreads = min(max(spreads, -echoMost), echoMost)
	e.spreads[i] = spreads
	if i >= yearDays {
		before := e.spreads[i-yearDays]
		e.product.sum += before * spreads
		e.product.count += before * before
	}
}

// of is the surprise to be expected of a day of the history or after it, in spreads.
func (e *echo) of(i int) float64 {
	if i < yearDays || len(e.spreads) < yearDays+yearMargin {
		return 0
	}
	share := (e.product.sum + echoShare*echoWorth) / (e.product.count + echoWorth)
	return share * e.spreads[i-yearDays]
}

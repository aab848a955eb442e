package demand

// This table is written by TestShippedTable from the open data named at Shipped.

// shippedEffects are log factors: 0.10 is about +10 %.
var shippedEffects = effects{
	easterFirst + 0:     0.20,
	easterFirst + 1:     0.42,
	easterFirst + 2:     -0.22,
	easterFirst + 3:     0.08,
	easterFirst + 4:     -0.03,
	easterFirst + 5:     -0.20,
	easterFirst + 6:     0.32,
	holidayBefore:       0.04,
	publicHoliday:       -0.08,
	holidayAfter:        0.23,
	christmasFirst + 0:  0.16,
	christmasFirst + 1:  0.10,
	christmasFirst + 2:  0.17,
	christmasFirst + 3:  0.23,
	christmasFirst + 4:  0.23,
	christmasFirst + 5:  0.23,
	christmasFirst + 6:  0.19,
	christmasFirst + 7:  0.45,
	christmasFirst + 8:  0.73,
	christmasFirst + 9:  0.89,
	christmasFirst + 10: -1.21,
	christmasFirst + 11: -1.51,
	christmasFirst + 12: -0.52,
	christmasFirst + 13: -0.36,
	christmasFirst + 14: 0.03,
	christmasFirst + 15: 0.29,
	christmasFirst + 16: 0.57,
	christmasFirst + 17: -0.80,
	christmasFirst + 18: -0.26,
	christmasFirst + 19: -0.37,
	christmasFirst + 20: -0.29,
	christmasFirst + 21: -0.11,
	christmasFirst + 22: -0.07,
	monthFirst + 0:      0.09,
	monthFirst + 1:      0.10,
	monthFirst + 2:      0.04,
	monthFirst + 3:      0.02,
	monthLast - 3:       0.05,
	monthLast - 2:       0.06,
	monthLast - 1:       0.06,
	monthLast - 0:       0.09,
	payday:              0.12,
	paydayFriday:        0.07,
	paydayAfter:         0.05,
}

// shippedWeekdays are log levels beside the mean of the week, Sunday first.
var shippedWeekdays = [7]float64{-0.34, -0.21, -0.28, -0.17, 0.12, 0.48, 0.39}

// shippedSurprise are quantiles of a day's surprise, in spreads, at the curve's shares.
var shippedSurprise = curve{
	-6.11, -3.80, -1.89, -1.20, -0.69, -0.41, -0.19, 0.01, 0.20, 0.41, 0.66, 1.03, 1.41, 1.99, 2.62,
}

package demand_test

import (
	"testing"

	"shopfloat/internal/demand"
)

// NIST/SEMATECH e-Handbook 6.4.3.1: eleven smoothed values and their mean squared
// error of 19.0, with rate 0.1. The error printed there for rate 0.5 is a misprint.
func TestSingleSmoothing(t *testing.T) {
	rows := checkValues(t, "nist_smoothing_6_4_3_1.csv")
	level := demand.Trend{Level: number(t, rows[0]["y"])}
	squared := 0.0
	for i, row := range rows[1:] {
		y := number(t, row["y"])
		near(t, "smoothed value of period "+row["t"], level.Next(1), number(t, row["s_alpha_0_1"]), 0.005001)
		squared += (y - level.Next(1)) * (y - level.Next(1))
		if i < len(rows)-2 {
			level = level.Step(y, 0.1, 0, 1)
		}
	}
	near(t, "mean squared error", squared/float64(len(rows)-1), 19.0, 0.05)

	// 6.4.3.2: beyond the end the last value, 70, is held.
	for _, row := range checkValues(t, "nist_smoothing_6_4_3_2_forecast.csv") {
		level = level.Step(70, 0.1, 0, 1)
		near(t, "forecast of period "+row["period"], level.Next(1), number(t, row["forecast"]), 0.005001)
	}
}

// NIST/SEMATECH e-Handbook 6.4.3.4: level and trend, alpha 0.3623, gamma 1, first level
// 6.4, first slope 0.8. Its two printed mean squared errors are misprints.
func TestDoubleSmoothing(t *testing.T) {
	const tenth = 0.05001 // the handbook prints one decimal
	rows := checkValues(t, "nist_double_smoothing_6_4_3_4.csv")
	trend := demand.Trend{Level: number(t, rows[0]["level"]), Slope: 0.8}
	last := trend
	for i, row := range rows[1:] {
		if row["y"] == "" { // beyond the data: the last level and slope carried on
			steps := i + 2 - 10
			ahead := last.Level + last.Ahead(steps, 1)
			near(t, "forecast of period "+row["period"], ahead, number(t, row["forecast"]), tenth)
			continue
		}
		near(t, "forecast of period "+row["period"], trend.Next(1), number(t, row["forecast"]), tenth)
		trend = trend.Step(number(t, row["y"]), 0.3623, 1, 1)
		near(t, "level of period "+row["period"], trend.Level, number(t, row["level"]), tenth)
		last = trend
	}
}

func TestDampedTrendDiesOut(t *testing.T) {
	trend := demand.Trend{Level: 100, Slope: 10}
	near(t, "growth over 1 step", trend.Ahead(1, 0.5), 5, 1e-12)
	near(t, "growth over many steps", trend.Ahead(60, 0.5), 10, 1e-9)
	near(t, "no growth over no step", trend.Ahead(0, 0.5), 0, 0)
}

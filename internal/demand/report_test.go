package demand_test

import (
	"math"
	"testing"

	"shopfloat/internal/demand"
	"shopfloat/internal/wide"
)

// origins of the five windows that share no day, and of all windows on which
// the numbers of the method were chosen.
func origins() (five, chosen []int) {
	chosen = []int{343, 371}
	for o := 399; o <= 679; o += 28 {
		chosen = append(chosen, o)
	}
	return []int{455, 511, 567, 623, 679}, chosen
}

// pools makes priors from the days before an origin: of all series, or of those with
// the other parity so that no series learns from itself.
type pools struct {
	table    wide.Table
	calendar *demand.Calendar
	made     map[[2]int]*demand.Priors
}

func (p *pools) before(t *testing.T, origin, parity int) *demand.Priors {
	key := [2]int{origin, parity}
	if p.made[key] == nil {
		var histories []demand.History
		for i, series := range p.table.Series {
			if parity < 0 || i%2 != parity {
				histories = append(histories, historyOf(p.table.First, series.Values[:origin]))
			}
		}
		priors, err := demand.PoolPriors(histories, p.calendar)
		if err != nil {
			t.Fatal(err)
		}
		p.made[key] = priors
	}
	return p.made[key]
}

// The tables of VALIDATION.md: run with -v and read the log. It takes some minutes.
func TestValidation(t *testing.T) {
	table, calendar := openData(t)
	pool := &pools{table, calendar, map[[2]int]*demand.Priors{}}
	habits := func(name string, follow habit) method {
		return method{name, func(i, _ int) forecaster { return newHabitual(follow, table.Series[i].Values) }}
	}
	model := func(name string, days int, priors func(series, origin int) *demand.Priors) method {
		return method{name, func(i, origin int) forecaster {
			options := demand.Options{Calendar: calendar, Priors: priors(i, origin)}
			return &advised{history: historyOf(table.First, table.Series[i].Values), options: options, days: days}
		}}
	}
	none := func(int, int) *demand.Priors { return demand.NoPriors() }
	all := func(_, origin int) *demand.Priors { return pool.before(t, origin, -1) }
	others := func(i, origin int) *demand.Priors { return pool.before(t, origin, i%2) }
	five, chosen := origins()
	results := compare(t, table, five, []method{
		habits("weekly naive", lastWeek),
		habits("weekday median, 8 weeks", medianOf8),
		habits("exponential smoothing by weekday", smoothed),
		model("**priors none**", 0, none),
		model("**priors of all machines**", 0, all),
		model("**priors of the other half of the machines**", 0, others),
	})
	holdTo(t, results)
	compare(t, table, chosen, []method{model("priors none", 0, none), model("priors of all machines", 0, all)})
	for _, days := range []int{14, 28, 56, 112, 182, 364} {
		t.Log("days of own history:", days)
		compare(t, table, five, []method{
			model("priors none", days, none), model("priors of the other half", days, others),
		})
	}
}

// holdTo are guard rails: the table of VALIDATION.md may not get worse unnoticed.
func holdTo(t *testing.T, results []result) {
	t.Helper()
	near(t, "SMAPE of the weekday median: is the measure the same?", results[1].far.smape, 22.94, 0.01)
	for i, most := range map[int]struct{ far, near, pinball float64 }{
		3: {18.85, 17.75, 2.7}, 4: {18.3, 17.2, 2.5}, 5: {18.3, 17.2, 2.5},
	} {
		got := results[i]
		if got.far.smape > most.far || got.near.smape > most.near || got.near.pinball[2] > most.pinball {
			t.Errorf("row %d: SMAPE %.2f and %.2f, pinball %.2f: worse than %+v", i, got.far.smape, got.near.smape,
				got.near.pinball[2], most)
		}
		near(t, "stock-outs at 0.95, percent", got.near.out[2], 5.25, 1.25)
	}
}

// The load for several days at once is enough about as often as it says.
func TestTotalCoverage(t *testing.T) {
	table, calendar := openData(t)
	options := demand.Options{Calendar: calendar, Priors: demand.Shipped()}
	days := []int{1, 2, 3, 4, 7, 14}
	out, count := make([]float64, len(days)), make([]float64, len(days))
	for origin := 399; origin+days[len(days)-1] < table.Days; origin += 5 {
		for i := 0; i < len(table.Series); i += 3 {
			values := table.Series[i].Values
			m := mustFit(t, historyOf(table.First, values[:origin]), options)
			for k, n := range days {
				total, err := m.Total(1, n)
				if err != nil {
					t.Fatal(err)
				}
				actual := 0.0
				for _, v := range values[origin : origin+n] {
					actual += v
				}
				switch {
				case math.IsNaN(actual):
				case actual > mustQuantile(t, total, 0.95):
					out[k]++
					fallthrough
				default:
					count[k]++
				}
			}
		}
	}
	for k, n := range days {
		t.Logf("%d days: out %.1f %%", n, 100*out[k]/count[k])
		near(t, "stock-outs at 0.95, percent", 100*out[k]/count[k], 5.25, 1.25)
	}
}

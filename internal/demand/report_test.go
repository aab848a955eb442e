package demand_test

import (
	"testing"

	"shopfloat/internal/demand"
	"shopfloat/internal/demand/wide"
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
	compare(t, table, five, []method{
		habits("weekly naive", lastWeek),
		habits("weekday median, 8 weeks", medianOf8),
		habits("exponential smoothing by weekday", smoothed),
		model("**priors none**", 0, none),
		model("**priors of all machines**", 0, all),
		model("**priors of the other half of the machines**", 0, others),
	})
	compare(t, table, chosen, []method{model("priors none", 0, none), model("priors of all machines", 0, all)})
	for _, days := range []int{14, 28, 56, 112, 182, 364} {
		t.Log("days of own history:", days)
		compare(t, table, five, []method{
			model("priors none", days, none), model("priors of the other half", days, others),
		})
	}
}

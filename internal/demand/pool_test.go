package demand

import (
	"bytes"
	"fmt"
	"go/format"
	"slices"
	"strings"
)

// PoolPriors learns what several machines have in common: the way the shipped
// priors were made, and the way validation makes them from earlier days only.
func PoolPriors(histories []History, c *Calendar) (*Priors, error) {
	pooled := Shipped()
	var total [classes]sample
	var weekdays [7]sample
	var curves []curve
	for _, h := range histories {
		values, err := newLogs(h, median(fullNotes(h)))
		if err != nil {
			return nil, err
		}
		learned := learnEffects(c, []*logs{values}, NoPriors())[0]
		for k, own := range ownEffects(c, values, &learned) {
			total[k].sum += own.sum
			total[k].count += own.count
		}
		m, err := Fit(h, Options{Calendar: c})
		if err != nil {
			return nil, err
		}
		centre := 0.0
		for _, w := range m.evening.weekdays {
			centre += (w.usual + w.lately) / 7
		}
		for i, w := range m.evening.weekdays {
			weekdays[i].sum += w.usual + w.lately - centre
			weekdays[i].count++
		}
		curves = append(curves, curveOf(m.replayed(values, c)))
	}
	pooled.effects = effects{}
	for k := 1; k < classes; k++ {
		pooled.effects[k] = total[k].sum / max(total[k].count, 1)
	}
	for i, w := range weekdays {
		pooled.weekdays[i] = w.sum / w.count
	}
	for i := range pooled.surprise {
		pooled.surprise[i] = 0
		for _, c := range curves {
			pooled.surprise[i] += c[i] / float64(len(curves))
		}
	}
	return pooled, nil
}

func (m *Model) replayed(values *logs, c *Calendar) []float64 {
	again := *m
	k := &learner{Model: &again, logs: values}
	learnTogether([]*learner{k}, Options{Calendar: c, Priors: NoPriors()})
	return slices.Clone(k.residuals)
}

// PriorsSource writes pooled priors as shipped.go.
func PriorsSource(p *Priors) ([]byte, error) {
	var b bytes.Buffer
	b.WriteString(shippedHead)
	b.WriteString("var shippedEffects = effects{\n")
	for k := 1; k < classes; k++ {
		fmt.Fprintf(&b, "%s: %.2f,\n", className(class(k)), p.effects[k])
	}
	b.WriteString("}\n\n// shippedWeekdays are log levels beside the mean of the week, Sunday first.\n")
	fmt.Fprintf(&b, "var shippedWeekdays = [7]float64{%s}\n\n", numbers(p.weekdays[:]))
	b.WriteString("// shippedSurprise are quantiles of a day's surprise, in spreads, at the curve's shares.\n")
	fmt.Fprintf(&b, "var shippedSurprise = curve{\n%s,\n}\n", numbers(p.surprise[:]))
	return format.Source(b.Bytes())
}

const shippedHead = `package demand

// This table is written by TestShippedTable from the open data named at Shipped.

// shippedEffects are log factors: 0.10 is about +10 %.
`

func numbers(values []float64) string {
	var fields []string
	for _, v := range values {
		fields = append(fields, fmt.Sprintf("%.2f", v))
	}
	return strings.Join(fields, ", ")
}

func className(k class) string {
	names := map[class]string{
		holidayBefore: "holidayBefore", publicHoliday: "publicHoliday", holidayAfter: "holidayAfter",
		payday: "payday", paydayFriday: "paydayFriday", paydayAfter: "paydayAfter",
	}
	switch {
	case names[k] != "":
		return names[k]
	case k.easter():
		return fmt.Sprintf("easterFirst + %d", k-easterFirst)
	case k.christmas():
		return fmt.Sprintf("christmasFirst + %d", k-christmasFirst)
	case k < monthFirst+monthDays:
		return fmt.Sprintf("monthFirst + %d", k-monthFirst)
	}
	return fmt.Sprintf("monthLast - %d", monthLast-k)
}

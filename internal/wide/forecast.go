package wide

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"shopfloat/internal/advice"
	"shopfloat/internal/demand"
	"shopfloat/internal/holidays"
)

// Wish says what to forecast of a table. Its errors name the flags of the command
// that takes it.
type Wish struct {
	Days       int       // ahead of the last date, 1 to [demand.AheadMax]
	From       string    // instead: each date from this one on, one day ahead
	Quantiles  []float64 // shares of days, each above 0 and below 1
	Shipped    bool      // lean on shipped habits
	LabelShift int       // the true day is the label plus so many days
	Country    string    // of the public holidays, two letters; empty: none
}

// Row is one line of what was forecast. There are no figures where the series
// has none before that day.
type Row struct {
	series  string
	day     demand.Day // as labelled in the table
	figures []float64  // mean, then the quantiles
}

// Rows forecasts every series of a table on its own, a row for each of its days.
func (c *Wish) Rows(table Table) ([]Row, error) {
	origins, ahead, err := c.span(table)
	if err != nil {
		return nil, err
	}
	options, err := c.options(table)
	if err != nil {
		return nil, err
	}
	var rows []Row
	for _, series := range table.Series {
		for _, known := range origins {
			history := observed(table.First+demand.Day(c.LabelShift), series.Values[:known])
			forecasts, err := c.figures(history, ahead, options)
			if err != nil {
				return nil, fmt.Errorf("series %s: %w", series.Name, err)
			}
			for i, figures := range forecasts {
				rows = append(rows, Row{series.Name, table.First + demand.Day(known+i), figures})
			}
		}
	}
	return rows, nil
}

// span says from how many known days to forecast, and how far.
func (c *Wish) span(table Table) (origins []int, ahead int, err error) {
	if c.From == "" {
		if c.Days < 1 || c.Days > demand.AheadMax {
			return nil, 0, fmt.Errorf("--days %d: want 1 to %d", c.Days, demand.AheadMax)
		}
		return []int{table.Days}, c.Days, nil
	}
	from, err := demand.ParseDay(c.From)
	if err != nil {
		return nil, 0, fmt.Errorf("--from: %w", err)
	}
	if from <= table.First || from > table.Last()+1 {
		return nil, 0, fmt.Errorf("--from %s: want %s to %s, so that earlier days are known",
			from, table.First+1, table.Last()+1)
	}
	for day := from; day <= max(table.Last(), from); day++ {
		origins = append(origins, int(day-table.First))
	}
	return origins, 1, nil
}

func (c *Wish) options(table Table) (demand.Options, error) {
	options := demand.Options{}
	if c.Shipped {
		options.Priors = demand.Shipped()
	}
	const shiftMax = 366
	if c.LabelShift < -shiftMax || c.LabelShift > shiftMax {
		return options, fmt.Errorf("--label-shift %d: want -%d to %d", c.LabelShift, shiftMax, shiftMax)
	}
	first := table.First + demand.Day(c.LabelShift)
	last := table.Last() + demand.Day(c.LabelShift) + demand.AheadMax
	firstYear, _, _ := first.Date()
	lastYear, _, _ := last.Date()
	country := strings.ToUpper(c.Country)
	if country != "" && !holidays.Known(country) {
		return options, fmt.Errorf("--country: no public holidays known for country %q", c.Country)
	}
	options.Calendar = demand.NewCalendar(first, last, advice.Holidays(country, firstYear-1, lastYear+1))
	return options, nil
}

func observed(first demand.Day, values []float64) demand.History {
	history := demand.History{First: first, Days: make([]demand.Observed, len(values))}
	for i, v := range values {
		if !math.IsNaN(v) {
			history.Days[i] = demand.Observed{Notes: v, Known: demand.Full}
		}
	}
	return history
}

// figures of each day ahead, empty where there is nothing to go by.
func (c *Wish) figures(h demand.History, ahead int, o demand.Options) ([][]float64, error) {
	out := make([][]float64, ahead)
	model, err := demand.Fit(h, o)
	if errors.Is(err, demand.ErrNoHistory) {
		return out, nil
	}
	if err != nil {
		return nil, err
	}
	for i := range out {
		forecast, err := model.Ahead(i + 1)
		if err != nil {
			return nil, err
		}
		out[i] = append(out[i], forecast.Mean)
		for _, p := range c.Quantiles {
			notes, err := forecast.Quantile(p)
			if err != nil {
				return nil, err
			}
			out[i] = append(out[i], notes)
		}
	}
	return out, nil
}

// WriteRows writes rows as a table: series, date, mean, and a column a quantile.
func WriteRows(to io.Writer, quantiles []float64, rows []Row) error {
	out := csv.NewWriter(to)
	header := []string{"series", "date", "mean"}
	for _, p := range quantiles {
		header = append(header, "q"+strconv.FormatFloat(p, 'f', -1, 64))
	}
	if err := out.Write(header); err != nil {
		return err
	}
	for _, row := range rows {
		fields := make([]string, len(header))
		fields[0], fields[1] = row.series, row.day.String()
		for i, v := range row.figures {
			fields[2+i] = strconv.FormatFloat(v, 'f', 4, 64)
		}
		if err := out.Write(fields); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// Shares is a list of numbers with commas between.
type Shares []float64

// UnmarshalText adds the shares of one list; the flag may stand more than once.
func (s *Shares) UnmarshalText(text []byte) error {
	for field := range strings.SplitSeq(string(text), ",") {
		p, err := strconv.ParseFloat(strings.TrimSpace(field), 64)
		if err != nil {
			return fmt.Errorf("want numbers with commas between, got %q", field)
		}
		*s = append(*s, p)
	}
	return nil
}

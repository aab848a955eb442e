package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"
	"strings"

	"shopfloat/internal/advice"
	"shopfloat/internal/demand"
	"shopfloat/internal/demand/wide"
	"shopfloat/internal/holidays"
)

// forecastCmd forecasts every series of a table on its own.
type forecastCmd struct {
	In         string `arg:"required" placeholder:"FILE" help:"Table date,series: a row a day."`
	Days       int    `placeholder:"H" help:"Forecast so many days (1 to 56) after the last date."`
	From       string `placeholder:"DATE" help:"Instead: each date from DATE on, one day ahead."`
	Quantiles  shares `default:"0.5,0.9,0.95,0.98" placeholder:"LIST" help:"Shares of days on which so much is enough."`
	Priors     string `default:"shipped" help:"Lean on shipped habits, or nothing: shipped, none."`
	LabelShift int    `arg:"--label-shift" placeholder:"N" help:"The true day is label plus N; for the calendar only."`
	Country    string `default:"GB" help:"Country of the public holidays, two letters; empty: none."`
}

// shares is a list of numbers with commas between.
type shares []float64

// UnmarshalText adds the shares of one list; the flag may stand more than once.
func (s *shares) UnmarshalText(text []byte) error {
	for field := range strings.SplitSeq(string(text), ",") {
		p, err := strconv.ParseFloat(strings.TrimSpace(field), 64)
		if err != nil {
			return fmt.Errorf("want numbers with commas between, got %q", field)
		}
		*s = append(*s, p)
	}
	return nil
}

// Run writes the forecasts to stdout. Unusable input is a misuse.
func (c *forecastCmd) Run(e *env) error {
	for _, p := range c.Quantiles {
		if !(p > 0 && p < 1) {
			return misuse(fmt.Errorf("--quantiles %v: want more than 0 and less than 1", p))
		}
	}
	if c.Priors != "none" && c.Priors != "shipped" {
		return misuse(fmt.Errorf("--priors %s: want none or shipped", c.Priors))
	}
	table, err := c.table()
	if err != nil {
		return misuse(err)
	}
	rows, err := c.rows(table)
	if err != nil {
		return misuse(err)
	}
	return writeForecasts(e.stdout, c.Quantiles, rows)
}

func (c *forecastCmd) table() (wide.Table, error) {
	file, err := os.Open(c.In)
	if err != nil {
		return wide.Table{}, err
	}
	defer func() { _ = file.Close() }()
	table, err := wide.Read(file)
	if err != nil {
		return wide.Table{}, fmt.Errorf("%s: %w", c.In, err)
	}
	return table, nil
}

// forecastRow is one line of the answer. There are no figures where the series
// has none before that day.
type forecastRow struct {
	series  string
	day     demand.Day // as labelled in the table
	figures []float64  // mean, then the quantiles
}

func (c *forecastCmd) rows(table wide.Table) ([]forecastRow, error) {
	origins, ahead, err := c.span(table)
	if err != nil {
		return nil, err
	}
	options, err := c.options(table)
	if err != nil {
		return nil, err
	}
	var rows []forecastRow
	for _, series := range table.Series {
		for _, known := range origins {
			history := observed(table.First+demand.Day(c.LabelShift), series.Values[:known])
			forecasts, err := c.figures(history, ahead, options)
			if err != nil {
				return nil, fmt.Errorf("series %s: %w", series.Name, err)
			}
			for i, figures := range forecasts {
				rows = append(rows, forecastRow{series.Name, table.First + demand.Day(known+i), figures})
			}
		}
	}
	return rows, nil
}

// span says from how many known days to forecast, and how far.
func (c *forecastCmd) span(table wide.Table) (origins []int, ahead int, err error) {
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

func (c *forecastCmd) options(table wide.Table) (demand.Options, error) {
	options := demand.Options{}
	if c.Priors == "shipped" {
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
func (c *forecastCmd) figures(h demand.History, ahead int, o demand.Options) ([][]float64, error) {
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

func writeForecasts(to io.Writer, quantiles []float64, rows []forecastRow) error {
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

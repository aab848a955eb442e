package main

import (
	"fmt"
	"os"

	"shopfloat/internal/wide"
)

// forecastCmd forecasts every series of a table on its own.
type forecastCmd struct {
	In         string      `arg:"required" placeholder:"FILE" help:"Table date,series: a row a day."`
	Days       int         `placeholder:"H" help:"Forecast so many days (1 to 56) after the last date."`
	From       string      `placeholder:"DATE" help:"Instead: each date from DATE on, one day ahead."`
	Quantiles  wide.Shares `default:"0.5,0.9,0.95,0.98" placeholder:"LIST" help:"Shares of days on which so much is enough."`
	Priors     string      `default:"shipped" help:"Lean on shipped habits, or nothing: shipped, none."`
	LabelShift int         `arg:"--label-shift" placeholder:"N" help:"The true day is label plus N; for the calendar only."`
	Country    string      `default:"GB" help:"Country of the public holidays, two letters; empty: none."`
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
	wish := wide.Wish{Days: c.Days, From: c.From, Quantiles: c.Quantiles, Shipped: c.Priors == "shipped",
		LabelShift: c.LabelShift, Country: c.Country}
	rows, err := wish.Rows(table)
	if err != nil {
		return misuse(err)
	}
	return wide.WriteRows(e.stdout, c.Quantiles, rows)
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

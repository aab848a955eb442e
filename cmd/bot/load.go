package main

import (
	"errors"
	"fmt"
	"os"
	"text/tabwriter"

	"shopfloat/internal/advice"
	"shopfloat/internal/chart"
	"shopfloat/internal/counsel"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// loadCmd advises how much to load.
type loadCmd struct {
	DB   string `arg:"env:SHOPFLOAT_DB" default:"shopfloat.db" placeholder:"FILE" help:"The file; a bot may use it."`
	On   string `placeholder:"DATE" help:"The day to load for; else the one after the last closed day."`
	Shop int64  `default:"1" placeholder:"NUMBER" help:"Which shop; they are numbered from 1."`
	PNG  string `placeholder:"FILE" help:"Also draw the advice."`
}

// Run prints the advice for every machine.
func (c *loadCmd) Run(e *env) error {
	if c.On != "" {
		if _, err := shop.ParseDate(c.On); err != nil {
			return misuse(fmt.Errorf("--on: %w", err))
		}
	}
	l, err := openLedgers(e, c.DB, c.Shop)
	if err != nil {
		return err
	}
	defer func() { _ = l.reader.Close() }()
	catalogue, err := texts.Load()
	if err != nil {
		return err
	}
	unknown := true
	w := tabwriter.NewWriter(e.stdout, 0, 0, 2, ' ', tabwriter.AlignRight)
	for i := range l.shop.Machines {
		kit := &l.shop.Machines[i]
		_, a, err := l.advice(e, kit, shop.Date(c.On))
		if err != nil {
			return err
		}
		unknown = unknown && a.KnownDays == 0
		_, err = fmt.Fprintf(w, "%s %s\tload\texpected\tenough on %.0f of 100 days\tdays known\t\n",
			kit.Name, a.From, 100*a.Share)
		for _, line := range a.Lines {
			_, bad := fmt.Fprintf(w, "%ss\t%d\t%.0f\t%d %s\t%d\t\n",
				line.Face, line.Notes, line.Forecast.Mean, line.Enough, line.Cut, line.Forecast.KnownDays)
			err = errors.Join(err, bad)
		}
		if err != nil {
			return err
		}
	}
	if err := w.Flush(); err != nil {
		return err
	}
	if unknown {
		_, err := fmt.Fprintln(
			e.stdout,
			catalogue.In("en", l.shop.Country, l.shop.Currency).Say("load.nothing-known"),
		)
		return err // nothing to draw
	}
	if c.PNG == "" {
		return nil
	}
	return l.picture(e, shop.Date(c.On), c.PNG)
}

// advice is for one machine and day; no date: the day after its past.
func (l *ledgers) advice(e *env, kit *shop.Machine, on shop.Date) (*advice.Outlook, advice.Advice, error) {
	past, err := l.past(e, kit)
	if err != nil {
		return nil, advice.Advice{}, err
	}
	if on == "" {
		if on = past.Next(); on == "" {
			return nil, advice.Advice{}, errors.New(
				"nothing is known of this shop, no closed day yet; say --on DATE for a first guess",
			)
		}
		if reminders.On(l.shop, on).Closed != reminders.Trading {
			on = reminders.After(l.shop, on)
		}
	}
	o, err := advice.NewOutlook(l.shop, kit, past, on)
	if err != nil {
		return nil, advice.Advice{}, err
	}
	a, err := o.For(advice.Until(l.shop, on), nil)
	return o, a, err
}

// picture draws the advice for every machine, the first one's into the file named,
// others into one with their number added.
func (l *ledgers) picture(e *env, on shop.Date, file string) error {
	catalogue, err := texts.Load()
	if err != nil {
		return err
	}
	voice := catalogue.In("en", l.shop.Country, l.shop.Currency)
	for i := range l.shop.Machines {
		o, a, err := l.advice(e, &l.shop.Machines[i], on)
		if err != nil {
			return err
		}
		data, err := chart.Drawn(counsel.DrawAdvice(voice, l.shop.Name, o, a))
		if err != nil {
			return err
		}
		name := file
		if i > 0 {
			name = fmt.Sprintf("%s.%d.png", file, i+1)
		}
		if err := os.WriteFile(name, data, 0o600); err != nil {
			return err
		}
	}
	return nil
}

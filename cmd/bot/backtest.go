package main

import (
	"errors"
	"fmt"
	"io"
	"text/tabwriter"

	"shopfloat/internal/advice"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// backtestCmd looks back at a shop's own past.
type backtestCmd struct {
	DB   string `arg:"env:SHOPFLOAT_DB" default:"shopfloat.db" placeholder:"FILE" help:"The file; a bot may use it."`
	Days int    `default:"365" placeholder:"N" help:"Look back over at most so many days."`
	Shop int64  `default:"1" placeholder:"NUMBER" help:"Which shop; they are numbered from 1."`
	PNG  string `placeholder:"FILE" help:"Also draw the advice for the next day."`
}

// Run prints, for every machine and kind of note, how three ways of loading did.
func (c *backtestCmd) Run(e *env) error {
	if c.Days < 1 {
		return misuse(fmt.Errorf("--days %d: want 1 or more", c.Days))
	}
	l, err := openLedgers(e, c.DB, c.Shop)
	if err != nil {
		return err
	}
	defer func() { _ = l.reader.Close() }()
	for i := range l.shop.Machines {
		kit := &l.shop.Machines[i]
		past, err := l.past(e, kit)
		if err != nil {
			return err
		}
		list, err := advice.Backtest(l.shop, kit, past, c.Days)
		if err != nil {
			return err
		}
		if err := printTested(e.stdout, kit.Name, list); err != nil {
			return err
		}
	}
	if c.PNG == "" {
		return nil
	}
	return l.picture(e, "", c.PNG)
}

// printTested writes one machine's table.
func printTested(to io.Writer, name string, list []advice.Tested) error {
	w := tabwriter.NewWriter(to, 0, 0, 2, ' ', tabwriter.AlignRight)
	_, err := fmt.Fprintf(
		w,
		"%s: as advised the evening before, as loaded, and as paid out that weekday a week before\n",
		name,
	)
	errs := []error{err}
	for _, t := range list {
		if t.From == 0 {
			_, err := fmt.Fprintf(w, "%ss: too early, three weeks of closed days are needed\n", t.Face)
			errs = append(errs, err)
			continue
		}
		const head = "%ss %s to %s\tdays\tran out\tnot known\tleft over a day\t\n"
		_, err := fmt.Fprintf(w, head, t.Face, t.From, t.To)
		errs = append(errs, err)
		for _, way := range []struct {
			name string
			advice.Tally
		}{{"as advised", t.Advised}, {"as loaded", t.Loaded}, {"as last week", t.Weekly}} {
			_, err := fmt.Fprintf(w, "%s\t%d\t%d\t%d\t%d\t\n", way.name, way.Days, way.RanOut, way.Open, way.Left())
			errs = append(errs, err)
		}
	}
	return errors.Join(append(errs, w.Flush())...)
}

// ledgers is a file opened to look at one shop's machines.
type ledgers struct {
	reader *store.Reader
	shop   *shop.Shop
}

func openLedgers(e *env, file string, id int64) (*ledgers, error) {
	r, err := store.OpenReader(e.ctx, file)
	if err != nil {
		return nil, misuse(err)
	}
	l := &ledgers{reader: r}
	err = r.Shops(e.ctx, func(s *shop.Shop) error {
		if int64(s.ID) == id {
			l.shop = s
		}
		return nil
	})
	if err == nil && l.shop == nil {
		err = misuse(fmt.Errorf("there is no shop %d in %s", id, file))
	}
	if err != nil {
		_ = r.Close()
		return nil, err
	}
	return l, nil
}

func (l *ledgers) past(e *env, kit *shop.Machine) (*advice.Past, error) {
	entries, err := l.reader.Entries(e.ctx, kit.ID)
	if err != nil {
		return nil, err
	}
	return advice.Learn(l.shop, kit.ID, entries)
}

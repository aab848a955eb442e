package main

import (
	"errors"
	"fmt"
	"time"

	"shopfloat/internal/proving"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// verifyCmd proves the books from the first entry, beside a bot that runs.
type verifyCmd struct {
	DB    string `arg:"env:SHOPFLOAT_DB" default:"shopfloat.db" placeholder:"FILE" help:"The file to check."`
	Since string `placeholder:"DAY" help:"Look only at records from this day on, like 2026-11-25: faster."`
	Word  string `placeholder:"WORD" help:"A check word from an owner's note: it must be that of some entry."`
}

// Run prints one line a machine. A fault is named in it; then the exit code is
// 1. A line of its own names each photo that is not here and is no fault.
func (c *verifyCmd) Run(e *env) error {
	r, err := store.OpenReader(e.ctx, c.DB)
	if err != nil {
		return misuse(err)
	}
	defer func() { _ = r.Close() }()
	since, err := c.from()
	if err != nil {
		return misuse(err)
	}
	reports, err := r.VerifySince(e.ctx, since)
	if err != nil {
		return err
	}
	broken, err := proving.Write(e.stdout, reports)
	if err != nil {
		return err
	}
	var faults []error
	if broken > 0 {
		faults = append(faults,
			fmt.Errorf("%d of %d machines have records that do not hold together", broken, len(reports)))
	}
	unplanned, err := r.Unplanned(e.ctx)
	if err != nil {
		return err
	}
	for _, m := range unplanned {
		faults = append(faults, m.Fault())
	}
	err = r.Shops(e.ctx, func(s *shop.Shop) error {
		_, err := fmt.Fprint(e.stdout, reminders.EndsLine(s, time.Now()))
		return err
	})
	faults = append(faults, err)
	if c.Word != "" && !proving.Known(reports, c.Word) {
		faults = append(faults,
			fmt.Errorf("no entry has the check word %s: records it stood for were cut off or changed", c.Word))
	}
	return errors.Join(faults...)
}

// from is the instant from which on records are looked at; zero for all.
func (c *verifyCmd) from() (time.Time, error) {
	if c.Since == "" {
		return time.Time{}, nil
	}
	if c.Word != "" {
		return time.Time{}, errors.New("--since and --word: a check word may be that of any record")
	}
	day, err := shop.ParseDate(c.Since)
	return day.Time(), err
}

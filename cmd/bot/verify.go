package main

import (
	"errors"
	"fmt"
	"time"

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
	broken := 0
	for _, rep := range reports {
		if len(rep.Faults) > 0 {
			broken++
		}
		if _, err := fmt.Fprintln(e.stdout, reportLine(rep)); err != nil {
			return err
		}
		who := fmt.Sprintf("machine %d (shop %d)", rep.Machine, rep.Shop)
		for _, next := range store.WhatToDo(rep.Faults) {
			_, err = fmt.Fprintf(e.stdout, "%s: what to do: %s\n", who, next)
		}
		for _, photo := range rep.Absent {
			_, bad := fmt.Fprintf(e.stdout, "%s: %s\n", who, photo)
			err = errors.Join(err, bad)
		}
		if err != nil {
			return err
		}
	}
	var faults []error
	if broken > 0 {
		faults = append(
			faults,
			fmt.Errorf("%d of %d machines have records that do not hold together", broken, len(reports)),
		)
	}
	unplanned, err := r.Unplanned(e.ctx)
	if err != nil {
		return err
	}
	for _, m := range unplanned {
		faults = append(faults, fmt.Errorf("machine %d (shop %d): no reminder is planned, so nobody "+
			"would be told; start the bot on the file once", m.Machine, m.Shop))
	}
	if c.Word != "" && !wordKnown(reports, c.Word) {
		faults = append(
			faults,
			fmt.Errorf("no entry has the check word %s: records it stood for were cut off or changed", c.Word),
		)
	}
	return errors.Join(faults...)
}

func reportLine(rep store.MachineReport) string {
	who := fmt.Sprintf("machine %d (shop %d)", rep.Machine, rep.Shop)
	switch n := len(rep.Faults); n {
	case 0:
		return fmt.Sprintf("%s: ok, entries %d, movements %d, head %x, check word %s%s",
			who, rep.Entries, rep.Moves, rep.Head, rep.Word, newest(rep))
	case 1:
		return fmt.Sprintf("%s: BROKEN, %s", who, rep.Faults[0])
	default:
		return fmt.Sprintf("%s: BROKEN, %s (and %d more)", who, rep.Faults[0], n-1)
	}
}

// newest says when the newest record was made, by the clock of the shop.
func newest(rep store.MachineReport) string {
	if rep.Newest.IsZero() {
		return ", no record yet"
	}
	return ", newest record of " + rep.Newest.In(rep.Zone).Format("Mon 2 Jan 2006, 15:04 MST")
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

// wordKnown reports whether a check word is that of an entry of some machine.
func wordKnown(reports []store.MachineReport, word string) bool {
	for _, rep := range reports {
		for _, h := range rep.Hashes {
			if store.SameWord(word, h) {
				return true
			}
		}
	}
	return false
}

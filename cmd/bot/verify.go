package main

import (
	"errors"
	"fmt"
	"time"

	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// verifyCmd proves the books from the first entry, beside a bot that runs.
type verifyCmd struct {
	DB   string `arg:"env:SHOPFLOAT_DB" default:"shopfloat.db" placeholder:"FILE" help:"The file to check."`
	Word string `placeholder:"WORD" help:"A check word from an owner's note: it must be that of some entry."`
}

// Run prints one line a machine. A fault is named in it; then the exit code is
// 1. A line of its own names each photo that is not here and is no fault.
func (c *verifyCmd) Run(e *env) error {
	r, err := store.OpenReader(e.ctx, c.DB)
	if err != nil {
		return misuse(err)
	}
	defer func() { _ = r.Close() }()
	reports, err := r.Verify(e.ctx)
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
		for _, photo := range rep.Absent {
			if _, err := fmt.Fprintf(e.stdout, "machine %d (shop %d): %s\n", rep.Machine, rep.Shop, photo); err != nil {
				return err
			}
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
	err = r.Shops(e.ctx, func(s *shop.Shop) error {
		_, err := fmt.Fprint(e.stdout, reminders.EndsLine(s, time.Now()))
		return err
	})
	faults = append(faults, err)
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
		return fmt.Sprintf("%s: ok, entries %d, movements %d, head %x, check word %s",
			who, rep.Entries, rep.Moves, rep.Head, rep.Word)
	case 1:
		return fmt.Sprintf("%s: BROKEN, %s", who, rep.Faults[0])
	default:
		return fmt.Sprintf("%s: BROKEN, %s (and %d more)", who, rep.Faults[0], n-1)
	}
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

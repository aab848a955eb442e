package main

import (
	"fmt"
	"io"

	"shopfloat/internal/dayfile"
)

// reconcileCmd is a day's arithmetic without a chat: figures as JSON in, lines,
// verdict, credit and likely causes as JSON out.
type reconcileCmd struct {
	Batch bool `help:"Read one day a line and answer each with one line. A bad line is answered with its error."`
}

// Help is shown by reconcile --help under the flags.
func (*reconcileCmd) Help() string {
	return `Reads {"currency":"EUR","loaded":{"20":150},"dispensed":{"20":90},"remaining":{"20":60}}
from standard input: counts of notes by face value in loaded, dispensed, reversed,
remaining, rejects, found and test, lists of such counts in topups and removed. For the
causes it also takes declared, previous, capacity, bundle, machine_rejected, jams and
largest_dispense. Bad input ends with exit code 2 and names the field.`
}

// Run answers the day or days on standard input.
func (c *reconcileCmd) Run(e *env) error {
	if c.Batch {
		return reconcileBatch(e)
	}
	data, err := io.ReadAll(io.LimitReader(e.stdin, dayfile.SizeMax+1))
	if err != nil {
		return fmt.Errorf("read the day: %w", err)
	}
	file, err := dayfile.Decode(data)
	if err != nil {
		return misuse(err)
	}
	return dayfile.Answer(e.stdout, file)
}

func reconcileBatch(e *env) error {
	days, unusable, err := dayfile.Batch(e.stdin, e.stdout)
	if err != nil {
		return err
	}
	if unusable > 0 {
		return misuse(fmt.Errorf("%d of %d lines could not be used, each is answered with its error",
			unusable, days))
	}
	return nil
}

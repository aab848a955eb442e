package proving

import (
	"errors"
	"fmt"
	"io"

	"shopfloat/internal/store"
)

// Write writes a line for each machine, and below it what to do about what is wrong
// and which photos are not there though nothing is.
func Write(to io.Writer, reports []store.MachineReport) (broken int, err error) {
	for _, rep := range reports {
		if len(rep.Faults) > 0 {
			broken++
		}
		who := fmt.Sprintf("machine %d (shop %d)", rep.Machine, rep.Shop)
		_, bad := fmt.Fprintf(to, "%s: %s\n", who, line(rep))
		err = errors.Join(err, bad)
		if len(rep.Faults) > 0 {
			_, bad := fmt.Fprintf(to, "%s: %s\n", who, newest(rep))
			err = errors.Join(err, bad)
		}
		for _, next := range store.WhatToDo(rep.Faults) {
			_, bad := fmt.Fprintf(to, "%s: what to do: %s\n", who, next)
			err = errors.Join(err, bad)
		}
		for _, photo := range rep.Absent {
			_, bad := fmt.Fprintf(to, "%s: %s\n", who, photo)
			err = errors.Join(err, bad)
		}
	}
	return broken, err
}

func line(rep store.MachineReport) string {
	switch n := len(rep.Faults); n {
	case 0:
		return fmt.Sprintf("ok, entries %d, movements %d, head %x, check word %s, %s",
			rep.Entries, rep.Moves, rep.Head, rep.Word, newest(rep))
	case 1:
		return "BROKEN, " + rep.Faults[0]
	default:
		return fmt.Sprintf("BROKEN, %s (and %d more)", rep.Faults[0], n-1)
	}
}

// newest says when the newest record was made, by the clock of the shop.
func newest(rep store.MachineReport) string {
	if rep.Newest.IsZero() || rep.Zone == nil {
		return "no record yet"
	}
	return "newest record of " + rep.Newest.In(rep.Zone).Format("Mon 2 Jan 2006, 15:04 MST")
}

// Known reports whether a check word is that of an entry of some machine.
func Known(reports []store.MachineReport, word string) bool {
	for _, rep := range reports {
		for _, h := range rep.Hashes {
			if store.SameWord(word, h) {
				return true
			}
		}
	}
	return false
}

// Package watch looks, a few machines at each sweep, whether what is to be due still stands in
// the file, and has it planned again where a row was lost: by a fault of the program, by somebody
// who wrote to the file, or because a newer program plans more than the one before.
package watch

import (
	"context"
	"log/slog"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
	"shopfloat/internal/tasks"
)

// Looks is how many machines are looked at in a sweep: all those of a few shops each minute, ten
// thousand within a day and a half, at less than a millisecond.
const Looks = 5

// Watch remembers which machine was looked at last. It belongs to whoever commits.
type Watch struct{ last shop.MachineID }

// Sweep looks at the next machines, and plans those again of which something is missing.
func (w *Watch) Sweep(t *store.Tx, log *slog.Logger) error {
	list, err := t.PlannedOf(w.last, Looks)
	if err != nil {
		return err
	}
	if w.last = 0; len(list) == Looks {
		w.last = list[Looks-1].Machine
	}
	for _, p := range list {
		missing, err := missing(t, p)
		if err == nil && missing != "" {
			level := slog.LevelWarn
			if missing == matters { // an earlier program planned less of them
				level = slog.LevelInfo
			}
			log.Log(context.Background(), level, "reminders were missing and are planned again",
				"machine", int64(p.Machine), "of", missing)
			err = t.SetDeadline(store.Deadline{Machine: p.Machine, Name: chat.PlanAgain, Due: t.Now()})
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// What may be missing.
const (
	days    = "days"
	matters = "what is open"
)

// missing names what of a machine's plan is missing; empty for nothing.
func missing(t *store.Tx, p store.Planned) (string, error) {
	s, err := t.Shop(p.Shop)
	if err != nil {
		return "", err
	}
	m, _, err := t.Machine(p.Machine)
	if err != nil || s.Machine(p.Machine) == nil {
		return "", err
	}
	at := tasks.At{Shop: s, Machine: m, DayOf: func(x *books.Period) shop.Date { return tasks.DayOf(s, x) }}
	if !at.Whole(p.Deadlines, t.Now()) {
		return days, nil
	}
	late, err := t.Claims(p.Machine, tasks.Late(shop.DateOf(t.Now())))
	if err == nil && !at.Asked(p.Deadlines, late, t.Now()) {
		return matters, nil
	}
	return "", err
}

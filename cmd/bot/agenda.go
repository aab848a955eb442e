package main

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// agendaCmd prints what would be due if nothing got recorded.
type agendaCmd struct {
	DB   string `arg:"env:SHOPFLOAT_DB" default:"shopfloat.db" placeholder:"FILE" help:"The file with the shops."`
	At   string `placeholder:"TIME" help:"From this instant on, like 2026-11-25T00:00Z; else from now."`
	Days int    `default:"7" placeholder:"N" help:"For so many days of 24 hours, 1 to 400."`
}

// Help says what a line holds; it is part of agenda --help.
func (agendaCmd) Help() string {
	return `One reminder a line, by time, with tabs between: the instant (UTC), the time on
the shop's clock with its offset, the shop, the task, the rung of its ladder (1
is the first), whom it tells.`
}

// agendaMax bounds the days asked for.
const agendaMax = 400

// Run reads the newest settings of every shop, beside a bot that runs.
func (c *agendaCmd) Run(e *env) error {
	from, err := c.from()
	if err == nil && (c.Days < 1 || c.Days > agendaMax) {
		err = fmt.Errorf("--days %d: want 1 to %d", c.Days, agendaMax)
	}
	if err != nil {
		return misuse(err)
	}
	r, err := store.OpenReader(e.ctx, c.DB)
	if err != nil {
		return misuse(err)
	}
	defer func() { _ = r.Close() }()
	var lines []agendaLine
	err = r.Shops(e.ctx, func(s *shop.Shop) error {
		lines = append(lines, agendaOf(s, from, from.Add(time.Duration(c.Days)*24*time.Hour))...)
		return nil
	})
	if err != nil {
		return err
	}
	slices.SortStableFunc(lines, func(a, b agendaLine) int { return a.At.Compare(b.At) })
	return writeAgenda(e.stdout, lines)
}

// from reads the instant, with or without seconds.
func (c *agendaCmd) from() (time.Time, error) {
	if c.At == "" {
		return time.Now(), nil
	}
	for _, layout := range []string{"2006-01-02T15:04Z07:00", time.RFC3339} {
		if t, err := time.Parse(layout, c.At); err == nil {
			return t, nil
		}
	}
	return time.Time{}, errors.New("--at: want an instant like 2026-11-25T00:00Z or 2026-11-25T08:00+01:00")
}

// agendaLine is a reminder of a shop, for one of its machines.
type agendaLine struct {
	reminders.Item
	zone *time.Location
	name string
}

func agendaOf(s *shop.Shop, from, until time.Time) []agendaLine {
	var lines []agendaLine
	for _, it := range reminders.Agenda(s, from, until) {
		for _, m := range s.Machines {
			name := cmp.Or(s.Name, fmt.Sprintf("shop %d", s.ID))
			if len(s.Machines) > 1 {
				name += ", " + m.Name
			}
			name = strings.Join(strings.Fields(name), " ") // no tab or line break may come from it
			lines = append(lines, agendaLine{it, s.Location, name})
		}
	}
	return lines
}

func writeAgenda(to io.Writer, lines []agendaLine) error {
	w := bufio.NewWriter(to)
	for _, l := range lines {
		instant := l.At.UTC().Format("2006-01-02T15:04:05Z")
		local := l.At.In(l.zone).Format("2006-01-02T15:04:05-07:00")
		_, _ = fmt.Fprintf(
			w,
			"%s\t%s\t%s\t%s\t%d\t%s\n",
			instant,
			local,
			l.name,
			l.Task,
			l.No,
			l.To,
		) // w keeps its error
	}
	return w.Flush()
}

// Package gather collects from a file of shops what a bookkeeper's files are made
// of. It reads through a [Source] and writes nothing.
package gather

import (
	"context"
	"errors"
	"fmt"
	"io"
	"maps"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/filed"
	"shopfloat/internal/journal"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
	"shopfloat/internal/texts"
)

// Source is where the shops and their ledgers are read.
type Source interface {
	Shops(ctx context.Context, fn func(*shop.Shop) error) error
	Entries(ctx context.Context, id shop.MachineID) ([]books.Entry, error)
	Since(ctx context.Context, s *shop.Shop, id shop.MachineID, from, to shop.Date) (
		*books.Machine, []books.Entry, []shop.Finished, error)
	Names(ctx context.Context, id shop.ID) (map[shop.PersonID]string, error)
	Word(ctx context.Context, id shop.MachineID) (string, error)
	Finished(ctx context.Context, id shop.ID) ([]shop.Finished, error)
	Keeps(ctx context.Context, where chat.Chat) ([]shop.ID, error)
}

// ErrNone means that no machine is of a shop that is asked for.
var ErrNone = errors.New("there is no such shop with a machine in the file")

// Each hands over the machines of a shop, of all shops by 0, with their entries.
func Each(ctx context.Context, src Source, id shop.ID,
	fn func(*shop.Shop, *shop.Machine, []books.Entry) error) error {
	return machines(ctx, src, id, func(s *shop.Shop, kit *shop.Machine) error {
		entries, err := src.Entries(ctx, kit.ID)
		if err != nil {
			return err
		}
		return fn(s, kit, entries)
	})
}

func machines(ctx context.Context, src Source, id shop.ID, fn func(*shop.Shop, *shop.Machine) error) error {
	var shops []*shop.Shop
	err := src.Shops(ctx, func(s *shop.Shop) error {
		if id == 0 || s.ID == id {
			shops = append(shops, s)
		}
		return nil
	})
	if err != nil {
		return err
	}
	found := false
	for _, s := range shops {
		for i := range s.Machines {
			found = true
			if err := fn(s, &s.Machines[i]); err != nil {
				return fmt.Errorf("machine %d: %w", s.Machines[i].ID, err)
			}
		}
	}
	if !found {
		return ErrNone
	}
	return nil
}

// Days adds up the days of a span, and says how people are called.
func Days(ctx context.Context, src Source, id shop.ID, span Span) (list []*tally.Machine,
	names func(shop.PersonID) string, err error) {
	people := map[shop.PersonID]string{}
	err = Each(ctx, src, id, func(s *shop.Shop, kit *shop.Machine, entries []books.Entry) error {
		known, err := src.Names(ctx, s.ID)
		if err != nil {
			return err
		}
		maps.Copy(people, known)
		finished, err := src.Finished(ctx, s.ID)
		if err != nil {
			return err
		}
		m, err := tally.Finished(s, kit, entries, span.From, span.To, finished)
		if err != nil {
			return err
		}
		m.Word, err = src.Word(ctx, kit.ID)
		list = append(list, m)
		return err
	})
	return list, func(id shop.PersonID) string { return people[id] }, err
}

// Journals lists the transactions of the machines of a shop, of all shops by 0, of a span: what was before
// it is one of them. It reads no more than that needs.
func Journals(ctx context.Context, src Source, id shop.ID, span Span) (list []journal.Ledger, err error) {
	err = machines(ctx, src, id, func(s *shop.Shop, kit *shop.Machine) error {
		then, entries, finished, err := src.Since(ctx, s, kit.ID, span.From, span.To)
		if err != nil {
			return err
		}
		t, err := journal.FinishedOn(s, then, entries, finished)
		list = append(list, journal.Ledger{Shop: s, Machine: kit, Transactions: t})
		return err
	})
	return list, err
}

// Span is days one after the other; an empty date leaves a side open.
type Span struct{ From, To shop.Date }

// SpanOf makes a span of a month like 2026-11, of one day, or of two days: one of
// these is given, or nothing.
func SpanOf(month string, day shop.Date, span Span) (Span, error) {
	given := 0
	for _, is := range []bool{month != "", day != "", span != Span{}} {
		if is {
			given++
		}
	}
	switch {
	case given > 1:
		return span, errors.New("--month, --day or --from and --to: want one of them")
	case month != "":
		first, err := time.Parse("2006-01", month)
		if err != nil {
			return span, fmt.Errorf("--month %s: want one like 2026-11", month)
		}
		return Span{shop.DateOf(first), shop.DateOf(first.AddDate(0, 1, -1))}, nil
	}
	for _, of := range []struct {
		flag string
		date shop.Date
	}{{"--day", day}, {"--from", span.From}, {"--to", span.To}} {
		if _, err := shop.ParseDate(string(of.date)); of.date != "" && err != nil {
			return span, fmt.Errorf("%s: %w", of.flag, err)
		}
	}
	if day != "" {
		return Span{day, day}, nil
	}
	if span.From != "" && span.To != "" && span.From > span.To {
		return span, fmt.Errorf("--from %s is after --to %s", span.From, span.To)
	}
	return span, nil
}

// Paper prints a day, or the whole span, of the one machine that is meant; at
// counts from 1, and 0 means the only one.
func Paper(w io.Writer, machines []*tally.Machine, at int, day shop.Date, o filed.Options) error {
	m := machines[max(at, 1)-1]
	catalogue, err := texts.Load()
	if err != nil {
		return err
	}
	o.Voice, o.Made = catalogue.In("en", m.Shop.Country, m.Shop.Currency), m.To.Time()
	if day != "" {
		return filed.Day(w, m, day, o)
	}
	return filed.Month(w, m, o)
}

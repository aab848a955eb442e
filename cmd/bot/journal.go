package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"shopfloat/internal/books"
	"shopfloat/internal/gather"
	"shopfloat/internal/journal"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// journalCmd writes the ledger as a plain-text journal.
type journalCmd struct {
	DB     string    `arg:"env:SHOPFLOAT_DB" default:"shopfloat.db" placeholder:"FILE" help:"The file with the shops; a bot may use it."`
	Shop   shop.ID   `placeholder:"NUMBER" help:"Only this shop of the file."`
	For    string    `placeholder:"USER" help:"Only the shops whose books this user keeps: a number, or a name in the terminal."`
	From   shop.Date `placeholder:"DATE" help:"From this day on; what was before is one transaction."`
	To     shop.Date `placeholder:"DATE" help:"Up to this day."`
	Format string    `default:"plain" placeholder:"NAME" help:"plain, for hledger and ledger, or beancount."`
	Out    string    `placeholder:"FILE" help:"Write it there; else to standard output."`
}

// Help is shown by journal --help under the flags.
func (*journalCmd) Help() string {
	return `One transaction for each record that moves money; accounts by place. After each close
what every box holds is asserted, so a reader finds a line that was changed or lost.`
}

// Run writes the journals of all machines into one file.
func (c *journalCmd) Run(e *env) error {
	if c.Format != "plain" && c.Format != "beancount" {
		return misuse(fmt.Errorf("--format %s: want plain or beancount", c.Format))
	}
	span, err := gather.SpanOf("", "", gather.Span{From: c.From, To: c.To})
	if err != nil {
		return misuse(err)
	}
	var list []journal.Ledger
	err = reading(e, c.DB, func(r *store.Reader) error {
		src, err := gather.For(e.ctx, r, c.For)
		if err == nil {
			list, err = gather.Journals(e.ctx, src, c.Shop, span)
		}
		return err
	})
	if err != nil {
		return err
	}
	o := journal.Options{From: span.From, To: span.To, Beancount: c.Format == "beancount"}
	return written(e, c.Out, func(w io.Writer) error { return journal.Write(w, list, o) })
}

// eachLedger hands over the machines of a file's shops with their entries, of those that
// somebody keeps where one is named.
func eachLedger(e *env, file string, id shop.ID, who string,
	fn func(*shop.Shop, *shop.Machine, []books.Entry) error) error {
	return reading(e, file, func(r *store.Reader) error {
		src, err := gather.For(e.ctx, r, who)
		if err != nil {
			return err
		}
		return gather.Each(e.ctx, src, id, fn)
	})
}

// reading opens a file to read. It is misuse when it is none, or has no machine
// of the shop that is asked for.
func reading(e *env, file string, fn func(*store.Reader) error) error {
	r, err := store.OpenReader(e.ctx, file)
	if err != nil {
		return misuse(err)
	}
	defer func() { _ = r.Close() }()
	if err = fn(r); errors.Is(err, gather.ErrNone) {
		return misuse(err)
	}
	return err
}

// written writes to a file, or to standard output where none is named.
func written(e *env, name string, fn func(io.Writer) error) error {
	if name == "" {
		return fn(e.stdout)
	}
	f, err := os.OpenFile(name, os.O_CREATE|os.O_WRONLY|os.O_TRUNC, 0o600)
	if err != nil {
		return misuse(err)
	}
	return errors.Join(fn(f), f.Close())
}

package main

import (
	"errors"
	"fmt"
	"io"
	"slices"

	"shopfloat/internal/filed"
	"shopfloat/internal/gather"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
	"shopfloat/internal/tally"
	"shopfloat/internal/workbook"
)

// exportCmd writes days as files for a bookkeeper.
type exportCmd struct {
	DB     string    `arg:"env:SHOPFLOAT_DB" default:"shopfloat.db" placeholder:"FILE" help:"The file with the shops; a bot may use it."`
	Shop   shop.ID   `placeholder:"NUMBER" help:"Only this shop of the file; pdf needs one."`
	For    string    `placeholder:"USER" help:"Only the shops whose books this user keeps: a number, or a name in the terminal."`
	Month  string    `placeholder:"MONTH" help:"A month like 2026-11."`
	Day    shop.Date `placeholder:"DATE" help:"One day; as pdf a day sheet."`
	From   shop.Date `placeholder:"DATE" help:"From this day on."`
	To     shop.Date `placeholder:"DATE" help:"Up to this day."`
	Format string    `default:"csv" placeholder:"NAME" help:"csv, xlsx, pdf, journal or beancount."`
	Paper  string    `default:"a4" placeholder:"SIZE" help:"pdf: a4 or letter."`
	At     int       `arg:"--machine" placeholder:"NUMBER" help:"pdf: which of the shop's machines, from 1."`
	Out    string    `placeholder:"FILE" help:"Write it there; else to standard output."`
}

// Help is shown by export --help under the flags.
func (*exportCmd) Help() string {
	return `Figures of all machines by day; xlsx has a sheet for each machine and one for all, with
totals as formulas. Currencies are never added to one another. Nothing advises on tax.`
}

// Run writes one file.
func (c *exportCmd) Run(e *env) error {
	span, err := c.check()
	if err != nil {
		return misuse(err)
	}
	if c.Format == "journal" || c.Format == "beancount" {
		format := map[string]string{"journal": "plain", "beancount": "beancount"}[c.Format]
		return (&journalCmd{DB: c.DB, Shop: c.Shop, For: c.For, From: span.From, To: span.To, Format: format,
			Out: c.Out}).Run(e)
	}
	return reading(e, c.DB, func(r *store.Reader) error {
		src, err := gather.For(e.ctx, r, c.For)
		if err != nil {
			return err
		}
		machines, names, err := gather.Days(e.ctx, src, c.Shop, span)
		if err != nil {
			return err
		}
		if n := len(machines); c.Format == "pdf" && (c.At == 0 && n > 1 || c.At > n || c.At < 0) {
			return misuse(fmt.Errorf("there are %d machines: say --shop NUMBER and --machine NUMBER", n))
		}
		return written(e, c.Out, func(w io.Writer) error {
			switch c.Format {
			case "xlsx":
				return workbook.Write(w, machines, names)
			case "pdf":
				return gather.Paper(w, machines, c.At, c.Day, filed.Options{Letter: c.Paper == "letter", Names: names})
			}
			return tally.WriteCSV(w, machines, names)
		})
	})
}

// check makes one span of what was given.
func (c *exportCmd) check() (span gather.Span, err error) {
	if !slices.Contains([]string{"csv", "xlsx", "pdf", "journal", "beancount"}, c.Format) {
		return span, fmt.Errorf("--format %s: want csv, xlsx, pdf, journal or beancount", c.Format)
	}
	if c.Paper != "a4" && c.Paper != "letter" {
		return span, fmt.Errorf("--paper %s: want a4 or letter", c.Paper)
	}
	span, err = gather.SpanOf(c.Month, c.Day, gather.Span{From: c.From, To: c.To})
	if err == nil && c.Format == "pdf" && (span.From == "" || span.To == "") {
		err = errors.New("pdf is of a day or a month: --day DATE or --month MONTH")
	}
	return span, err
}

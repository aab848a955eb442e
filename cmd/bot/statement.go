package main

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"os"

	"shopfloat/internal/books"
	"shopfloat/internal/matching"
	"shopfloat/internal/settling"
	"shopfloat/internal/shop"
	"shopfloat/internal/statement"
)

// statementCmd says which days the lines of a bank's statement pay for.
type statementCmd struct {
	File   string  `arg:"positional" placeholder:"FILE" help:"The statement: camt.053, camt.054, OFX or CSV, also packed by gzip or zip."`
	DB     string  `arg:"env:SHOPFLOAT_DB" default:"shopfloat.db" placeholder:"FILE" help:"The file with the shops; a bot may use it."`
	Shop   shop.ID `placeholder:"NUMBER" help:"Only this shop of the file; else all of them."`
	For    string  `placeholder:"USER" help:"Only the shops whose books this user keeps: a number, or a name in the terminal."`
	DryRun bool    `arg:"--dry-run" help:"Changes nothing; this command never does."`
	JSON   bool    `help:"Answer with one JSON object."`
	Dates  string  `placeholder:"ORDER" help:"CSV: order of dates that could be read two ways, dmy or mdy."`
}

// Help is shown by statement --help under the flags.
func (*statementCmd) Help() string {
	return `It proposes and never books. Lines are counted from 1 in the order of the file. What is
sure is to the cent, within the usual delay and the only reading there is. A file that
cannot be read ends with exit code 2 and one line that says why.`
}

// Run reads the statement and proposes.
func (c *statementCmd) Run(e *env) error {
	if c.File == "" {
		return misuse(errors.New("name the file: bot statement FILE"))
	}
	order := statement.Order(c.Dates)
	if order != statement.AnyOrder && order != statement.DayFirst && order != statement.MonthDay {
		return misuse(fmt.Errorf("--dates %s: want dmy or mdy", c.Dates))
	}
	machines, err := c.machines(e)
	if err != nil {
		return err
	}
	opt := statement.Options{Dates: cmp.Or(order, settling.DateOrder(machines)),
		Currency: machines[0].Shop.Currency, Money: settling.Money(machines)}
	facts := settling.Facts(machines)
	sieve := matching.NewSieve(facts)
	report, err := readStatement(c.File, opt, sieve)
	if err != nil {
		return misuse(err)
	}
	o := matching.Match(sieve.Lines(), facts)
	w := bufio.NewWriter(e.stdout)
	if c.JSON {
		settling.WriteJSON(w, report, o)
	} else {
		settling.Print(w, report, o)
	}
	return w.Flush()
}

// readStatement hands the lines of a file to a sieve.
func readStatement(name string, opt statement.Options, sieve *matching.Sieve) (statement.Report, error) {
	f, err := os.Open(name)
	if err != nil {
		return statement.Report{}, err
	}
	defer func() { _ = f.Close() }()
	info, err := f.Stat()
	if err == nil && !info.Mode().IsRegular() {
		err = fmt.Errorf("%s is no file", name)
	}
	if err != nil {
		return statement.Report{}, err
	}
	report, err := statement.Read(f, info.Size(), opt, func(l statement.Line) error { sieve.Add(l); return nil })
	if err != nil {
		err = fmt.Errorf("%s: %w", name, err)
	}
	return report, err
}

// machines are those of the shops that the statement may be about.
func (c *statementCmd) machines(e *env) (list []settling.Machine, err error) {
	err = eachLedger(e, c.DB, c.Shop, c.For, func(s *shop.Shop, kit *shop.Machine, entries []books.Entry) error {
		m, err := books.History(kit.ID, entries)
		list = append(list, settling.Machine{Shop: s, ID: kit.ID, Books: m})
		return err
	})
	return list, err
}

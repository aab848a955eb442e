// Package monthfile writes a month of a machine, or of several, as a file that leaves the
// program: a workbook, a page, a journal. Which is meant is told by the words people type.
package monthfile

import (
	"bytes"
	"errors"
	"slices"
	"strings"

	"shopfloat/internal/bygone"
	"shopfloat/internal/filed"
	"shopfloat/internal/journal"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
	"shopfloat/internal/telling"
)

// Form is a kind of file beside the table that is sent when none is named.
type Form struct {
	words, ends string
	write       func(of []*telling.Teller, to *bytes.Buffer, list []*tally.Machine) error
	alone       bool // a file holds one machine
}

var forms = []Form{
	{words: "words.workbook", ends: ".xlsx", write: book},
	{words: "words.paper", ends: ".pdf", write: paper, alone: true},
	{words: "words.journal", ends: ".journal", write: journalOf(false)},
	{words: "words.beancount", ends: ".beancount", write: journalOf(true)},
}

// Named finds the kind of file that is named, and what else was said; else the kind that the whole sentence
// names which that came from: send me january as a pdf.
func Named(t *telling.Teller, s, sentence string) (*Form, string) {
	if f, rest := named(t, s); f != nil {
		return f, rest
	}
	f, _ := named(t, sentence)
	return f, s
}

func named(t *telling.Teller, s string) (*Form, string) {
	words := strings.Fields(strings.ToLower(s))
	for i, w := range words {
		for j := range forms {
			if slices.Contains(t.V.List(forms[j].words), strings.Trim(w, "?!.,")) {
				return &forms[j], strings.Join(append(words[:i:i], words[i+1:]...), " ")
			}
		}
	}
	return nil, s
}

// Alone reports whether a file of the kind holds one machine and no more.
func (f *Form) Alone() bool { return f.alone }

// Name is what a file of the month of machines is called.
func (f *Form) Name(m *tally.Machine) string { return m.From.Time().Format("2006-01") + f.ends }

// Word is what asks for the kind.
func (f *Form) Word(t *telling.Teller) string { return t.V.List(f.words)[0] }

// Write writes the month of machines, each told by the teller in its place.
func (f *Form) Write(of []*telling.Teller, list []*tally.Machine) ([]byte, error) {
	var b bytes.Buffer
	err := f.write(of, &b, list)
	return b.Bytes(), err
}

func book(of []*telling.Teller, to *bytes.Buffer, list []*tally.Machine) error {
	if of[0].Book == nil {
		return errors.New("nothing here writes workbooks")
	}
	return of[0].Book(to, list, Names(of))
}

// Names calls people by what the first of the machines' shops that knows them calls them.
func Names(of []*telling.Teller) func(shop.PersonID) string {
	return func(id shop.PersonID) string {
		for _, t := range of {
			if _, ok := t.F.Shop.Known(id); ok {
				return t.Name(id)
			}
		}
		return of[0].Name(id)
	}
}

func paper(of []*telling.Teller, to *bytes.Buffer, list []*tally.Machine) error {
	t := of[0]
	return filed.Month(to, list[0], filed.Options{Voice: t.V, Names: t.Name, Made: t.Local(t.Now),
		Letter: filed.OnLetter(t.F.Shop.Country)})
}

func journalOf(beancount bool) func([]*telling.Teller, *bytes.Buffer, []*tally.Machine) error {
	return func(of []*telling.Teller, to *bytes.Buffer, list []*tally.Machine) error {
		var ledgers []journal.Ledger
		for i, m := range list {
			then, entries, finished := bygone.Since(of[i], m.From, m.To)
			moves, err := journal.FinishedOn(m.Shop, then, entries, finished)
			if err != nil {
				return err
			}
			ledgers = append(ledgers, journal.Ledger{Shop: m.Shop, Machine: m.Kit, Transactions: moves})
		}
		return journal.Write(to, ledgers,
			journal.Options{From: list[0].From, To: list[0].To, Beancount: beancount})
	}
}

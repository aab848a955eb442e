package statement_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"unicode/utf8"

	"shopfloat/internal/shop"
	"shopfloat/internal/statement"
)

// anything holds of every file: it is read or there is one sentence; lines are
// counted from 1, have a day and no word that a terminal would obey.
func anything(t *testing.T, file []byte) {
	no := 0
	rep, err := statement.Read(bytes.NewReader(file), int64(len(file)), statement.Options{Max: 1 << 20},
		func(l statement.Line) error {
			if no++; l.No != no {
				t.Fatalf("line %d comes as %d", l.No, no)
			}
			if _, err := shop.ParseDate(string(l.Day)); err != nil {
				t.Fatalf("line %d: %v", no, err)
			}
			for _, s := range []string{l.Ref, l.Name, l.Text, l.Account} {
				if !utf8.ValidString(s) || strings.ContainsAny(s, "\n\r\x1b\x00") {
					t.Fatalf("line %d: %q", no, s)
				}
			}
			if l.Amount.Exponent() < -6 || l.Amount.NumDigits() > 21 {
				t.Fatalf("line %d: %s", no, l.Amount)
			}
			return nil
		})
	if rep.Lines != no {
		t.Fatalf("%d lines are said to be %d", no, rep.Lines)
	}
	var p *statement.Problem
	if err != nil && (!errors.As(err, &p) || strings.ContainsAny(p.Error(), "\n\r\x1b")) {
		t.Fatalf("%v", err)
	}
}

func FuzzCamt(f *testing.F) {
	f.Add([]byte(camt(2, demoLines)))
	f.Add([]byte(camt(8, demoLines)))
	f.Fuzz(anything)
}

func FuzzOFX(f *testing.F) {
	f.Add([]byte(ofx1(demoLines)))
	f.Add([]byte(ofx2(demoLines)))
	f.Fuzz(anything)
}

func FuzzTable(f *testing.F) {
	f.Add([]byte(csvFile(demoLines)))
	f.Add([]byte("Buchungstag;Valuta;Betrag;Soll/Haben\n09.11.2026;10.11.2026;4.380,00;H\n"))
	f.Add([]byte("09.11.2026;one;4.380,00;9,00\n"))
	f.Add([]byte("Date,Paid in,Paid out,Balance\n9 Nov 2026,\"4,380.00\",,1.00\n"))
	f.Fuzz(anything)
}

func FuzzPacked(f *testing.F) {
	f.Add([]byte("\x1f\x8b\x08\x00"))
	f.Add([]byte("PK\x03\x04"))
	f.Add(wide(camt(8, demoLines[:1]), true))
	f.Fuzz(anything)
}

package proof

import (
	"bytes"
	"encoding/json"
	"maps"
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/store/file"
	"shopfloat/internal/store/ledger"
)

// claims compares what the bank owes by the table with what the entries give.
func (v *verifier) claims(m *books.Machine, rep *MachineReport) error {
	want := map[int64]books.Claim{}
	for _, c := range m.Claims {
		want[c.Seq] = c
	}
	err := v.each("SELECT seq, open, day, remains, due, paid, body FROM claim WHERE machine = ?", []any{m.ID},
		func(row file.Scanner) error {
			var seq, remains int64
			var open, paid bool
			var day, due string
			var body []byte
			if err := row.Scan(&seq, &open, &day, &remains, &due, &paid, &body); err != nil {
				return err
			}
			c, ok := want[seq]
			delete(want, seq)
			own, err := json.Marshal(c)
			switch {
			case err != nil:
				return err
			case !ok:
				rep.fault("the bank is said to owe for entry %d, by which it does not", seq)
			case !bytes.Equal(own, body) || open != c.Live() || day != string(c.Day) || due != string(c.On) ||
				remains != ledger.Remains(c.Left()) || paid != c.Paid.IsPositive():
				rep.fault("what the bank owes for entry %d differs from what the entries give", seq)
			}
			return nil
		})
	for _, c := range m.Claims {
		if _, missing := want[c.Seq]; missing {
			rep.fault("what the bank owes for entry %d is missing", c.Seq)
		}
	}
	return err
}

// added is what is kept of a month or a year: of how many claims something is left, and how much.
type added struct{ n, remains int64 }

// owing compares what is kept of months and years with what the entries give.
func (v *verifier) owing(m *books.Machine, rep *MachineReport) error {
	want := map[[2]string]added{}
	for _, c := range m.Claims {
		left := ledger.Remains(c.Left())
		if left <= 0 {
			continue
		}
		for kind, day := range map[string]string{"day": string(c.Day), "due": string(c.On)} {
			for _, span := range [][2]string{{kind + "-month", day[:min(len("2006-01"), len(day))]},
				{kind + "-year", day[:min(len("2006"), len(day))]}} {
				a := want[span]
				want[span] = added{a.n + 1, a.remains + left}
			}
		}
	}
	err := v.each("SELECT kind, span, n, remains FROM owing WHERE machine = ?", []any{m.ID},
		func(row file.Scanner) error {
			var span [2]string
			var got added
			err := row.Scan(&span[0], &span[1], &got.n, &got.remains)
			if err == nil && got != want[span] {
				rep.fault("what the bank owes by %s of %q differs from what the entries give", span[0], span[1])
			}
			delete(want, span)
			return err
		})
	missing := slices.SortedFunc(maps.Keys(want), func(a, b [2]string) int { return slices.Compare(a[:], b[:]) })
	for _, span := range missing {
		rep.fault("what the bank owes by %s of %q is missing", span[0], span[1])
	}
	return err
}

package proof

import (
	"bytes"
	"encoding/json"

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

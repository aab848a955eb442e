package proof

import (
	"bytes"
	"encoding/json"

	"shopfloat/internal/books"
	"shopfloat/internal/store/file"
)

// claims compares what the bank owes by the table with what the entries give.
func (v *verifier) claims(m *books.Machine, rep *MachineReport) error {
	want := map[int64]books.Claim{}
	for _, c := range m.Claims {
		want[c.Seq] = c
	}
	err := v.each("SELECT seq, open, day, body FROM claim WHERE machine = ? ORDER BY seq", []any{m.ID},
		func(row file.Scanner) error {
			var seq int64
			var open bool
			var day string
			var body []byte
			if err := row.Scan(&seq, &open, &day, &body); err != nil {
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
			case !bytes.Equal(own, body) || open != c.Live() || day != string(c.Day):
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

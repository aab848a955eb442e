package ledger

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// Claims lists what the bank owes or owed for a machine, oldest first unless
// the newest are wanted first. It reads no more rows than it gives, but for the
// days of live ones.
func (t Ledger) Claims(id shop.MachineID, w Wanted) ([]books.Claim, error) {
	return ReadClaims(t.tx.Each, id, w)
}

// ReadClaims is [Ledger.Claims] for readers too.
func ReadClaims(each file.Query, id shop.MachineID, w Wanted) (list []books.Claim, err error) {
	if w.Of != nil && len(w.Of) == 0 {
		return nil, nil
	}
	query, args := wanted(id, w)
	err = each(query, args, func(row file.Scanner) error {
		var body []byte
		var c books.Claim
		if err := row.Scan(&body); err != nil {
			return err
		}
		err := json.Unmarshal(body, &c)
		list = append(list, c)
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("claims of machine %d: %w", id, err)
	}
	return list, nil
}

func wanted(id shop.MachineID, w Wanted) (query string, args []any) {
	var q strings.Builder
	q.WriteString("SELECT body FROM claim WHERE machine = ?")
	args = append(args, id)
	also := func(sql string, arg ...any) {
		q.WriteString(" AND " + sql)
		args = append(args, arg...)
	}
	if w.Live {
		also("open = 1")
	}
	if w.After > 0 {
		also("seq > ?", w.After)
	}
	if w.Of != nil {
		of, _ := json.Marshal(w.Of) // numbers always can be
		also("seq IN (SELECT value FROM json_each(?))", string(of))
	}
	if w.From != "" {
		also("day >= ?", w.From)
	}
	if w.To != "" {
		also("day <= ?", w.To)
	}
	q.WriteString(" ORDER BY seq")
	if w.Newest {
		q.WriteString(" DESC")
	}
	if w.Limit > 0 {
		q.WriteString(" LIMIT ?")
		args = append(args, w.Limit)
	}
	return q.String(), args
}

// saveClaims writes the claims that a record changed. before are those that were
// at hand; what is not among those after it any more is taken away.
func (t Ledger) saveClaims(id shop.MachineID, before, after []books.Claim) error {
	had := make(map[int64][]byte, len(before))
	for _, c := range before {
		body, err := json.Marshal(c)
		if err != nil {
			return err
		}
		had[c.Seq] = body
	}
	for _, c := range after {
		body, err := json.Marshal(c)
		if err != nil {
			return err
		}
		same := bytes.Equal(body, had[c.Seq])
		delete(had, c.Seq)
		if same {
			continue
		}
		err = t.tx.Exec(`INSERT INTO claim (machine, seq, open, day, body) VALUES (?, ?, ?, ?, ?)
			ON CONFLICT (machine, seq) DO UPDATE SET open = excluded.open, day = excluded.day, body = excluded.body`,
			id, c.Seq, c.Live(), c.Day, string(body))
		if err != nil {
			return fmt.Errorf("claim %d of machine %d: %w", c.Seq, id, err)
		}
	}
	for seq := range had {
		if err := t.tx.Exec("DELETE FROM claim WHERE machine = ? AND seq = ?", id, seq); err != nil {
			return fmt.Errorf("claim %d of machine %d: %w", seq, id, err)
		}
	}
	return nil
}

// claimsAtHand is how many of a machine's newest claims are kept at hand: those
// of the periods that people still have to do with.
const claimsAtHand = 24

// LastClaims gives a machine's newest claims, oldest first. They are not to be changed.
func (t Ledger) LastClaims(id shop.MachineID) ([]books.Claim, error) {
	m, err := t.machine(id)
	switch {
	case err != nil:
		return nil, err
	case m.known:
		return m.claims, nil
	}
	list, err := t.Claims(id, Wanted{Newest: true, Limit: claimsAtHand})
	if err != nil {
		return nil, err
	}
	slices.Reverse(list)
	m.claims, m.known = list, true
	return list, nil
}

// newest takes changed claims into those at hand.
func newest(at, changed []books.Claim) []books.Claim {
	list := slices.Clone(at)
	for _, c := range changed {
		i, found := slices.BinarySearchFunc(list, c.Seq,
			func(x books.Claim, seq int64) int { return cmp.Compare(x.Seq, seq) })
		switch {
		case found:
			list[i] = c
		case i > 0 || len(list) < claimsAtHand:
			list = slices.Insert(list, i, c)
		}
	}
	return list[max(len(list)-claimsAtHand, 0):]
}

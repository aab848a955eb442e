package ledger

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/dues"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// Claims lists what the bank owes or owed for a machine. It reads no more rows than it gives,
// but for days or due dates of which not all is wanted.
func (t Ledger) Claims(id shop.MachineID, w dues.Wanted) ([]books.Claim, error) {
	return ReadClaims(t.tx.Each, id, w)
}

// Owed adds up what is still to come for days since one; of all days without. What is kept of
// whole years and months is read for them: years of days unpaid are few rows.
func (t Ledger) Owed(id shop.MachineID, since shop.Date) (dues.Owed, error) {
	year, month := since, since // those after them are whole
	if since != "" {
		year, month = since[:len("2006")]+"~", since[:len("2006-01")]+"~"
	}
	return t.owed(`SELECT n, remains FROM owing WHERE machine = ?1 AND kind = 'day-year' AND span >= ?3
		UNION ALL SELECT n, remains FROM owing WHERE machine = ?1 AND kind = 'day-month'
			AND span >= ?4 AND span < ?3
		UNION ALL SELECT 1, remains FROM claim INDEXED BY claim_age
			WHERE machine = ?1 AND remains > 0 AND day >= ?2 AND day < ?4`, id, since, year, month)
}

// OwedBefore adds up what is still to come that was due before a day, read as [Ledger.Owed] is.
func (t Ledger) OwedBefore(id shop.MachineID, before shop.Date) (dues.Owed, error) {
	if before == "" {
		return dues.Owed{}, nil
	}
	year, month := before[:len("2006")], before[:len("2006-01")] // those before them are whole
	return t.owed(`SELECT n, remains FROM owing WHERE machine = ?1 AND kind = 'due-year'
			AND span > '' AND span < ?3
		UNION ALL SELECT n, remains FROM owing WHERE machine = ?1 AND kind = 'due-month'
			AND span > ?3 AND span < ?4
		UNION ALL SELECT 1, remains FROM claim INDEXED BY claim_due
			WHERE machine = ?1 AND remains > 0 AND due > ?4 AND due < ?2`, id, before, year, month)
}

// owed adds up rows of a number and of what is left, of a day, its year and its month.
func (t Ledger) owed(query string, id shop.MachineID, day, year, month shop.Date) (o dues.Owed, err error) {
	var sum int64
	err = t.tx.Each(query, []any{id, day, year, month}, func(row file.Scanner) error {
		var n int
		var remains int64
		err := row.Scan(&n, &remains)
		o.Count, sum = o.Count+n, sum+remains
		return err
	})
	o.Sum = decimal.New(sum, -remainsDigits)
	return o, err
}

// remainsDigits is how many digits after the mark are kept of what is left of a claim, beside
// its body, to find it by: as many as any currency has (ISO 4217).
const remainsDigits = 4

// Remains is what is left of a claim in ten-thousandths, so that claims are found by it.
func Remains(left decimal.Decimal) int64 {
	return left.RoundUp(remainsDigits).Shift(remainsDigits).IntPart()
}

// ReadClaims is [Ledger.Claims] for readers too.
func ReadClaims(each file.Query, id shop.MachineID, w dues.Wanted) (list []books.Claim, err error) {
	if w.Of != nil && len(w.Of) == 0 {
		return nil, nil
	}
	query, args := Asked(id, w)
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

// Asked is the statement that gives the claims that are asked for.
func Asked(id shop.MachineID, w dues.Wanted) (query string, args []any) {
	var q strings.Builder
	q.WriteString("SELECT body FROM claim" + by(w) + " WHERE machine = ?")
	args = append(args, id)
	also := func(sql string, arg ...any) {
		q.WriteString(" AND " + sql)
		args = append(args, arg...)
	}
	left(w, also)
	if w.Due[0] != "" {
		also("due >= ?", w.Due[0])
	}
	if w.Due[1] != "" {
		also("due > '' AND due <= ?", w.Due[1])
	}
	if w.Before > 0 {
		also("seq < ?", w.Before)
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
	q.WriteString(" ORDER BY " + orders[w.Order])
	if w.Limit > 0 || w.Skip > 0 {
		limit := w.Limit
		if limit == 0 {
			limit = -1
		}
		q.WriteString(" LIMIT +? OFFSET ?")
		args = append(args, limit, w.Skip)
	}
	return q.String(), args
}

// left asks for a state and for bounds of what is left. The first of two bounds is where an index
// is entered; of claims of which just so much is left its state says where.
func left(w dues.Wanted, also func(sql string, arg ...any)) {
	exactly := w.Least != nil && w.Most != nil && w.Least.Equal(*w.Most)
	if !exactly && w.Least != nil {
		also("remains >= ?", Remains(*w.Least))
	}
	if !exactly && w.Most != nil {
		also("remains <= ?", Remains(*w.Most))
	}
	if is := states[w.Is]; is != "" {
		also(is)
	}
	if exactly { // by which the oldest come first in the index
		also("remains = ?", Remains(*w.Least))
	}
}

// by names the index of a state, where nothing else that is asked has a better one: years of
// claims that are paid, or of those that are not, are none of its.
func by(w dues.Wanted) string {
	switch {
	case w.Of != nil || w.Least != nil || w.Most != nil:
		return ""
	case w.Is == dues.Still && w.Due != [2]shop.Date{}:
		return " INDEXED BY claim_due"
	case w.Is == dues.Still && w.To != "" && w.Limit == 0: // all of them, of long ago
		return " INDEXED BY claim_age"
	}
	return map[dues.State]string{dues.Live: " INDEXED BY claim_open", dues.Still: " INDEXED BY claim_still",
		dues.Over: " INDEXED BY claim_over", dues.Paid: " INDEXED BY claim_paid"}[w.Is]
}

// states and orders are what is asked for, in the words of the table.
var (
	states = map[dues.State]string{dues.Live: "open = 1", dues.Still: "remains > 0", dues.Over: "remains < 0",
		dues.Paid: "paid = 1"}
	orders = map[dues.Order]string{dues.Oldest: "seq", dues.Newest: "seq DESC", dues.Smallest: "remains, seq",
		dues.Largest: "remains DESC, seq"}
)

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
		err = t.tx.Exec(`INSERT INTO claim (machine, seq, open, day, remains, due, paid, body)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (machine, seq) DO UPDATE SET open = excluded.open,
			day = excluded.day, remains = excluded.remains, due = excluded.due, paid = excluded.paid,
			body = excluded.body`,
			id, c.Seq, c.Live(), c.Day, Remains(c.Left()), c.On, c.Paid.IsPositive(), string(body))
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
	list, err := t.Claims(id, dues.Wanted{Order: dues.Newest, Limit: claimsAtHand})
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

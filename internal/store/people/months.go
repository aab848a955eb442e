package people

import (
	"encoding/json"
	"fmt"

	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// FinishMonth keeps the figures of a month of a shop as they are now.
func (t People) FinishMonth(id shop.ID, f shop.Finished) error {
	upto, err := json.Marshal(f.Upto)
	if err == nil {
		err = t.tx.Exec("INSERT INTO month (shop, month, by_person, finished, upto) VALUES (?, ?, ?, ?, ?)",
			id, f.Month, f.By, file.Milli(t.tx.Now()), string(upto))
	}
	if err != nil {
		return fmt.Errorf("month %s of shop %d: %w", f.Month, id, err)
	}
	return t.told.TellMonth(id, f.Month)
}

// Finished lists the months of a shop that were finished.
func (t People) Finished(id shop.ID) ([]shop.Finished, error) { return Finished(t.tx.Each, id) }

// Finished lists the months of a shop that were finished, oldest first.
func Finished(each file.Query, id shop.ID) (list []shop.Finished, err error) {
	err = each("SELECT month, by_person, finished, upto FROM month WHERE shop = ? ORDER BY month", []any{id},
		func(row file.Scanner) error {
			var f shop.Finished
			var at int64
			var upto []byte
			err := row.Scan(&f.Month, &f.By, &at, &upto)
			if err == nil {
				err = json.Unmarshal(upto, &f.Upto)
			}
			f.At = file.Instant(at)
			list = append(list, f)
			return err
		})
	if err != nil {
		return nil, fmt.Errorf("months of shop %d: %w", id, err)
	}
	return list, nil
}

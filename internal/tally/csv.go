package tally

import (
	"encoding/csv"
	"io"
	"strings"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
)

// WriteCSV writes the days of all machines as comma-separated values (RFC 4180).
func WriteCSV(to io.Writer, machines []*Machine, names func(shop.PersonID) string) error {
	w := csv.NewWriter(to)
	w.UseCRLF = true
	_ = w.Write(append(append([]string{"shop", "machine", "currency", "date"}, Columns...), "closed by"))
	for _, m := range machines {
		money, err := cashmath.LookupCurrency(m.Shop.Currency)
		if err != nil {
			return err
		}
		for _, d := range m.Days {
			row := []string{m.Shop.Name, m.Kit.Name, m.Shop.Currency, d.Name()}
			for i, v := range d.Amounts() {
				cell := money.Amount(v)
				if i == VarianceColumn && d.Unknown {
					cell = "not known"
				}
				row = append(row, cell)
			}
			var who []string
			for _, p := range d.Closed {
				who = append(who, names(p))
			}
			row = append(row, strings.Join(who, "; "))
			for i := range row {
				row[i] = SafeCell(row[i])
			}
			_ = w.Write(row) // w keeps its error
		}
	}
	w.Flush()
	return w.Error()
}

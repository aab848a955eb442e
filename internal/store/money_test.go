package store_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
)

// money is a day whose opening is corrected and whose settlement is paid.
func money() []books.Record {
	corrected := books.Record{Kind: books.Opening, Figures: boxes(books.Loaded, 40, 150, 200), Happened: morning}
	return []books.Record{
		{Kind: books.Opening, Figures: boxes(books.Loaded, 40, 510, 200)},
		{Kind: books.Count, Period: 1, Figures: boxes(books.Remaining, 12, 61, 80)},
		{Kind: books.Settlement, Period: 1, Figures: printed(books.PaidOut, 28, 89, 120), DueOn: "2026-01-06"},
		{Kind: books.Close, Period: 1, Where: books.Cash},
		{Kind: books.Correction, Period: 1, Target: 1, Reason: books.Mistyped,
			Instead: &corrected, Words: "read it wrong"},
		{Kind: books.Credit, Amounts: []books.Amount{{Field: books.Credited, Value: decimal.NewFromInt(4375)}},
			Parts: []books.Part{{As: books.Pays, Of: 3, Value: decimal.NewFromInt(4380)},
				{As: books.Charge, Of: 3, Value: decimal.NewFromInt(-5)}}},
	}
}

// What was corrected and paid can be proved from the first entry, and any edit
// of it behind the program's back names the record.
func TestVerifyMoney(t *testing.T) {
	for _, c := range []struct{ name, sql, want string }{
		{"nothing", "", ""},
		{"correction", `UPDATE entry SET body = replace(body, '"notes":150', '"notes":151') WHERE seq = 5`,
			"entry 5"},
		{"reason", `UPDATE entry SET body = replace(body, 'mistyped', 'other') WHERE seq = 5`, "entry 5"},
		{"words", `UPDATE attachment SET words = 'nothing' WHERE seq = 5`, "attachment 0 of entry 5"},
		{"payment", `UPDATE entry SET body = replace(body, '4375', '4370') WHERE seq = 6`, "entry 6"},
		{"due date", `UPDATE entry SET body = replace(body, '2026-01-06', '2026-01-07') WHERE seq = 3`, "entry 3"},
		{"the move of a correction", `UPDATE move SET notes = 1 WHERE seq = 5`, "entry 5 was changed"},
		{"what is owed", `UPDATE machine SET body = replace(body, '"paid":"4380"', '"paid":"380"')`,
			"differ from the fold"},
		{"the payment cut off", `DELETE FROM entry WHERE seq = 6`, "stand at entry 6"},
	} {
		t.Run(c.name, func(t *testing.T) {
			db, path := open(t)
			l := newLedger(t, db)
			l.post(money()...)
			if m := l.books(); !m.ByBank().IsZero() || m.Periods[0].Verdict != "balanced" {
				t.Fatalf("owed %s, %s", m.ByBank(), m.Periods[0].Verdict)
			}
			if c.want != "" {
				_, err := plain(t, path).Exec(dropTriggers + c.sql)
				ok(t, err)
			}
			faults := verify(t, path)[0].Faults
			switch {
			case c.want == "" && len(faults) > 0:
				t.Errorf("faults: %q", faults)
			case c.want != "" && (len(faults) == 0 || !strings.Contains(faults[0], c.want)):
				t.Errorf("faults: %q, want %q first", faults, c.want)
			}
		})
	}
}

package past_test

import (
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
)

// A month as a file: figures by hand, the name of who closed made safe.
func TestExport(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Shop.People[1].Name = "=Ben"
	var file *chat.File
	f.Check = func(r chat.Reply) {
		if r.File != nil {
			file = r.File
		}
	}
	f.Play(`
		@2026-11-23 06:40
		staff1: open 40 150 200
		staff1: [Confirm]
		@2026-11-23 21:05
		staff1: close 12 60 80
		staff1: [I looked: nothing there]
		staff1: 50x28 20x91 10x120
		staff1: 20x2
		staff1: [Confirm]
		@2026-11-24 09:00
		owner: credit 4375 for monday
		owner: [Mon 23 Nov, €5 are]
		owner: export november
	`)
	if file == nil || file.Name != "2026-11.csv" {
		t.Fatalf("file %+v", file)
	}
	// 28 x 50 + 91 x 20 + 120 x 10 = 4,420 paid out, 40 of it cancelled: due 4,380.
	// 150 - 91 + 2 = 61 twenties should be inside, 60 are: 20 missing.
	// The bank paid 4,375: 4,380 for Monday less 5 that it took off.
	const kit = "EUR,Example corner shop,Cash machine,"
	want := "date,from till,from bank,paid out,reversed,test notes,variance,due,credited,fees,charges,open," +
		"closed by,payment date,payment reference,currency,shop,machine,claim day,given up,paid for claim day," +
		"own fees in payment,charges taken off,claims of customers,unmatched or overpaid," +
		"change of bank account,entry,tax in own fees\r\n" +
		"2026-11-23,0.00,0.00,4420.00,40.00,0.00,-20.00,4380.00,4380.00,0.00,0.00,0.00,'=Ben,,," + kit +
		"2026-11-23,0.00,,,,,,,,0.00\r\n" +
		"2026-11-24,0.00,0.00,0.00,0.00,0.00,0.00,0.00,0.00,0.00,5.00,0.00,,,," +
		kit + "2026-11-24,0.00,,,,,,,,0.00\r\n" +
		"2026-11-24,,,,,,,,,,,,,2026-11-24,5," + kit + "2026-11-23,,4380.00,0.00,0.00,0.00,0.00,4380.00,5,\r\n" +
		"2026-11-24,,,,,,,,,,,,,2026-11-24,5," + kit + "2026-11-23,,0.00,0.00,5.00,0.00,0.00,-5.00,5,\r\n" +
		"total,0.00,0.00,4420.00,40.00,0.00,-20.00,4380.00,4380.00,0.00,5.00,0.00,,,," +
		"EUR,Example corner shop,,,0.00," +
		"4380.00,0.00,5.00,0.00,0.00,4375.00,,0.00\r\n"
	if got := string(file.Data); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

package desk_test

import (
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/checks"
)

// A shop that never types what its bank pays has every day of its years unpaid. What is done
// and asked reads no more rows by that than with thirty days unpaid.
func TestUnpaidDaysCostNothing(t *testing.T) {
	const few = 30
	many := checks.Size(t, 120, 300, 3_650)
	first, second := unpaidReads(t, few), unpaidReads(t, many)
	var all [2]time.Duration
	for i, a := range first {
		b := second[i]
		all[0], all[1] = all[0]+a.took, all[1]+b.took
		t.Logf("%-30s %4d rows, %7v of the processor with %d unpaid; %4d, %7v with %d", a.said, a.rows, a.took, few,
			b.rows, b.took, many)
		if a.said == "owner: month" { // its own range, whichever day of it this is
			if most := int64((31 + 12 + 7) * 7); b.rows > most {
				t.Errorf("%s reads %d rows, at most %d", a.said, b.rows, most)
			}
		} else if 5*b.rows > 6*a.rows+5*spare {
			t.Errorf("%s reads %d rows with %d days unpaid and %d with %d", a.said, a.rows, few, b.rows, many)
		}
	}
	t.Logf("in all %v and %v", all[0], all[1])
}

// spare are the rows that a question may read more: a page that is full, the newest and the
// oldest claims that are not the same any more.
const spare = 50

type cost struct {
	said string
	rows int64
	took time.Duration
}

// unpaidReads plays a day and what is asked about money after so many days unpaid.
func unpaidReads(t *testing.T, days int) (list []cost) {
	o := grownBy(t, 1, days, func(no int64) []books.Record {
		day := tradingDay(no)
		return day[:len(day)-1] // the bank does not pay
	})
	o.say(staff1, "help") // plans, and what is at hand from then on
	for _, said := range []string{
		"open 40 150 200", "[Confirm]", "topup 0 50 0", "[Confirm]", "close 10 100 80",
		"[I looked", "30x50 100x20 120x10", "[Confirm]", "owner: owed", "owner: [Day by day",
		"owner: [Next ones", "owner: owed 20 days ago", "owner: [Day by day", "owner: [Next ones",
		"owner: overview", "owner: day yesterday", "owner: float", "owner: month",
		"owner: credit 2900", "owner: cancel", "owner: credit 2899 for yesterday", "owner: [Another",
		"owner: cancel", "owner: credit 8700", "owner: cancel", "owner: credit 2900 for yesterday",
		"owner: [Confirm]", "owner: owed", "owner: debit 100 for yesterday", "owner: [Confirm]",
		"owner: debit 5", "owner: cancel", "owner: write off", "owner: [Earlier",
		"owner: cancel", "owner: match", "owner: undo", "owner: history", "owner: help",
		"owner: cash plan", "owner: 10 20 30", "owner: 1 2 3", "owner: cancel",
	} {
		who, what := staff1, said
		if asked, ok := strings.CutPrefix(said, "owner: "); ok {
			who, what = owner, asked
		}
		took, rows := o.timed(who, what)
		list = append(list, cost{said, rows, took})
	}
	return list
}

package desk_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/checks"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// aged is an office whose shop has traded for so many days, all of them paid for.
func aged(t *testing.T, days int) *office {
	t.Helper()
	o := newOffice(t)
	seq := int64(0)
	post := func(r books.Record) {
		tx, err := o.db.Begin(o.clock)
		ok(t, err)
		seq++
		id, _, err := tx.Handled(store.Arrival{Source: "past", Key: fmt.Sprint(seq)})
		ok(t, err)
		if r.Happened = o.clock; books.Daily(r.Kind) {
			r.Day = shop.DateOf(o.clock)
		}
		salt := func() ([]byte, error) { return make([]byte, 16), nil }
		ok(t, tx.Post(1, store.By{Person: 1, Settings: 1, Cause: id}, r, salt))
		ok(t, tx.Commit())
		o.clock = o.clock.Add(time.Hour)
	}
	for range days {
		next := o.clock.Add(24 * time.Hour)
		no := seq + 1
		post(books.Record{Kind: books.Opening, Figures: boxes(books.Loaded, 40, 150, 200)})
		post(books.Record{Kind: books.TopUp, Period: no, Figures: boxes(books.Added, 0, 10, 0)})
		left := boxes(books.Remaining, 30, 100, 80)
		post(books.Record{Kind: books.Count, Period: no, Figures: left})
		paid := boxes(books.PaidOut, 10, 60, 120)
		for i := range paid {
			paid[i].Box = 0
		}
		post(books.Record{Kind: books.Settlement, Period: no, Figures: paid, Due: decimal.NewFromInt(2900)})
		post(books.Record{Kind: books.Close, Period: no, Where: books.Cash})
		post(books.Record{Kind: books.Credit,
			Amounts: []books.Amount{{Field: books.Credited, Value: decimal.NewFromInt(2900)}},
			Parts:   []books.Part{{As: books.Pays, Of: seq - 1, Value: decimal.NewFromInt(2900)}}})
		o.clock = next
	}
	o.restart()
	o.speak()
	return o
}

// What a day at the machine reads does not grow with the days behind it.
func TestRowsDoNotGrow(t *testing.T) {
	const young = 30
	old := checks.Size(t, 60, 300, 3_000)
	first, second := dayReads(aged(t, young), young), dayReads(aged(t, old), old)
	for i, r := range first {
		t.Logf("%-24s %4d rows at %d days, %4d at %d", r.said, r.rows, young, second[i].rows, old)
		if s := second[i]; r.said == "owner: month" {
			// its own range: a month, what may be told ahead, a week to the checkpoint, and
			// the claims that were paid in it
			if most := int64((31 + 12 + 7) * 7); s.rows > most {
				t.Errorf("%s reads %d rows at %d days, at most %d", r.said, s.rows, old, most)
			}
		} else if 2*s.rows > 3*r.rows {
			t.Errorf("%s reads %d rows at %d days and %d at %d", r.said, r.rows, young, s.rows, old)
		}
	}
}

type reads struct {
	said string
	rows int64
}

// dayReads plays a day and counts the rows that each input reads. The slip of a week ago is
// corrected in it.
func dayReads(o *office, days int) (list []reads) {
	slip := (days-7)*6 + 4
	o.say(staff1, "help") // plans, and what is at hand from then on
	for _, said := range []string{
		"load", "[Why", "load until friday", "cash plan", "cancel",
		"open", "cancel", "open 40 150 200", "[Confirm]", "topup 0 50 0", "[Confirm]", "level 40 150 150",
		"[Confirm]", "status", "topup 0 20 0", "[Confirm]", "undo", "[Confirm]",
		"close 10 100 80", "[I looked", "30x50 100x20 120x10", "[Confirm]",
		"undo", "[Confirm]", "owner: day", "owner: day yesterday", "owner: month",
		"owner: float", "owner: float yesterday", "owner: owed", "owner: owed yesterday",
		"owner: credit 4700 for today", "owner: [Confirm]", "owner: history yesterday",
		"owner: correct", "owner: cancel", "owner: correct yesterday", "owner: cancel",
		fmt.Sprintf("owner: correct %d", slip), "owner: [The figures", "owner: [10s, paid", "owner: 119",
		"owner: [That is all", "owner: [Typed", "owner: [Confirm]", "owner: owed",
	} {
		before := o.db.RowsRead()
		o.clock = o.clock.Add(time.Minute)
		if asked, ok := strings.CutPrefix(said, "owner: "); ok && asked[0] == '[' {
			o.tap(owner, strings.Trim(asked, "[]"))
		} else if ok {
			o.say(owner, asked)
		} else if said[0] == '[' {
			o.tap(staff1, said[1:len(said)-1])
		} else {
			o.say(chat.Chat(staff1), said)
		}
		list = append(list, reads{said, o.db.RowsRead() - before})
	}
	return list
}

package desk_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
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

// BenchmarkDayAtAge plays one day of the first of so many shops with so many days behind
// each of them, by messages and taps, and then the owner's views. It tells the processor's
// time of the whole process (others on the machine do not count) for an input and for a
// view, the rows that the day and the views read, the file's size for a shop's day, and
// how many entries a second verify proves.
func BenchmarkDayAtAge(b *testing.B) {
	sizes := [][2]int{{1, 30}, {1, 300}, {1, 1000}, {1, 3650}, {100, 365}}
	if checks.Size(b, 1, 1, 2) == 2 {
		sizes = append(sizes, [2]int{1000, 365})
	}
	for _, size := range sizes {
		b.Run(fmt.Sprintf("shops=%d/days=%d", size[0], size[1]), func(b *testing.B) {
			benchmarkAge(b, size[0], size[1])
		})
	}
}

func benchmarkAge(b *testing.B, shops, days int) {
	o := grown(b, shops, days)
	began := checks.Processor(b)
	list, err := o.db.Reader().Verify(context.Background())
	ok(b, err)
	proved, entries := checks.Processor(b)-began, 0
	for _, r := range list {
		entries += r.Entries
	}
	size, err := os.Stat(o.path)
	ok(b, err)
	var inputs, views time.Duration
	var read, seen int64
	played, n, looked := 0, 0, 0
	for b.Loop() {
		played++
		o.say(staff1, "help")
		for _, said := range []string{"open", "40 150 200", "[Confirm]", "topup 0 50 0", "[Confirm]",
			"level 40 150 150",
			"[Confirm]", "topup 0 20 0", "[Confirm]", "undo", "[Confirm]", "close 10 100 80", "[I looked",
			"30x50 100x20 120x10", "[Confirm]"} {
			took, rows := o.timed(staff1, said)
			inputs, read, n = inputs+took, read+rows, n+1
		}
		for _, said := range []string{"day", "day yesterday", "month", "owed", "float", "load", "overview"} {
			took, rows := o.timed(owner, said)
			views, seen, looked = views+took, seen+rows, looked+1
		}
		o.clock = o.clock.Add(24 * time.Hour)
	}
	b.ReportMetric(0, "ns/op") // others on the machine are in it
	b.ReportMetric(float64(inputs.Microseconds())/float64(n), "cpu-µs/input")
	b.ReportMetric(float64(read)/float64(played), "rows/day")
	b.ReportMetric(float64(views.Microseconds())/float64(looked), "cpu-µs/view")
	b.ReportMetric(float64(seen)/float64(looked), "rows/view")
	b.ReportMetric(float64(size.Size())/float64(shops*days), "bytes/shop-day")
	b.ReportMetric(float64(entries)/proved.Seconds(), "proved/cpu-s")
}

// timed says or taps something, and gives what it took of the processor and read.
func (o *office) timed(who chat.Chat, said string) (time.Duration, int64) {
	o.clock = o.clock.Add(time.Minute)
	rows, began := o.db.RowsRead(), checks.Processor(o.t)
	if label, tap := strings.CutPrefix(said, "["); tap {
		o.tap(who, strings.TrimSuffix(label, "]"))
	} else {
		o.say(who, said)
	}
	return checks.Processor(o.t) - began, o.db.RowsRead() - rows
}

// grown is an office on a file of shops that have all traded for so many days, each paid for. That of one
// shop goes on from the longest that was grown before.
func grown(t testing.TB, shops, days int) *office {
	t.Helper()
	if shops > 1 {
		return grownBy(t, shops, days, tradingDay)
	}
	before, o := 0, (*office)(nil)
	for n := range grownAlone {
		if n <= days {
			before = max(before, n)
		}
	}
	if before == 0 {
		o = newOffice(t)
	} else {
		o = &office{t: t, path: filepath.Join(t.TempDir(), "shop.db"), clock: sixOClock.AddDate(0, 0, before)}
		ok(t, os.WriteFile(o.path, grownAlone[before], 0o600))
		o.start()
	}
	o.trades(shops, before, days, tradingDay)
	file, err := os.ReadFile(o.closed())
	ok(t, err)
	grownAlone[days] = file
	o.start()
	o.speak()
	return o
}

// grownAlone are files of one shop by the days that it traded. No two tests grow one at a time.
var grownAlone = map[int][]byte{}

// grownBy is one whose days are of these records, of which the first is given its number.
func grownBy(t testing.TB, shops, days int, of func(no int64) []books.Record) *office {
	t.Helper()
	o := newOffice(t)
	more := make([]store.NewShop, shops-1)
	for i := range more {
		more[i] = store.NewShop{Settings: shop.Example(),
			Accounts: map[chat.Chat]shop.PersonID{chat.Chat(fmt.Sprintf("tg:%d", 9_000_000+i)): 1}}
	}
	_, err := o.db.AddShops(o.clock, more)
	ok(t, err)
	o.trades(shops, 0, days, of)
	o.restart()
	o.speak()
	return o
}

// trades lets shops trade from one day until another.
func (o *office) trades(shops, from, days int, of func(no int64) []books.Record) {
	o.t.Helper()
	for n := from; n < days; n++ {
		tx, err := o.db.Begin(o.clock)
		ok(o.t, err)
		for id := range shops {
			for i, r := range of(int64(n*len(of(1))) + 1) {
				if r.Happened = o.clock.Add(time.Duration(i) * time.Hour); books.Daily(r.Kind) {
					r.Day = shop.DateOf(r.Happened)
				}
				cause, _, err := tx.Handled(store.Arrival{Source: "past", Key: fmt.Sprint(id, o.clock.Unix(), i)})
				ok(o.t, err)
				salt := func() ([]byte, error) { return make([]byte, 16), nil }
				by := store.By{Person: 1, Settings: 1, Cause: cause}
				ok(o.t, tx.Post(shop.MachineID(id+1), by, r, salt))
			}
		}
		ok(o.t, tx.Commit())
		o.clock = o.clock.Add(24 * time.Hour)
	}
}

// tradingDay are the records of a day that begins with the record of this number.
func tradingDay(no int64) []books.Record {
	paid := boxes(books.PaidOut, 10, 60, 120)
	for i := range paid {
		paid[i].Box = 0
	}
	due := decimal.NewFromInt(2900)
	return []books.Record{
		{Kind: books.Opening, Figures: boxes(books.Loaded, 40, 150, 200)},
		{Kind: books.TopUp, Period: no, Figures: boxes(books.Added, 0, 10, 0)},
		{Kind: books.Count, Period: no, Figures: boxes(books.Remaining, 30, 100, 80)},
		{Kind: books.Settlement, Period: no, Figures: paid, Due: due},
		{Kind: books.Close, Period: no, Where: books.Cash},
		{Kind: books.Credit, Amounts: []books.Amount{{Field: books.Credited, Value: due}},
			Parts: []books.Part{{As: books.Pays, Of: no + 3, Value: due}}},
	}
}

// BenchmarkUnpaid asks and does, again and again, what a shop whose days are not paid asks and does,
// with so many of them behind it: the processor's time of the whole process for each.
func BenchmarkUnpaid(b *testing.B) {
	for _, days := range []int{30, 300, 2000, 3650} {
		o := grownBy(b, 1, days, func(no int64) []books.Record {
			day := tradingDay(no)
			return day[:len(day)-1] // the bank does not pay
		})
		for _, said := range []string{"owed", "owed yesterday", "owed 20 days ago", "credit 2900", "credit 8700",
			"credit 2899 for yesterday", "write off", "cash plan", "close"} {
			b.Run(fmt.Sprintf("days=%d/%s", days, said), func(b *testing.B) {
				var took time.Duration
				var rows int64
				n := 0
				for b.Loop() {
					t, r := o.timed(owner, said)
					took, rows, n = took+t, rows+r, n+1
					o.timed(owner, "cancel")
				}
				b.ReportMetric(0, "ns/op")
				b.ReportMetric(float64(took.Microseconds())/float64(n), "cpu-µs/input")
				b.ReportMetric(float64(rows)/float64(n), "rows/input")
			})
		}
	}
}

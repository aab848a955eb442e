package store_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"shopfloat/internal/books"
	"shopfloat/internal/checks"
	"shopfloat/internal/journal"
	"shopfloat/internal/months"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
	"shopfloat/internal/tally"
)

// Days told from a checkpoint on are as they are told from the first record on,
// whatever was recorded, taken back and corrected; and they read less.
func TestLately(t *testing.T) {
	fewer := 0
	checks.Rapid(t, 1, 12, 2_000, func(rt *rapid.T) { fewer += toldLately(t, rt, 5) })
	// where nothing is put right, something is told from a checkpoint whatever is drawn
	checks.Rapid(t, 1, 2, 200, func(rt *rapid.T) { fewer += toldLately(t, rt, never) })
	if fewer == 0 {
		t.Error("nothing was told from a checkpoint")
	}
}

// never: nothing is put right.
const never = 0

// toldLately plays days on which something is put right on one in so many, and gives how many were told
// from a checkpoint, as they are told from the first record.
func toldLately(t *testing.T, rt *rapid.T, seldom int) (fewer int) {
	db, path := open(t)
	defer func() { _ = db.Close() }()
	l := newLedger(t, db)
	l.trades(rt, 40, seldom)
	within(t, db, l.now, func(tx *store.Tx) {
		s, err := tx.Shop(1)
		ok(t, err)
		kit := s.Machine(1)
		all, err := tx.Entries(1, time.Time{})
		ok(t, err)
		for back := range 40 {
			from := shop.DateOf(l.now).Add(-back)
			then, since, err := tx.Lately(1, from)
			ok(t, err)
			if then == nil {
				continue
			}
			fewer++
			want, err := tally.Of(s, kit, all, from, from.Add(3))
			ok(t, err)
			got, err := tally.On(s, kit, then, since, from, from.Add(3))
			ok(t, err)
			if len(since) >= len(all) || !reflect.DeepEqual(inWords(got.Days), inWords(want.Days)) {
				rt.Fatalf("from %s on, with %d of %d entries:\n%v\nwant\n%v", from, len(since), len(all),
					inWords(got.Days), inWords(want.Days))
			}
		}
	})
	for _, rep := range verify(t, path) { // corrections too were worked out from a checkpoint on
		if len(rep.Faults) > 0 {
			rt.Fatalf("%+v", rep)
		}
	}
	return fewer
}

// trades plays days of trading with anything in them, finishes months now and then, and puts something
// right on one day in so many.
func (l *ledger) trades(rt *rapid.T, days, seldom int) (finished []shop.Finished) {
	post := func(r books.Record) {
		if r.Happened = l.now; books.Daily(r.Kind) {
			r.Day = shop.DateOf(l.now)
		}
		_ = l.try(r) // the books may refuse it
	}
	var slips, periods []int64 // and whatever took their place
	for range days {
		no := l.books().Seq + 1
		post(books.Record{Kind: books.Opening, Figures: boxes(books.Loaded, 40, 150, 200)})
		for range rapid.IntRange(0, 2).Draw(rt, "records") {
			post(record(rt, l.books()))
		}
		post(books.Record{Kind: books.Count, Period: no, Figures: boxes(books.Remaining, 30, 100, 80)})
		post(books.Record{Kind: books.Settlement, Period: no, Figures: printed(books.PaidOut, 10, 50, 120)})
		slips, periods = append(slips, l.books().Seq), append(periods, no)
		post(books.Record{Kind: books.Close, Period: no, Where: books.Cash})
		if seldom != never && rapid.IntRange(1, seldom).Draw(rt, "far") == 1 {
			l.putRight(rt, slips, periods)
		}
		if of := rapid.SampledFrom(slips).Draw(rt, "slip"); rapid.Bool().Draw(rt, "paid") {
			value := decimal.NewFromInt(rapid.Int64Range(1, 2700).Draw(rt, "value"))
			post(books.Record{Kind: books.Credit, Amounts: []books.Amount{{Field: books.Credited, Value: value}},
				Parts: []books.Part{{As: books.Pays, Of: of, Value: value}}})
		}
		before := shop.DateOf(l.now.AddDate(0, 0, -l.now.Day()))
		month := string(before[:len("2006-01")])
		done := slices.ContainsFunc(finished, func(f shop.Finished) bool { return f.Month == month })
		if !done && rapid.IntRange(0, 3).Draw(rt, "finish") == 0 {
			within(l.t, l.db, l.now, func(tx *store.Tx) { ok(l.t, tx.FinishMonth(owner, 1, month)) })
			finished = append(finished, shop.Finished{Month: month, By: 1, At: l.now,
				Upto: map[shop.MachineID]int64{1: l.books().Seq}})
		}
		l.now = l.now.Add(24 * time.Hour)
	}
	return finished
}

// putRight corrects something however long ago it was, twice perhaps, or takes the last of that back: a slip
// by other figures, by none or into another period, what the bank paid for to a slip of any day.
func (l *ledger) putRight(rt *rapid.T, slips, periods []int64) {
	last := l.books().Seq
	for range rapid.IntRange(1, 2).Draw(rt, "corrections") {
		slip := rapid.SampledFrom(slips).Draw(rt, "wrong")
		in := &books.Record{Kind: books.Settlement, Happened: l.now,
			Period:  slip - rapid.Int64Range(2, 4).Draw(rt, "of"),
			Figures: printed(books.PaidOut, 10, rapid.Int64Range(0, 90).Draw(rt, "20s"), 120)}
		switch rapid.IntRange(0, 5).Draw(rt, "how") {
		case 0:
			in = nil
		case 1:
			in.Period = rapid.SampledFrom(periods).Draw(rt, "to")
		case 2:
			value := decimal.NewFromInt(rapid.Int64Range(1, 900).Draw(rt, "part"))
			slip = rapid.Int64Range(1, last).Draw(rt, "payment")
			in = &books.Record{Kind: books.Credit, Happened: l.now,
				Amounts: []books.Amount{{Field: books.Credited, Value: value}},
				Parts:   []books.Part{{As: books.Pays, Of: rapid.SampledFrom(slips).Draw(rt, "paid for"), Value: value}}}
		}
		_ = l.try(books.Ruled(books.Record{Kind: books.Correction, Target: slip, Reason: books.Mistyped,
			Instead: in}))
	}
	if at := l.books().Seq; at > last && rapid.IntRange(0, 2).Draw(rt, "back") == 0 {
		_ = l.try(books.Record{Kind: books.Undo, Target: at})
	}
}

// Finished months, and what became of them since, are told from a checkpoint on as they are
// from the first record on, and so is the journal.
func TestFinishedFromACheckpoint(t *testing.T) {
	fewer := 0
	checks.Rapid(t, 1, 12, 2_000, func(rt *rapid.T) {
		db, _ := open(t)
		defer func() { _ = db.Close() }()
		l := newLedger(t, db)
		finished := l.trades(rt, 80, 40)
		within(t, db, l.now, func(tx *store.Tx) {
			s, err := tx.Shop(1)
			ok(t, err)
			kit := s.Machine(1)
			all, err := tx.Entries(1, time.Time{})
			ok(t, err)
			read := func(then *books.Machine, list []books.Entry, err error) (*books.Machine, []books.Entry) {
				if ok(t, err); then == nil {
					then = books.New(1)
				}
				return then, list
			}
			lately := func(from shop.Date) (*books.Machine, []books.Entry) { return read(tx.Lately(1, from)) }
			back := func(seq int64) (*books.Machine, []books.Entry) { return read(tx.Before(1, seq)) }
			local := func(at time.Time) shop.Date { return shop.DateOf(at.In(s.Location)) }
			whole, err := journal.Finished(s, 1, all, finished)
			ok(t, err)
			for ago := 0; ago < 80; ago += 21 / checks.Size(t, 1, 3, 3) {
				from := shop.DateOf(l.now).Add(-ago)
				then, since := months.Reaching(months.Of(finished, 1), from, from.Add(20), local, lately, back)
				if then.Seq > 0 {
					fewer++
				}
				want, err := tally.Finished(s, kit, all, from, from.Add(20), finished)
				ok(t, err)
				got, err := tally.FinishedOn(s, kit, then, since, from, from.Add(20), finished)
				ok(t, err)
				if !got.Astray() && !reflect.DeepEqual(inWords(got.Days), inWords(want.Days)) ||
					!tally.Came(got.Payments).Came().Equal(tally.Came(want.Payments).Came()) {
					rt.Fatalf("from %s on, with %d of %d entries, %v:\n%v\nwant\n%v", from, len(since), len(all),
						finished, inWords(got.Days), inWords(want.Days))
				}
				less, err := journal.FinishedOn(s, then, since, finished)
				ok(t, err)
				if have, want := journalOf(t, s, less, from), journalOf(t, s, whole, from); have != want {
					rt.Fatalf("the journal from %s on, with %d of %d entries, %v:\n%s\nwant\n%s", from, len(since),
						len(all), finished, have, want)
				}
			}
		})
	})
	// in one case of three a correction reaches behind all checkpoints
	if fewer == 0 && checks.Size(t, 1, 12, 12) > 1 {
		t.Error("nothing was told from a checkpoint")
	}
}

// journalOf writes transactions of some weeks.
func journalOf(t *testing.T, s *shop.Shop, list []journal.Transaction, from shop.Date) string {
	t.Helper()
	var b strings.Builder
	ok(t, journal.Write(&b, []journal.Ledger{{Shop: s, Machine: s.Machine(1), Transactions: list}},
		journal.Options{From: from, To: from.Add(20)}))
	return b.String()
}

// inWords writes days so that equal sums are equal.
func inWords(days []*tally.Day) (list []string) {
	for _, d := range days {
		line := d.Name()
		for _, v := range d.Amounts() {
			line += " " + v.String()
		}
		for _, p := range d.Periods {
			line += " " + string(p.Status) + " " + string(p.Verdict) + " " + p.Variance.String()
		}
		list = append(list, line)
	}
	return list
}

// A slip that was moved to an earlier period, and back from there, is learnt of neither twice
// nor where it was.
func TestLearntOfASlipMovedTwice(t *testing.T) {
	db, path := open(t)
	defer func() { _ = db.Close() }()
	l := newLedger(t, db)
	var periods, slips []int64
	for range 3 {
		today := shop.DateOf(l.now)
		no := l.books().Seq + 1
		l.post(books.Record{Kind: books.Opening, Happened: l.now, Day: today,
			Figures: boxes(books.Loaded, 40, 150, 200)},
			books.Record{Kind: books.Count, Happened: l.now, Period: no, Figures: boxes(books.Remaining, 30, 100, 80)},
			books.Record{Kind: books.Settlement, Happened: l.now, Day: today, Period: no,
				Figures: printed(books.PaidOut, 10, 50, 120)},
			books.Record{Kind: books.Close, Happened: l.now, Period: no, Where: books.Cash})
		periods, slips = append(periods, no), append(slips, no+2)
		l.now = l.now.Add(24 * time.Hour)
	}
	for _, to := range []int64{periods[0], periods[2]} {
		l.post(books.Record{Kind: books.Correction, Happened: l.now, Reason: books.Misplaced, Target: slips[2],
			Period: periods[2],
			Instead: &books.Record{Kind: books.Settlement, Happened: l.now.Add(-24 * time.Hour), Period: to,
				Day: shop.DateOf(l.now).Add(-1), Figures: printed(books.PaidOut, 10, 50, 120)}})
	}
	for _, rep := range verify(t, path) {
		if len(rep.Faults) > 0 {
			t.Error(rep.Faults)
		}
	}
}

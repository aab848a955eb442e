package desk_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/checks"
	"shopfloat/internal/gather"
	"shopfloat/internal/journal"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// What a day at the machine reads does not grow with the days behind it.
func TestRowsDoNotGrow(t *testing.T) {
	const young = 30
	old := checks.Size(t, 60, 150, 3_000)
	// what advice goes by is read in parts of a hundred closed periods, of three years at most
	learnt := int64(min(old, 1_300) / 100)
	const told = 3 // the accounts of the shop's people, where a message goes to somebody else as well
	first, second := dayReads(grown(t, 1, young), young), dayReads(grown(t, 1, old), old)
	for i, r := range first {
		t.Logf("%-24s %4d rows at %d days, %4d at %d", r.said, r.rows, young, second[i].rows, old)
		if s := second[i]; r.said == "owner: month" {
			// its own range: a month, what may be told ahead, a week to the checkpoint, and
			// the claims that were paid in it
			if most := int64((31 + 12 + 7) * 7); s.rows > most {
				t.Errorf("%s reads %d rows at %d days, at most %d", r.said, s.rows, old, most)
			}
		} else if 2*(s.rows-learnt-told) > 3*r.rows {
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

// What a month reads whose months before are finished, with all that was put right since, is
// bounded by its own days and those of the month before.
func TestRowsOfFinishedMonths(t *testing.T) {
	days := checks.Size(t, 100, 150, 2_000)
	o := grown(t, 1, days)
	first := time.Date(o.clock.Year(), o.clock.Month(), 1, 0, 0, 0, 0, time.UTC)
	tx, err := o.db.Begin(o.clock)
	ok(t, err)
	for m := first.AddDate(0, -1, 0); m.After(o.clock.AddDate(0, 0, -days)); m = m.AddDate(0, -1, 0) {
		ok(t, tx.FinishMonth(owner, 1, m.Format("2006-01")))
	}
	ok(t, tx.Commit())
	// a month, the one before, what may be told ahead, and weeks to the checkpoints; twice, since
	// what was recorded in it says how far it reaches
	most := int64(2 * (31 + 31 + 12 + 14) * 8)
	last := strings.ToLower(first.AddDate(0, -1, 0).Month().String())
	for _, said := range []string{"owed", "owed all", "month", "month all", "export", "export xlsx",
		"export all", "export pdf", "export journal", "month " + last} {
		o.shown()
		o.clock = o.clock.Add(time.Minute)
		before := o.db.RowsRead()
		o.take(o.raw(owner, said))
		rows := o.db.RowsRead() - before
		if o.flush(); len(o.shown()) == 0 {
			t.Errorf("%s: nothing is said", said)
		}
		t.Logf("%-16s %5d rows at %d days", said, rows, days)
		if rows > most {
			t.Errorf("%s reads %d rows at %d days, at most %d", said, rows, days, most)
		}
	}
}

// Once a slip of long ago was put right, what is asked of the days since reads its own range again,
// and another such slip reads no more than the days since itself.
func TestRowsAfterAFarCorrection(t *testing.T) {
	days := checks.Size(t, 150, 200, 1_000)
	o := grown(t, 1, days)
	views := []string{"month", "day yesterday", "owed yesterday", "float yesterday", "history yesterday",
		"correct yesterday"}
	rows := func(said string) int64 {
		o.clock = o.clock.Add(time.Minute)
		before := o.db.RowsRead()
		if label, tap := strings.CutPrefix(said, "["); tap {
			o.tap(owner, strings.TrimSuffix(label, "]"))
		} else {
			o.say(owner, said)
		}
		return o.db.RowsRead() - before
	}
	o.say(owner, "help")
	fresh := map[string]int64{}
	for _, said := range views {
		fresh[said] = rows(said)
		o.say(owner, "cancel")
	}
	far := func(ago int) (read int64) {
		for _, said := range []string{fmt.Sprintf("correct %d", (days-ago)*6+4), "[The figures", "[10s, paid",
			"119", "[That is all", "[Typed", "[Confirm]"} {
			read = rows(said)
		}
		return read
	}
	first := far(100)
	for _, ago := range []int{50, 49} {
		for _, said := range views {
			now := rows(said)
			o.say(owner, "cancel")
			t.Logf("%-20s %5d rows, %5d before", said, now, fresh[said])
			if now > fresh[said]*3/2 {
				t.Errorf("%s reads %d rows behind a correction of 100 days ago, %d before it", said, now, fresh[said])
			}
		}
		if second := far(ago); second > first*2/3 {
			t.Errorf("a slip of 50 days ago reads %d rows, one of 100 days ago %d", second, first)
		}
	}
	if n := o.ask("SELECT count(*) FROM entry WHERE kind = 'correction'"); n != "3" {
		t.Errorf("%s corrections", n)
	}
	list, err := o.db.Reader().Verify(t.Context())
	ok(t, err)
	for _, r := range list {
		if len(r.Faults) > 0 {
			t.Errorf("%q", r.Faults)
		}
	}
}

// A month's journal that a command writes reads its own range, and says what the whole ledger says of it.
func TestRowsOfAJournal(t *testing.T) {
	days := checks.Size(t, 120, 200, 2_000)
	o := grown(t, 1, days)
	first := time.Date(o.clock.Year(), o.clock.Month(), 1, 0, 0, 0, 0, time.UTC)
	o.within(func(tx *store.Tx) error {
		return tx.FinishMonth(owner, 1, first.AddDate(0, -3, 0).Format("2006-01"))
	})
	r, err := store.OpenReader(t.Context(), o.path)
	ok(t, err)
	defer func() { _ = r.Close() }()
	span := gather.Span{From: shop.DateOf(first), To: shop.DateOf(o.clock)}
	written := func(of gather.Span) (string, int64) {
		before := r.RowsRead()
		list, err := gather.Journals(t.Context(), r, 0, of)
		ok(t, err)
		var b strings.Builder
		ok(t, journal.Write(&b, list, journal.Options{From: span.From, To: span.To}))
		return b.String(), r.RowsRead() - before
	}
	whole, all := written(gather.Span{})
	own, rows := written(span)
	t.Logf("%d rows of %d at %d days", rows, all, days)
	if own != whole || !strings.Contains(own, string(span.From)) {
		t.Errorf("from %s:\n%s\nof the whole ledger:\n%s", span.From, own, whole)
	}
	// a month, what may be told ahead, weeks to the checkpoint, and claims that were paid in it
	if most := int64((31 + 12 + 14) * 8); rows > most || all < int64(days*6) {
		t.Errorf("%d rows of %d are read, at most %d should be", rows, all, most)
	}
}

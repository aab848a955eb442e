package abacus_test

import (
	"errors"
	"reflect"
	"slices"
	"time"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"shopfloat/internal/abacus"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// shopOf draws a shop, and the date on which its history begins: sixty days from
// there hold a change of the clocks, a leap day, a year's end or just holidays.
func shopOf(t *rapid.T) (*shop.Shop, shop.Date) {
	where := rapid.SampledFrom([][2]string{{"IE", "Europe/Dublin"}, {"US", "America/New_York"},
		{"JP", "Asia/Tokyo"}, {"AU", "Australia/Adelaide"}}).Draw(t, "where")
	from := rapid.SampledFrom([]shop.Date{"2026-10-01", "2026-11-20", "2027-02-25", "2028-01-25",
		"2026-07-01"}).Draw(t, "from")
	s := shop.Example()
	s.Country, s.Zone, s.Nightly = where[0], where[1], rapid.Bool().Draw(t, "nightly")
	s.Machines[0].Boxes = []shop.Box{
		{Position: 1, Face: "50", Capacity: 2000}, {Position: 2, Face: "20", Capacity: 2000},
		{Position: 3, Face: "20", Capacity: 2000}, {Position: 4, Face: "10", Capacity: 2000}}
	return laidDown(t, 1, s), from
}

// laidDown draws hours and gives a version of the shop that has them.
func laidDown(t *rapid.T, version int64, s shop.Settings) *shop.Shop {
	usual := rapid.SampledFrom([]shop.Hours{{Open: 7 * 60, Close: 21 * 60}, {Open: 10 * 60, Close: 30},
		{Open: 17 * 60, Close: 2 * 60}, {Open: 8*60 + 15, Close: 20 * 60}}).Draw(t, "hours")
	free := rapid.SliceOfN(rapid.IntRange(0, 6), 0, 2).Draw(t, "free")
	for day := range s.Hours {
		if s.Hours[day] = usual; slices.Contains(free, day) {
			s.Hours[day] = shop.Hours{}
		}
	}
	s.Plan.TradesOnHolidays = rapid.Bool().Draw(t, "holidays")
	made, err := shop.New(1, version, s)
	if err != nil {
		t.Fatal(err)
	}
	return made
}

// history plays a shop's records at the level of the books.
type history struct {
	*rapid.T
	shop    *shop.Shop
	cal     *abacus.Calendar // of that shop
	date    shop.Date        // of the clock on the wall
	now     time.Time
	m       *books.Machine
	entries []books.Entry
	moves   map[int64][]books.Move
	days    map[int64]shop.Date // the day each record was given when it was made
	stood   []*books.Machine    // the books after closes, to fold on from: nothing before them was changed since
}

func begun(t *rapid.T) *history {
	h := &history{T: t, m: books.New(1), moves: map[int64][]books.Move{}, days: map[int64]shop.Date{}}
	h.shop, h.date = shopOf(t)
	return h
}

func (h *history) n(what string, most int64) int64 { return rapid.Int64Range(0, most).Draw(h.T, what) }

// one reports something that is so once in so many times.
func (h *history) one(in int, what string) bool { return rapid.IntRange(1, in).Draw(h.T, what) == 1 }

// at puts the clock on, to a time of the day under way, in minutes; never back.
func (h *history) at(minutes int) {
	at := reminders.Instant(h.shop.Location, h.date, minutes)
	if at.After(h.now) {
		h.now = at
	}
	h.now = h.now.Add(time.Minute)
}

// calendar is that of the shop as it is now.
func (h *history) calendar() *abacus.Calendar {
	if h.cal == nil || h.cal.Shop != h.shop {
		h.cal = abacus.CalendarOf(h.shop)
	}
	return h.cal
}

// day gives a record its day as a dialog does, and holds it against the calendar.
func (h *history) day(r books.Record) shop.Date {
	if !books.Daily(r.Kind) {
		return ""
	}
	c, at := h.calendar(), r.Happened
	is, own := reminders.Today(h.shop, at), c.Happens(at)
	switch p := h.m.Period(r.Period); {
	case r.Kind == books.Opening:
		is, own = reminders.DayOf(h.shop, at), c.Opens(at)
	case r.Kind == books.Settlement && p != nil:
		if !p.CountedAt.IsZero() && p.CountedAt.Before(at) {
			at = p.CountedAt
		}
		is, own = reminders.SlipDay(h.shop, p.Date, at), c.Slip(p.Date, at)
	}
	if is != own {
		h.Fatalf("%s at %s is of %s, by the calendar of %s", r.Kind, at, is, own)
	}
	return is
}

// record makes a record now, unless the books refuse it.
func (h *history) record(r books.Record) bool { return h.recordAt(h.now, r) }

func (h *history) recordAt(at time.Time, r books.Record) bool {
	r.Happened = at.UTC()
	r.Day = h.day(r)
	r = books.Ruled(r)
	seq := h.m.Seq + 1
	e := books.Entry{Record: r, Machine: 1, Seq: seq, By: 1, Settings: h.shop.Version,
		Recorded: h.now.UTC()}
	var after *books.Machine
	var moves []books.Move
	var err error
	switch r.Kind {
	case books.Correction:
		then := h.stoodBefore(e.ChangesFrom())
		after, moves, err = h.m.CorrectOn(then, h.entries[then.Seq:], e)
	case books.Undo:
		after, moves, err = h.undo(e)
	default:
		after = h.m.Clone()
		moves, err = after.Post(e)
	}
	if err != nil {
		return false
	}
	h.m, h.entries, h.moves[seq], h.days[seq] = after, append(h.entries, e), moves, r.Day
	if from := h.changes(e); from > 0 {
		h.stood = slices.DeleteFunc(h.stood, func(m *books.Machine) bool { return m.Seq >= from })
	}
	if r.Kind == books.Close {
		h.stood = append(h.stood, after)
	}
	return true
}

// changes is the first entry of which a record changes the effect; 0 where it changes none.
func (h *history) changes(e books.Entry) int64 {
	switch {
	case e.Kind == books.Undo && h.entries[e.Target-1].Kind == books.Correction:
		return h.changes(h.entries[e.Target-1])
	case e.Kind == books.Correction:
		return e.ChangesFrom()
	}
	return e.Target
}

// stoodBefore gives the books after the last close before an entry of those that still hold.
func (h *history) stoodBefore(seq int64) *books.Machine {
	then := books.New(1)
	for _, m := range h.stood {
		if m.Seq < seq {
			then = m
		}
	}
	return then
}

// undo takes the record back if nothing rests on it, from the last close before it on as
// the store does.
func (h *history) undo(e books.Entry) (*books.Machine, []books.Move, error) {
	moves := books.Reverse(h.moves[e.Target])
	balance := h.m.Balance.Clone()
	if err := balance.Apply(moves); err != nil {
		return nil, nil, err
	}
	then := h.stoodBefore(e.Target)
	after, err := books.FoldOn(then, append(slices.Clone(h.entries[then.Seq:]), e))
	if err == nil && !reflect.DeepEqual(balance, after.Balance) {
		err = errors.New("later records rest on it") // as the store has it
	}
	return after, moves, err
}

func (h *history) boxes(field books.Field, most int64) (list []books.Figure) {
	for _, b := range h.shop.Machines[0].Boxes {
		n := h.n(string(field), most)
		list = append(list, books.Figure{Field: field, Box: b.Position, Face: b.Face, Notes: n})
	}
	return list
}

func (h *history) kinds(field books.Field, most int64) (list []books.Figure) {
	for _, face := range []cashmath.Face{"50", "20", "10"} {
		if n := h.n(string(field), most); n > 0 {
			list = append(list, books.Figure{Field: field, Face: face, Notes: n})
		}
	}
	return list
}

func (h *history) box(field books.Field, most int64) []books.Figure {
	return rapid.Permutation(h.boxes(field, most)).Draw(h.T, "box")[:1]
}

func (h *history) money(most int64) decimal.Decimal {
	return decimal.New(1+h.n("cents", most*100), -2)
}

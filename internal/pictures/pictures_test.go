package pictures_test

import (
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/pictures"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// yard is an invented shop and its ledger in the making.
type yard struct {
	t *testing.T
	m pictures.Machine
}

func newYard(t *testing.T) *yard {
	t.Helper()
	sh, err := shop.New(1, 1, shop.Example())
	if err != nil {
		t.Fatal(err)
	}
	catalogue, err := texts.Load()
	if err != nil {
		t.Fatal(err)
	}
	voice := catalogue.In("en", sh.Country, sh.Currency)
	return &yard{t, pictures.Machine{Voice: voice, Shop: sh, Kit: sh.Machine(1)}}
}

func (y *yard) post(date shop.Date, hour int, r books.Record) int64 {
	d := date.Time()
	at := time.Date(d.Year(), d.Month(), d.Day(), hour, 5, 0, 0, y.m.Shop.Location)
	r.Happened = at.UTC()
	seq := int64(len(y.m.Entries)) + 1
	y.m.Entries = append(y.m.Entries,
		books.Entry{Record: r, Machine: 1, Seq: seq, By: 1, Settings: 1, Recorded: at.UTC()})
	y.m.Now = at
	return seq
}

// day loads 100 of each kind, pays out 40, and misses some twenties.
func (y *yard) day(date shop.Date, missing int64) {
	var in, left, paid []books.Figure
	for _, b := range y.m.Kit.Boxes {
		n := int64(60)
		if b.Face == "20" {
			n -= missing
		}
		in = append(in, books.Figure{Field: books.Loaded, Box: b.Position, Face: b.Face, Notes: 100})
		left = append(left, books.Figure{Field: books.Remaining, Box: b.Position, Face: b.Face, Notes: n})
		paid = append(paid, books.Figure{Field: books.PaidOut, Face: b.Face, Notes: 40})
	}
	no := y.post(date, 7, books.Record{Kind: books.Opening, Figures: in})
	y.post(date, 20, books.Record{Kind: books.Count, Period: no, Figures: left})
	due := decimal.NewFromInt(3200)
	y.post(date, 21, books.Record{Kind: books.Settlement, Period: no, Figures: paid, Due: due})
	y.post(date, 22, books.Record{Kind: books.Close, Period: no, Where: books.Cash})
}

func (y *yard) draw(name string) pictures.Sheet {
	y.t.Helper()
	s, err := pictures.Of(name)(y.m)
	if err != nil {
		y.t.Fatal(err)
	}
	return s
}

// figures gives the points of a row as whole numbers by place.
func figures(r pictures.Row) map[int]int {
	all := map[int]int{}
	for _, p := range r.Points {
		all[int(p.X)] = int(p.Y)
	}
	return all
}

// Two days at the end of a month's span: 40 of each of 50, 20 and 10 are 3,200 a day; two
// twenties missing are 40 less; the bank owes both days.
func TestMonth(t *testing.T) {
	y := newYard(t)
	y.day("2026-11-23", 0)
	y.day("2026-11-24", 2)
	s := y.draw("month")
	paid, off := figures(s.Graphs[0].Rows[0]), figures(s.Graphs[1].Rows[0])
	owed := figures(s.Graphs[2].Rows[0])
	if paid[29] != 3200 || paid[30] != 3200 || len(paid) != 2 {
		t.Errorf("paid %v", paid)
	}
	if off[29] != 0 || off[30] != -40 {
		t.Errorf("off %v", off)
	}
	if owed[29] != 3200 || owed[30] != 6400 {
		t.Errorf("owed %v", owed)
	}
	if s.Title != "Example corner shop: the last month" || len(s.Graphs[0].Marks) > 6 {
		t.Errorf("%s, %d marks", s.Title, len(s.Graphs[0].Marks))
	}
}

// From 100 in the morning to what was counted 13 hours later; a check in between shows.
func TestLevel(t *testing.T) {
	y := newYard(t)
	y.day("2026-11-24", 1)
	s := y.draw("level")
	if len(s.Graphs) != 3 {
		t.Fatalf("%d graphs", len(s.Graphs))
	}
	if got := figures(s.Graphs[1].Rows[0]); got[0] != 100 || got[13] != 59 || len(got) != 2 {
		t.Errorf("twenties %v", got)
	}
}

// A twenty missing on every third day: bars down on those days, and the sum passes its limit.
func TestDifferences(t *testing.T) {
	y := newYard(t)
	for i := range 45 {
		missing := int64(0)
		if i%3 == 0 {
			missing = 1
		}
		y.day(shop.Date("2026-10-01").Add(i), missing)
	}
	twenties := y.draw("differences").Graphs[1]
	day, sum, limit := twenties.Rows[0], twenties.Rows[1], twenties.Rows[2].Points[0].Y
	if day.Points[0].Y != -1 || day.Points[1].Y != 0 || sum.Points[44].Y > -limit {
		t.Errorf("days %v, sum %v, limit %v", day.Points[:4], sum.Points[44], limit)
	}
}

// Out of service for two hours in the afternoon.
func TestFaults(t *testing.T) {
	y := newYard(t)
	y.day("2026-11-23", 0)
	began := y.post("2026-11-24", 14, books.Record{Kind: books.Incident,
		Trouble: &books.Trouble{Topic: "offline"}})
	y.post("2026-11-24", 14, books.Record{Kind: books.News, Target: began,
		Trouble: &books.Trouble{Ending: books.OutOfService, Out: y.m.Now.UTC()}})
	y.post("2026-11-24", 16, books.Record{Kind: books.News, Target: began,
		Trouble: &books.Trouble{Ending: books.Solved}})
	s := y.draw("faults")
	hours, begun := figures(s.Graphs[0].Rows[0]), figures(s.Graphs[1].Rows[0])
	if hours[60] != 2 || begun[60] != 1 || hours[59] != 0 {
		t.Errorf("hours %v, begun %v", hours, begun)
	}
}

// A shop that has done nothing yet has pictures without graphs or with empty ones.
func TestNothingYet(t *testing.T) {
	y := newYard(t)
	y.m.Now = time.Date(2026, 11, 24, 12, 0, 0, 0, time.UTC)
	for _, name := range []string{"month", "level", "differences", "faults"} {
		y.draw(name)
	}
	if pictures.Of("everything") != nil {
		t.Error("a picture of everything")
	}
}

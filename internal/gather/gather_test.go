package gather_test

import (
	"bytes"
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/filed"
	"shopfloat/internal/gather"
	"shopfloat/internal/shop"
)

// A span is a month, one day, two days, or nothing; what is wrong names the flag that is
// to be typed anew, always the same one.
func TestSpanOf(t *testing.T) {
	for _, x := range []struct {
		month, want string
		day         shop.Date
		span        gather.Span
	}{
		{want: "{ }"}, {month: "2026-02", want: "{2026-02-01 2026-02-28}"},
		{month: "2028-02", want: "{2028-02-01 2028-02-29}"},
		{month: "2026-12", want: "{2026-12-01 2026-12-31}"}, {day: "2026-11-09", want: "{2026-11-09 2026-11-09}"},
		{span: gather.Span{From: "2026-11-09"}, want: "{2026-11-09 }"},
		{span: gather.Span{To: "2026-11-09"}, want: "{ 2026-11-09}"},
		{span: gather.Span{From: "2026-11-09", To: "2026-11-09"}, want: "{2026-11-09 2026-11-09}"},
		{span: gather.Span{From: "2026-11-10", To: "2026-11-09"}, want: "2026-11-10 is after --to"},
		{month: "2026-11", day: "2026-11-09", want: "want one of them"},
		{month: "2026-11", span: gather.Span{To: "2026-11-09"}, want: "want one of them"},
		{day: "2026-11-09", span: gather.Span{From: "2026-11-09"}, want: "want one of them"},
		{month: "2026-13", want: "--month 2026-13"}, {month: "november", want: "--month november"},
		{day: "9.11.2026", want: "--day: date"}, {span: gather.Span{From: "x", To: "y"}, want: "--from: date"},
		{span: gather.Span{From: "2026-11-09", To: "y"}, want: "--to: date"},
	} {
		got, err := gather.SpanOf(x.month, x.day, x.span)
		if said := told(got, err); !strings.Contains(said, x.want) {
			t.Errorf("%+v: %s, want %s", x, said, x.want)
		}
	}
}

func told(s gather.Span, err error) string {
	if err != nil {
		return err.Error()
	}
	return "{" + string(s.From) + " " + string(s.To) + "}"
}

// file is a source in memory.
type file struct {
	shops   []*shop.Shop
	entries map[shop.MachineID][]books.Entry
	fails   string // what cannot be read
}

var errRead = errors.New("cannot be read")

func (f *file) fault(what string) error {
	if f.fails == what {
		return errRead
	}
	return nil
}

func (f *file) Shops(_ context.Context, fn func(*shop.Shop) error) error {
	for _, s := range f.shops {
		if err := fn(s); err != nil {
			return err
		}
	}
	return f.fault("shops")
}

func (f *file) Entries(_ context.Context, id shop.MachineID) ([]books.Entry, error) {
	return f.entries[id], f.fault("entries")
}

func (f *file) Since(_ context.Context, _ *shop.Shop, id shop.MachineID, _, _ shop.Date) (
	*books.Machine, []books.Entry, []shop.Finished, error) {
	return books.New(id), f.entries[id], nil, f.fault("entries")
}

func (f *file) Names(_ context.Context, id shop.ID) (map[shop.PersonID]string, error) {
	return map[shop.PersonID]string{shop.PersonID(10 * id): "Ada"}, f.fault("names")
}

func (f *file) Keeps(_ context.Context, where chat.Chat) (list []shop.ID, _ error) {
	if where == "term:eve" || where == "tg:77" {
		list = []shop.ID{2}
	}
	return list, nil
}

func (f *file) Finished(context.Context, shop.ID) ([]shop.Finished, error) { return nil, nil }

func (f *file) Word(context.Context, shop.MachineID) (string, error) { return "word", f.fault("word") }

// two shops: of the first the machines 1 and 2, of the second machine 3.
func two(t *testing.T) *file {
	t.Helper()
	f := &file{entries: map[shop.MachineID][]books.Entry{}}
	for id, machines := range [][]shop.MachineID{{1, 2}, {3}} {
		s := shop.Settings{Name: "Corner", Zone: "Europe/Dublin", Country: "IE", Currency: "EUR"}
		for _, m := range machines {
			s.Machines = append(s.Machines, shop.Machine{ID: m, Name: "Machine " + string(rune(64+m)),
				Boxes: []shop.Box{{Position: 1, Face: "20", Capacity: 2000}}})
		}
		sh, err := shop.New(shop.ID(id+1), 1, s)
		if err != nil {
			t.Fatal(err)
		}
		f.shops = append(f.shops, sh)
	}
	at := time.Date(2026, 11, 9, 7, 0, 0, 0, time.UTC)
	for _, m := range []shop.MachineID{1, 3} {
		r := books.Ruled(books.Record{Kind: books.Opening, Day: "2026-11-09", Happened: at, Figures: []books.Figure{
			{Field: books.Loaded, Box: 1, Face: cashmath.Face("20"), Notes: 100 * int64(m)}}})
		f.entries[m] = []books.Entry{{Record: r, Machine: m, Seq: 1, By: 20, Settings: 1, Recorded: at}}
	}
	return f
}

// Each hands over every machine of a shop, or of all, with its own entries; what fails on
// the way says of which machine.
func TestEach(t *testing.T) {
	f := two(t)
	for id, want := range map[shop.ID]string{0: "1:1 2:0 3:1", 1: "1:1 2:0", 2: "3:1"} {
		var got []string
		err := gather.Each(t.Context(), f, id, func(s *shop.Shop, m *shop.Machine, list []books.Entry) error {
			if s.Machine(m.ID) == nil {
				t.Errorf("machine %d is not of shop %d", m.ID, s.ID)
			}
			got = append(got, string(rune('0'+m.ID))+":"+string(rune('0'+len(list))))
			return nil
		})
		if err != nil || strings.Join(got, " ") != want {
			t.Errorf("shop %d: %v %v, want %s", id, got, err, want)
		}
	}
	nothing := func(*shop.Shop, *shop.Machine, []books.Entry) error { return nil }
	if err := gather.Each(t.Context(), f, 9, nothing); !errors.Is(err, gather.ErrNone) {
		t.Errorf("no such shop: %v", err)
	}
	refuse := func(*shop.Shop, *shop.Machine, []books.Entry) error { return errRead }
	err := gather.Each(t.Context(), f, 2, refuse)
	if !errors.Is(err, errRead) || !strings.Contains(err.Error(), "machine 3") {
		t.Errorf("refused: %v", err)
	}
	for _, what := range []string{"shops", "entries"} {
		f.fails = what
		if err := gather.Each(t.Context(), f, 0, nothing); !errors.Is(err, errRead) {
			t.Errorf("%s: %v", what, err)
		}
	}
}

// Days adds machines up one by one, each with its check word, and knows the names of all
// shops; a paper is of the machine that is meant.
func TestDays(t *testing.T) {
	f := two(t)
	list, names, err := gather.Days(t.Context(), f, 0, gather.Span{From: "2026-11-09", To: "2026-11-10"})
	if err != nil || len(list) != 3 || names(10) != "Ada" || names(20) != "Ada" || names(30) != "" {
		t.Fatalf("%d machines, %q %q %q, %v", len(list), names(10), names(20), names(30), err)
	}
	for i, want := range []int64{100, 0, 300} {
		m := list[i]
		if m.Word != "word" || m.From != "2026-11-09" || m.To != "2026-11-10" {
			t.Errorf("machine %d: %q, %s to %s", i+1, m.Word, m.From, m.To)
		}
		if got := loaded(t, f, m.Kit.ID); got != want {
			t.Errorf("machine %d: loaded %d", i+1, got)
		}
	}
	for _, what := range []string{"shops", "entries", "names", "word"} {
		f.fails = what
		if _, _, err := gather.Days(t.Context(), f, 0, gather.Span{}); !errors.Is(err, errRead) {
			t.Errorf("%s: %v", what, err)
		}
	}
	for _, day := range []shop.Date{"", "2026-11-09"} {
		var one, three bytes.Buffer
		for at, w := range map[int]*bytes.Buffer{0: &one, 3: &three} {
			if err := gather.Paper(w, list, at, day, filed.Options{Names: names}); err != nil {
				t.Fatal(err)
			}
			if !bytes.HasPrefix(w.Bytes(), []byte("%PDF-")) {
				t.Errorf("day %q of machine %d is no paper", day, at)
			}
		}
		if one.Len() == 0 || bytes.Equal(one.Bytes(), three.Bytes()) {
			t.Errorf("day %q: one paper for two machines", day)
		}
	}
}

func loaded(t *testing.T, f *file, id shop.MachineID) int64 {
	t.Helper()
	m, err := books.History(id, f.entries[id])
	if err != nil {
		t.Fatal(err)
	}
	if p := m.Current(); p != nil {
		return p.Loaded()["20"]
	}
	return 0
}

// A file as somebody sees it has the shops whose books they keep, by their number or the
// name they have in the terminal.
func TestFor(t *testing.T) {
	for who, want := range map[string]string{"": "1 2", "eve": "2", "77": "2", "5": "", "ada": ""} {
		src, err := gather.For(t.Context(), two(t), who)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		err = src.Shops(t.Context(), func(s *shop.Shop) error {
			got = append(got, string(rune('0'+s.ID)))
			return nil
		})
		if said := strings.Join(got, " "); err != nil || said != want {
			t.Errorf("%q sees %q, want %q: %v", who, said, want, err)
		}
	}
}

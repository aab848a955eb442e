package proof

import (
	"testing"

	"shopfloat/internal/books"
)

// However many entries there are, few books are kept, and the last before any entry is no
// further from it than it is from the newest.
func TestBefore(t *testing.T) {
	list := before{books.New(1)}
	for seq := int64(1); seq <= 20_000; seq++ {
		m := books.New(1)
		m.Seq = seq
		list.keep(m)
	}
	if len(list) > 20 {
		t.Errorf("%d are kept", len(list))
	}
	for _, seq := range []int64{19_999, 19_000, 15_000, 10_000, 100, 1} {
		then := list.changed(seq)
		if back, far := seq-then.Seq, 20_000-seq; then.Seq >= seq || back > 2*far+3*keepEach {
			t.Errorf("of entry %d the last before is %d", seq, then.Seq)
		}
	}
	if len(list) != 1 || list[0].Seq != 0 {
		t.Errorf("%d are left of before the first entry", len(list))
	}
}

// What takes a correction back changes what that was about.
func TestChangesFrom(t *testing.T) {
	entries := []books.Entry{{Record: books.Record{Kind: books.TopUp}},
		{Record: books.Record{Kind: books.Correction, Target: 1}}}
	moved := func(period int64) books.Entry {
		return books.Entry{Record: books.Record{Kind: books.Correction, Target: 4,
			Instead: &books.Record{Kind: books.TopUp, Period: period}}}
	}
	list := append(entries[:2:2], books.Entry{}, books.Entry{Record: books.Record{Kind: books.TopUp, Period: 3}})
	if from := changesFrom(list, moved(3)); from != 4 {
		t.Errorf("within its period from %d on, want 4", from)
	}
	if from := changesFrom(append(list, moved(2)), moved(3)); from != 2 {
		t.Errorf("back from an earlier period from %d on, want 2", from)
	}
	for target, want := range map[int64]int64{1: 1, 2: 1, 3: 3, 0: 0} {
		undo := books.Entry{Record: books.Record{Kind: books.Undo, Target: target}}
		if got := changesFrom(entries, undo); got != want {
			t.Errorf("of entry %d from %d on, want %d", target, got, want)
		}
	}
}

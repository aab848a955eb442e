package filewatch_test

import (
	"testing"

	"shopfloat/internal/filewatch"
)

// The table of what can be found at a start, row by row. Heads are given by the
// number of the newest inbox row.
func TestJudge(t *testing.T) {
	const (
		absent, empty, present    = filewatch.Absent, filewatch.Empty, filewatch.Present
		start, note, word, refuse = filewatch.Start, filewatch.Note, filewatch.Word, filewatch.Refuse
	)
	at := func(n int64) filewatch.Heads { return filewatch.Heads{Inbox: n, Machine: 1, Seq: n / 2} }
	mark := func(e filewatch.Ended, n int64) *filewatch.Mark { return &filewatch.Mark{Ended: e, Heads: at(n)} }
	running, closed := mark(filewatch.Running, 40), mark(filewatch.Closed, 40)
	closing := mark(filewatch.Closing, 40)
	doubted := &filewatch.Mark{Ended: filewatch.Closed, Heads: at(40), Doubt: "shop.db was removed"}
	fresh := mark(filewatch.Running, 0)
	bare := &filewatch.Mark{Ended: filewatch.Running, Heads: at(40), Bare: true}
	for _, c := range []struct {
		file, log filewatch.There
		mark      *filewatch.Mark
		garbled   bool
		heads     int64
		followed  bool
		verdict   filewatch.Verdict
		name      filewatch.Case
	}{
		{absent, absent, nil, false, 0, true, start, filewatch.NewFile},
		{empty, absent, nil, false, 0, true, start, filewatch.NewFile},
		{absent, absent, fresh, false, 0, true, start, filewatch.NewFile},
		{empty, empty, fresh, false, 0, true, start, filewatch.NewFile},
		{present, absent, nil, false, 0, true, start, filewatch.NewFile},
		{absent, present, nil, false, 0, true, refuse, filewatch.Missing},
		{empty, present, nil, false, 0, true, refuse, filewatch.Missing},
		{absent, present, running, false, 0, false, refuse, filewatch.Missing},
		{absent, empty, running, false, 0, false, refuse, filewatch.Vanished},
		{empty, absent, closed, false, 0, false, refuse, filewatch.Vanished},
		{absent, absent, nil, true, 0, true, refuse, filewatch.Vanished},
		{present, absent, nil, true, 40, true, word, filewatch.MarkBad},
		{present, absent, nil, false, 40, true, note, filewatch.MarkNone},
		{present, present, nil, false, 40, true, note, filewatch.MarkNone},
		{present, absent, closed, false, 40, true, start, filewatch.Plain},
		{present, absent, closing, false, 40, true, start, filewatch.Plain},
		{present, present, closing, false, 40, true, start, filewatch.Plain},
		{present, present, running, false, 40, true, start, filewatch.Plain},
		{present, present, running, false, 60, true, start, filewatch.Plain},  // a power cut took the mark back
		{present, present, running, false, 30, true, refuse, filewatch.Older}, // its log was cut
		{present, absent, closed, false, 30, true, refuse, filewatch.Older},   // an old copy in its place
		{present, absent, running, false, 40, false, refuse, filewatch.Another},
		{present, absent, closed, false, 60, false, refuse, filewatch.Another},
		{present, absent, running, false, 40, true, word, filewatch.LogGone},
		{present, absent, bare, false, 40, true, start, filewatch.Plain}, // killed behind an idle hour
		{present, present, bare, false, 60, true, start, filewatch.Plain},
		{present, absent, bare, false, 30, true, refuse, filewatch.Older},
		{present, absent, doubted, false, 40, true, word, filewatch.WasDoubt},
		{present, absent, mark(filewatch.Restored, 40), false, 40, true, word, filewatch.WasRestore},
		{present, absent, closed, false, 60, true, note, filewatch.Unmarked},
		{present, present, closed, false, 40, true, note, filewatch.StrangeLog},
	} {
		f := filewatch.Found{File: c.file, Log: c.log, Mark: c.mark, Garbled: c.garbled,
			Heads: at(c.heads), Followed: c.followed}
		if v, name := filewatch.Judge(f); v != c.verdict || name != c.name {
			t.Errorf("%+v: %v, %s, want %v, %s", c, v, name, c.verdict, c.name)
		}
	}
}

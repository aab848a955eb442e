package filewatch_test

import (
	"testing"

	"shopfloat/internal/filewatch"
)

// The table of what can be found at a start, row by row.
func TestJudge(t *testing.T) {
	const (
		absent, empty, present = filewatch.Absent, filewatch.Empty, filewatch.Present
		start, note            = filewatch.Start, filewatch.Note
		word, refuse           = filewatch.Word, filewatch.Refuse
	)
	at := func(inbox int64) filewatch.Heads { return filewatch.Heads{Inbox: inbox, Machine: 1, Seq: inbox / 2} }
	mark := func(e filewatch.Ended, inbox int64) *filewatch.Mark {
		return &filewatch.Mark{Ended: e, Heads: at(inbox)}
	}
	fresh := &filewatch.Mark{Ended: filewatch.Running}
	doubted := &filewatch.Mark{Ended: filewatch.Closed, Heads: at(40), Doubt: "shop.db was removed"}
	for _, c := range []struct {
		found   filewatch.Found
		verdict filewatch.Verdict
		name    filewatch.Case
	}{
		{filewatch.Found{}, start, filewatch.NewFile},
		{filewatch.Found{File: empty}, start, filewatch.NewFile},
		{filewatch.Found{Mark: fresh}, start, filewatch.NewFile},
		{filewatch.Found{File: empty, Mark: fresh}, start, filewatch.NewFile},
		{filewatch.Found{File: present}, start, filewatch.NewFile},
		{filewatch.Found{File: absent, Log: present}, refuse, filewatch.Missing},
		{filewatch.Found{File: empty, Log: present}, refuse, filewatch.Missing},
		{filewatch.Found{File: absent, Log: present, Mark: mark(filewatch.Running, 40)}, refuse, filewatch.Missing},
		{filewatch.Found{File: absent, Log: empty, Mark: mark(filewatch.Running, 40)}, refuse, filewatch.Vanished},
		{filewatch.Found{File: empty, Mark: mark(filewatch.Closed, 40)}, refuse, filewatch.Vanished},
		{filewatch.Found{File: absent, Garbled: true}, refuse, filewatch.Vanished},
		{filewatch.Found{File: present, Garbled: true, Heads: at(40)}, word, filewatch.MarkBad},
		{filewatch.Found{File: present, Heads: at(40)}, note, filewatch.MarkNone},
		{filewatch.Found{File: present, Log: present, Heads: at(40)}, note, filewatch.MarkNone},
		{filewatch.Found{File: present, Mark: mark(filewatch.Closed, 40), Heads: at(40), Followed: true},
			start, filewatch.Plain},
		{filewatch.Found{File: present, Mark: mark(filewatch.Closing, 40), Heads: at(40), Followed: true},
			start, filewatch.Plain},
		{filewatch.Found{File: present, Log: present, Mark: mark(filewatch.Closing, 40), Heads: at(40), Followed: true},
			start, filewatch.Plain},
		{filewatch.Found{File: present, Log: present, Mark: mark(filewatch.Running, 40), Heads: at(40), Followed: true},
			start, filewatch.Plain},
		{filewatch.Found{File: present, Log: present, Mark: mark(filewatch.Running, 40), Heads: at(60), Followed: true},
			start, filewatch.Plain}, // a power cut took the mark back
		{filewatch.Found{File: present, Log: present, Mark: mark(filewatch.Running, 40), Heads: at(30), Followed: true},
			refuse, filewatch.Older}, // its log was cut or a bit of it turned
		{filewatch.Found{File: present, Mark: mark(filewatch.Closed, 40), Heads: at(30), Followed: true},
			refuse, filewatch.Older}, // an old copy in its place
		{filewatch.Found{File: present, Mark: mark(filewatch.Running, 40), Heads: at(40)},
			refuse, filewatch.Another},
		{filewatch.Found{File: present, Mark: mark(filewatch.Closed, 40), Heads: at(60)},
			refuse, filewatch.Another},
		{filewatch.Found{File: present, Mark: mark(filewatch.Running, 40), Heads: at(40), Followed: true},
			word, filewatch.LogGone},
		{filewatch.Found{File: present, Mark: doubted, Heads: at(40), Followed: true}, word, filewatch.WasDoubt},
		{filewatch.Found{File: present, Mark: mark(filewatch.Restored, 40), Heads: at(40), Followed: true},
			word, filewatch.WasRestore},
		{filewatch.Found{File: present, Mark: mark(filewatch.Closed, 40), Heads: at(60), Followed: true},
			note, filewatch.Unmarked},
		{filewatch.Found{File: present, Log: present, Mark: mark(filewatch.Closed, 40), Heads: at(40), Followed: true},
			note, filewatch.StrangeLog},
	} {
		if v, name := filewatch.Judge(c.found); v != c.verdict || name != c.name {
			t.Errorf("%+v (mark %+v): %v, %s, want %v, %s", c.found, c.found.Mark, v, name, c.verdict, c.name)
		}
	}
}

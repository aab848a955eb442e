package across

import (
	"bytes"

	"shopfloat/internal/bygone"
	"shopfloat/internal/chat"
	"shopfloat/internal/monthfile"
	"shopfloat/internal/tally"
	"shopfloat/internal/telling"
)

// formOf takes the kind of file out of the words, where the table takes one.
func formOf(t *telling.Teller, tb table, words string) (form, rest string) {
	if !tb.file {
		return "", words
	}
	f, rest := monthfile.Named(t, words, "")
	if f == nil {
		return "", rest
	}
	return f.Word(t), rest
}

// exported is the file over all machines whose figures may be told, if one file can hold
// them; else it says that each has its own.
func exported(t *telling.Teller, of []*telling.Teller, w Wish, sp span) chat.Reply {
	list, told, err := shownIn(of, sp)
	f, _ := monthfile.Named(t, w.Words, "")
	switch {
	case err != nil:
		return saying(t.V.Say("proof.cannot"))
	case len(list) == 0:
		return saying(t.V.Say("hidden"))
	case f != nil && f.Alone():
		return saying(t.V.Say("all.own-file"))
	}
	name, data, err := fileOf(f, told, list)
	if err != nil {
		return saying(t.V.Say("proof.cannot"))
	}
	return chat.Reply{Body: []chat.Block{chat.Lines(t.V.Say("export.done", "from", sp.from(t), "to", sp.to(t)),
		t.V.Say("all.file"))}, File: &chat.File{Name: name, Data: data}}
}

// shownIn gives the days of the machines that nobody counts now.
func shownIn(of []*telling.Teller, sp span) (list []*tally.Machine, told []*telling.Teller, err error) {
	for _, at := range of {
		if at.Hidden() {
			continue
		}
		m, err := bygone.Past(at, sp.first, sp.last)
		if err != nil {
			return nil, nil, err
		}
		list, told = append(list, m), append(told, at)
	}
	return list, told, nil
}

func fileOf(f *monthfile.Form, of []*telling.Teller, list []*tally.Machine) (
	name string, data []byte, err error) {
	if f != nil {
		data, err = f.Write(of, list)
		return f.Name(list[0]), data, err
	}
	var b bytes.Buffer
	err = tally.WriteCSV(&b, list, monthfile.Names(of))
	return list[0].From.Time().Format("2006-01") + ".csv", b.Bytes(), err
}

func saying(s string) chat.Reply { return chat.Reply{Body: []chat.Block{chat.Lines(s)}} }

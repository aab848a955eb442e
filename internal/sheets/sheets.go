// Package sheets gives the pictures that can be asked for, each as a message, where it may be
// seen now.
package sheets

import (
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/leaks"
	"shopfloat/internal/pictures"
	"shopfloat/internal/telling"
)

// all of them, in the order they are offered.
var all = []struct {
	word   string
	owners bool // it tells of differences, which only some may see
	live   bool // it tells of today, and stays hidden while somebody counts
}{{word: "month"}, {word: "level", live: true}, {word: "differences", owners: true}, {word: "faults"}}

// Asked sends the first picture that words name, or offers all of them. May says whether
// differences may be seen.
func Asked(t *telling.Teller, words string, may bool) chat.Reply {
	r := said(t.V.Say("picture.which"))
	for _, s := range all {
		if strings.Contains(words, " "+s.word) {
			r, _ = Sent(t, s.word, may)
			return r
		}
		r.Buttons = append(r.Buttons, t.Button("picture-"+s.word, "o:picture:"+s.word))
	}
	return r
}

// Sent is a picture by its word; there may be none.
func Sent(t *telling.Teller, word string, may bool) (r chat.Reply, ok bool) {
	for _, s := range all {
		switch {
		case s.word != word:
		case s.owners && !may:
			return said(t.V.Say("picture.for-owner")), true
		case s.live && t.Hidden():
			return said(t.V.Say("picture.counting")), true
		default:
			return drawn(t, word), true
		}
	}
	return r, false
}

// Leaks tells of small differences that keep coming back, with their picture once there are enough days.
func Leaks(t *telling.Teller) []chat.Reply {
	m := machine(t)
	days, err := leaks.Learn(m.Shop, m.Kit.ID, m.Entries)
	if err != nil {
		return []chat.Reply{said(t.V.Say("leaks.unread"))}
	}
	list := []chat.Reply{{Body: []chat.Block{chat.Lines(t.V.Say("leaks.title", "name", m.Kit.Name)),
		chat.Lines(leaks.Say(t.V, leaks.Look(days, m.Kit.Faces()))...)}}}
	if len(days) >= leaks.DaysMin {
		list = append(list, drawn(t, "differences"))
	}
	return list
}

// machine is the one whose pictures are asked for.
func machine(t *telling.Teller) pictures.Machine {
	m := pictures.Machine{Voice: t.V, Shop: t.F.Shop, Kit: t.Kit, Now: t.Now}
	if t.F.Ask.Entries != nil {
		m.Entries = t.F.Ask.Entries()
	}
	return m
}

func drawn(t *telling.Teller, word string) chat.Reply {
	sheet, err := pictures.Of(word)(machine(t))
	if err != nil {
		return said(t.V.Say("leaks.unread"))
	}
	if len(sheet.Graphs) == 0 {
		return said(t.V.Say("leaks.not-known"))
	}
	return chat.Reply{Body: []chat.Block{chat.Lines(sheet.Title)},
		File: &chat.File{Name: word + ".png", Sheet: &sheet}}
}

func said(text string) chat.Reply { return chat.Reply{Body: []chat.Block{{Text: text}}} }

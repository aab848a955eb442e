// Package helping is the screen of help, and the drawings that explain what words do not.
package helping

import (
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/telling"
)

// Asked is what help is about: the names of commands that the person may have, and whether they
// are within a dialog.
type Asked struct {
	May                func(string) bool
	Within             bool
	Page               int      // from 1 on: what each word is for; else the screen of help
	Often, Seldom, All []string // of commands
}

// helpPage is how many commands one message tells the use of.
const helpPage = 6

// nextLines bounds what is said of a checklist that waits; its buttons lead to all of it.
const nextLines = 3

// Help is the one screen of help: what comes next with its buttons, then the words for what is
// done often and seldom. A further page tells what each word is for.
func Help(t *telling.Teller, h Asked) chat.Reply {
	if h.Page > 0 {
		return helpWords(t, h)
	}
	var r chat.Reply
	if !h.Within {
		if r = Now(t, h.May); r.Key != "" { // a checklist is only offered
			first := strings.SplitN(r.Body[0].Text, "\n", nextLines+1)
			r = chat.Reply{Body: []chat.Block{chat.Lines(first[:min(nextLines, len(first))]...)},
				Buttons: append(telling.TicksButtons(t), t.Button("now-wrong", wrong))}
		}
	}
	words := func(names []string) string {
		list := make([]string, len(names))
		for i, name := range names {
			list[i] = t.V.List("words." + name)[0]
		}
		return strings.Join(list, ", ")
	}
	lines := []string{t.V.Say("help-often", "words", words(h.Often))}
	if len(h.Seldom) > 0 {
		lines = append(lines, t.V.Say("help-seldom", "words", words(h.Seldom)))
	}
	r.Body = append(r.Body, chat.Lines(append(lines, t.V.Say("help-wrong"), t.V.Say("help-counts"),
		t.V.Say("help-more"))...))
	return r
}

func helpWords(t *telling.Teller, h Asked) chat.Reply {
	pages := (len(h.All) + helpPage - 1) / helpPage
	page := min(h.Page, pages)
	lines := []string{t.V.Say("help")}
	for _, name := range h.All[(page-1)*helpPage : min(page*helpPage, len(h.All))] {
		word := t.V.List("words." + name)[0]
		lines = append(lines, t.V.Say("help-line", "word", word, "what", t.V.Say("help."+name)))
	}
	last := t.V.Say("help-counts")
	if page < pages {
		last = t.V.Say("help-next", "n", page+1)
	}
	return chat.Reply{Body: []chat.Block{chat.Lines(append(lines, last)...)}}
}

// Package lessons shows a manager what was not understood in their shop, and has them say
// what is meant by it. It asks nothing of the file and writes nothing.
package lessons

import (
	"fmt"
	"hash/fnv"
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/names"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// Name is that of the command, and of the cards whose buttons lead on.
const Name = "missed"

// None is what words are taught to mean that mean nothing.
const None = "none"

// Bounds of a card.
const (
	listed = 5 // words on one card, or choices for them
	shown  = 34
)

// Book is what lessons are given from.
type Book struct {
	*telling.Teller
	chat.Phrases
	Near  func(text string) []string // the readings that words are nearest to, by name
	All   []string                   // all readings, by name
	Label func(name string) string   // what a reading is called; empty: it is none for this shop
}

// Card gives what a button leads to, and what is taught by that; ok is false for a button
// that means nothing any more. The empty one leads to the list.
func (b Book) Card(button string) (r chat.Reply, teach *chat.Phrase, ok bool) {
	does, rest, _ := strings.Cut(button, ".")
	arg, more, _ := strings.Cut(rest, ".")
	switch does {
	case "", "list":
		return b.list(number(arg)), nil, true
	case "taught":
		return b.taught(number(arg)), nil, true
	case "say", "all":
		if text, times := b.missed(arg); times >= chat.TaughtAfter {
			return b.meanings(text, does == "all", number(more)), nil, true
		}
	case "as":
		text, times := b.missed(arg)
		means := meaning(more)
		if times < chat.TaughtAfter || means != None && b.Label(means) == "" {
			break
		}
		if len(b.Taught) >= chat.PhrasesMax {
			return b.say("missed.full", "n", chat.PhrasesMax), nil, true
		}
		return b.learnt(text, means), &chat.Phrase{Text: text, Means: means}, true
	case "drop":
		for _, p := range b.Taught {
			if code(p.Text) == arg {
				return b.say("missed.dropped", "typed", names.Words(p.Text)), &chat.Phrase{Text: p.Text}, true
			}
		}
	}
	return r, nil, false
}

// code stands for words in a button.
func code(text string) string {
	h := fnv.New32a()
	_, _ = h.Write([]byte(text)) // it never fails
	return fmt.Sprintf("%08x", h.Sum32())
}

func number(s string) int {
	n, err := strconv.Atoi(s)
	if err != nil || n < 0 {
		return 0
	}
	return n
}

// meaning reads a reading out of a button, where a colon cannot stand.
func meaning(s string) string {
	if id, ok := strings.CutPrefix(s, "do."); ok {
		return "do:" + id
	}
	return s
}

func button(means string) string { return strings.ReplaceAll(means, ":", ".") }

// missed finds the words of a button among what was not understood.
func (b Book) missed(of string) (text string, times int64) {
	for _, m := range b.Missed {
		if code(m.Text) == of {
			return m.Text, m.Times
		}
	}
	return "", 0
}

func (b Book) say(id string, fill ...any) chat.Reply {
	return chat.Reply{Key: Name, Body: []chat.Block{{Text: b.V.Say(id, fill...)}},
		Buttons: [][]chat.Button{b.Button("missed-list", "o:missed:list")}}
}

// page cuts a list, and gives the button for what comes behind.
func page[T any](b Book, list []T, n, most int, more string) (part []T, next [][]chat.Button) {
	if n*most >= len(list) {
		n = 0
	}
	end := min(len(list), (n+1)*most)
	if end < len(list) {
		next = [][]chat.Button{b.Button("guide-more", "o:missed:"+more+"."+strconv.Itoa(n+1))}
	}
	return list[n*most : end], next
}

// list shows what was not understood of late, the most frequent first. What was typed
// often enough can be tapped.
func (b Book) list(n int) chat.Reply {
	if len(b.Missed) == 0 && len(b.Taught) == 0 {
		return chat.Reply{Body: []chat.Block{{Text: b.V.Say("missed.none")}}}
	}
	list, next := page(b, b.Missed, n, listed, "list")
	r := chat.Reply{Key: Name, Body: []chat.Block{{Text: b.V.Say(
		texts.Either(len(list) > 0, "missed.head", "missed.none"))}}}
	var rows [][]string
	for _, m := range list {
		rows = append(rows, []string{b.V.Number(m.Times) + "×", texts.Short(m.Text, shown)})
		if m.Times >= chat.TaughtAfter {
			r.Buttons = append(r.Buttons, []chat.Button{{Label: texts.Short(names.Words(m.Text), texts.LabelMax),
				Data: "o:missed:say." + code(m.Text)}})
		}
	}
	if len(rows) > 0 {
		hint := texts.Either(len(r.Buttons) > 0, "missed.tap", "missed.seldom")
		r.Body = append(r.Body, chat.Columns(2, rows), chat.Block{Text: b.V.Say(hint, "n", chat.TaughtAfter)})
	}
	r.Buttons = append(r.Buttons, next...)
	if len(b.Taught) > 0 {
		r.Buttons = append(r.Buttons, b.Button("missed-taught", "o:missed:taught", "n", len(b.Taught)))
	}
	return r
}

// meanings asks what is meant by words: what they are nearest to, or anything.
func (b Book) meanings(text string, all bool, n int) chat.Reply {
	of := code(text)
	r := chat.Reply{Key: Name, Body: []chat.Block{{Text: b.V.Say("missed.ask", "typed", names.Words(text))}}}
	list := b.called(b.All)
	var next [][]chat.Button
	if !all {
		list = b.called(b.Near(text))
		next = [][]chat.Button{b.Button("missed-other", "o:missed:all."+of)}
	}
	const most = 6
	list, more := page(b, list, n, most, "all."+of)
	for _, means := range list {
		r.Buttons = append(r.Buttons, []chat.Button{{Label: texts.Short(b.Label(means), texts.LabelMax),
			Data: "o:missed:as." + of + "." + button(means)}})
	}
	r.Buttons = append(r.Buttons, slices.Concat(next, more)...)
	r.Buttons = append(r.Buttons, b.Button("missed-ignore", "o:missed:as."+of+"."+None),
		b.Button("missed-list", "o:missed:list"))
	return r
}

// called keeps the readings that there are for this shop, each by one name.
func (b Book) called(list []string) (out []string) {
	had := map[string]bool{}
	for _, name := range list {
		if label := b.Label(name); label != "" && !had[label] {
			had[label] = true
			out = append(out, name)
		}
	}
	return out
}

// learnt says what words mean from now on.
func (b Book) learnt(text, means string) chat.Reply {
	id := texts.Either(means == None, "missed.ignored", "missed.learnt")
	r := b.say(id, "typed", names.Words(text), "what", b.Label(means))
	r.Buttons = append(r.Buttons, b.Button("missed-drop", "o:missed:drop."+code(text)))
	return r
}

// taught lists what words mean in the shop, each to be forgotten by a tap.
func (b Book) taught(n int) chat.Reply {
	r := b.say("missed.taught", "n", len(b.Taught), "most", chat.PhrasesMax)
	list, next := page(b, b.Taught, n, listed, "taught")
	var rows [][]chat.Button
	for _, p := range list {
		what := b.Label(p.Means)
		if what == "" {
			what = b.V.Say("missed.nothing")
		}
		label := b.V.Say("missed.forget", "typed", names.Words(p.Text), "what", what)
		rows = append(rows, []chat.Button{{Label: texts.Short(label, texts.LabelMax),
			Data: "o:missed:drop." + code(p.Text)}})
	}
	r.Buttons = slices.Concat(rows, next, r.Buttons)
	return r
}

// Line tells an owner in one line what was not understood most within a week; empty for
// nothing. Only what was typed often enough is told in words.
func Line(v *texts.Voice, list []chat.Missed) string {
	var n int64
	worst := chat.Missed{}
	for _, m := range list {
		n += m.Times
		if m.Times > worst.Times {
			worst = m
		}
	}
	switch {
	case n == 0:
		return ""
	case worst.Times < chat.TaughtAfter:
		return v.Count("letter.missed-seldom", n)
	}
	return v.Count("letter.missed", n, "typed", names.Words(worst.Text))
}

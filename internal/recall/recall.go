// Package recall reads cards that the bot itself once sent. After a file was put back from
// an older copy, what was recorded since stands in the chats alone, and there the bot reads
// nothing by itself: but whoever answers such a card, forwards it or taps a button of it
// brings its words along. What is not on record is offered to be entered again, at its
// time, through the dialogs that ask for everything; nothing is booked by what a card says.
package recall

import (
	"slices"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/names"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// Step decides what an input leads to.
type Step = func(chat.State, chat.Input, chat.Facts) chat.Result

// key names the offer within its chat, and its buttons.
const key = "recall"

// payloadMax is the most bytes a button can carry.
const payloadMax = 64

// Around takes inputs that bring along a card of what is not on record, and leaves all
// others to a step.
func Around(c *texts.Catalogue, step Step) Step {
	return func(s chat.State, in chat.Input, f chat.Facts) chat.Result {
		t, ok := chat.ParseTap(in.Tap)
		mine := ok && !t.Dialog && t.Choice == key
		// of a time that is lost: the file was put back, or knows less than the chat
		lost := ok && t.Dialog && (t.Rev > s.Rev || t.Rev > s.LostFrom && t.Rev <= s.LostTo)
		if f.Shop == nil || f.Machine == nil || !mine && (in.Card == nil || in.Kind == chat.Press && !lost) {
			return step(s, in, f)
		}
		k := talk{step: step, state: s, in: in, facts: f, v: c.In(f.Lang, f.Shop.Country, f.Shop.Currency)}
		if mine {
			return k.tapped(t.Arg)
		}
		var had Had
		if in.Kind == chat.Press {
			if had, ok = k.open(in.Card); !ok {
				return step(s, in, f)
			}
		} else if had, ok = k.recorded(in.Card); !ok || in.Kind != chat.Text || k.onRecord(had) {
			return step(s, in, f) // a photo that answers a card is taken as one
		}
		return k.offer(had)
	}
}

// talk is one input that is about a card.
type talk struct {
	step  Step
	state chat.State
	in    chat.Input
	facts chat.Facts
	v     *texts.Voice
}

// Bounds of what is quoted of a card.
const (
	linesMax = 4
	runesMax = 60
)

// offer shows what the card says and asks whether it was so. The dialog under way stays.
func (k *talk) offer(had Had) chat.Result {
	var lines []string
	for line := range strings.Lines(had.Said) {
		if line = strings.TrimSpace(line); line != "" && len(lines) < linesMax {
			lines = append(lines, names.Clean(texts.Short(line, runesMax)))
		}
	}
	id := "recall.offer"
	if had.Open {
		id = "recall.offer-open"
	}
	return chat.Result{State: k.state, Replies: []chat.Reply{{
		Body: []chat.Block{{Text: k.v.Say(id)}, {Text: strings.Join(lines, "\n")}, {Text: k.v.Say("recall.again")}},
		Buttons: [][]chat.Button{
			{{Label: k.v.Say("button.lost-again"), Data: k.payload(had)}},
			{{Label: k.v.Say("button.recall-no"), Data: ours("no")}},
		},
		Key: key,
	}}}
}

// tapped answers a tap on an offer.
func (k *talk) tapped(arg string) chat.Result {
	if arg == "no" {
		return k.says("recall.dropped")
	}
	had, ok := decode(arg)
	if !ok {
		return chat.Result{State: k.state, Notice: k.v.Say("notice.unknown")}
	}
	if k.onRecord(had) { // entered meanwhile
		return k.says("recall.have")
	}
	return k.enter(had)
}

func (k *talk) says(id string) chat.Result {
	return chat.Result{State: k.state, Replies: []chat.Reply{
		{Body: []chat.Block{{Text: k.v.Say(id)}}, Key: key, Edit: key}}}
}

// enter goes the way that the person would go: it begins what is entered with its own
// time, says the time, chooses what happened and types the notes, as far as each is known.
// It stops where the dialogs answer otherwise than by the next question.
func (k *talk) enter(had Had) chat.Result {
	begin := chat.Input{Kind: chat.Press, Tap: chat.Begins(earlier)}
	if had.Open {
		begin.Tap = chat.Begins(had.Flow)
	}
	res := k.does(chat.Result{State: k.state}, begin)
	if !had.Open {
		l := had.At.In(k.facts.Shop.Location)
		if res.State.Flow == earlier {
			res = k.does(res, chat.Input{Kind: chat.Text, Text: k.v.Day(l) + ", " + k.v.Clock(l)})
		}
		if i := slices.IndexFunc(res.State.Shown, func(b chat.Button) bool {
			return b.Label == k.v.Say("button.earlier-"+had.Flow)
		}); i >= 0 && res.State.Flow == earlier {
			res = k.does(res, chat.Input{Kind: chat.Press, Tap: res.State.Shown[i].Data})
		}
	}
	if res.State.Flow == had.Flow && had.Notes != "" {
		res = k.does(res, chat.Input{Kind: chat.Text, Text: had.Notes})
	}
	if len(res.Replies) > 0 {
		res.Replies[0].Edit, res.Replies[0].Retire = "", key
	}
	return res
}

// does takes one input more. What the one before wanted to say is not said: the next
// question stands in its place.
func (k *talk) does(before chat.Result, in chat.Input) chat.Result {
	in.Chat, in.At, in.Message = k.in.Chat, k.in.At, k.in.Message
	res := k.step(before.State, in, k.facts)
	res.Deadlines = append(before.Deadlines, res.Deadlines...)
	return res
}

// payload is what begins it. Of several machines a card does not name its own as a payload
// would, so that the way begins with the time, as by the command.
func (k *talk) payload(had Had) string {
	if code := ours(had.code()); len(k.facts.Shop.Machines) == 1 && len(code) <= payloadMax {
		return code
	}
	return chat.Begins(earlier)
}

func ours(arg string) string { return "o:" + key + ":" + arg }

// onRecord tells whether what a card says is in the books of one of the shop's machines.
func (k *talk) onRecord(had Had) bool {
	if had.Open {
		return false
	}
	day := shop.DateOf(had.At.In(k.facts.Shop.Location).AddDate(0, 0, -1)) // a shop may trade past midnight
	for _, m := range k.facts.Shop.Machines {
		for _, e := range k.lately(m.ID, day) {
			if slices.Contains(kinds[had.Flow], e.Kind) && e.Happened.Truncate(time.Minute).Equal(had.At) {
				return true
			}
		}
	}
	return false
}

// lately gives what was recorded of a machine on the days from one on.
func (k *talk) lately(id shop.MachineID, day shop.Date) []books.Entry {
	ask := k.facts.Ask
	if id != k.facts.Machine.ID {
		_, _, ask = ask.At(id) // only a desk has several
	}
	if ask.Lately == nil {
		return ask.Entries()
	}
	_, entries := ask.Lately(day)
	return entries
}

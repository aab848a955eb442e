package recall

import (
	"regexp"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
)

const earlier = engine.DoEarlier

// Had is what a card says that somebody had done.
type Had struct {
	Flow  string    // the dialog that records it
	At    time.Time // when, to the minute
	Open  bool      // it was not recorded yet
	Notes string    // as somebody would type them; empty: the card does not say
	Said  string    // the lines that say so
}

// kinds are what the dialogs record.
var kinds = map[string][]books.Kind{
	engine.DoOpen: {books.Opening}, engine.DoTopUp: {books.TopUp}, engine.DoSwap: {books.Swap},
	engine.DoMove: {books.Moved}, engine.DoTest: {books.Test}, engine.DoFound: {books.Found},
	engine.DoSpot: {books.Spot, books.SpotPaid}, engine.DoSettle: {books.Settlement},
	engine.DoClose: {books.Count, books.Close},
}

// sentences are the first lines of cards of what is recorded, by the dialog.
var sentences = []struct{ flow, id string }{
	{engine.DoOpen, "opened"}, {engine.DoTopUp, "topped-up"}, {engine.DoSwap, "swapped"},
	{engine.DoMove, "moved-change"}, {engine.DoMove, "moved-return"}, {engine.DoMove, "moved-exchange"},
	{engine.DoMove, "moved-warning"}, {engine.DoMove, "moved-cash-change"}, {engine.DoMove, "moved-cash-return"},
	{engine.DoMove, "moved-from-bank"}, {engine.DoMove, "moved-to-bank"}, {engine.DoTest, "tested"},
	{engine.DoFound, "found-recorded"}, {engine.DoSpot, "spot-recorded"}, {engine.DoSettle, "settled"},
	{engine.DoClose, "closed-recorded"}, {engine.DoClose, countIn},
}

// countIn tells of a count, of a closing or in between.
const countIn = "counted"

// hole stands in a sentence for what is filled in.
const hole = "\u2588"

// reads makes out of the first line of a sentence what finds it in a card. Its groups
// are the time, and the day where it names one.
func (k *talk) reads(id string) *regexp.Regexp {
	said := k.v.Count(id, 2, "when", hole+hole, "day", hole+hole+hole, "money", hole, "line", hole,
		"notes", hole)
	first, _, _ := strings.Cut(said, "\n")
	first = strings.Replace(regexp.QuoteMeta(first), hole+hole+hole, `(?P<day>.+?)`, 1)
	first = strings.Replace(first, hole+hole, `(?P<when>.+?)`, 1)
	re, err := regexp.Compile(`(?m)^` + strings.ReplaceAll(first, hole, `.+?`))
	if err != nil {
		return nil
	}
	return re
}

// recorded reads a card of something that was recorded.
func (k *talk) recorded(card *chat.Card) (had Had, ok bool) {
	for _, s := range sentences {
		re := k.reads(s.id)
		if re == nil {
			continue
		}
		at, when, day := re.FindStringSubmatchIndex(card.Text), re.SubexpIndex("when"), ""
		if at == nil || when < 0 {
			continue
		}
		if i := re.SubexpIndex("day"); i > 0 {
			day = card.Text[at[2*i]:at[2*i+1]]
		}
		if had.At, ok = k.moment(card.Text[at[2*when]:at[2*when+1]], day, card.At); !ok {
			continue
		}
		had.Flow, had.Said = s.flow, card.Text[at[0]:]
		if flow, _ := k.titled(card); s.id == countIn && flow == engine.DoSpot {
			had.Flow = flow
		}
		if s.flow == engine.DoOpen {
			had.Notes = k.loaded(had.Said)
		}
		return had, true
	}
	return had, false
}

// longAgo is how far back a card is looked at, in days.
const longAgo = 31

// moment reads a time as cards write it, "11:00" or "Wed 25 Nov, 11:00", by when the
// card was sent. Without a day it is of the day that the sentence names, if it names one.
func (k *talk) moment(text, of string, sent time.Time) (time.Time, bool) {
	l := sent.In(k.facts.Shop.Location)
	day, clock, dated := strings.Cut(text, ", ")
	if !dated {
		day, clock, dated = of, day, of != ""
	}
	t, err := time.Parse("15:04", clock)
	if err != nil {
		return t, false
	}
	for n := range longAgo {
		at := time.Date(l.Year(), l.Month(), l.Day()-n, t.Hour(), t.Minute(), 0, 0, l.Location())
		if (!dated || strings.HasPrefix(day, k.v.Day(at))) && !at.After(l.Add(time.Minute)) {
			return at.UTC(), true
		}
	}
	return t, false
}

// loaded reads the notes of an opening, which its card lists in the order of the boxes.
func (k *talk) loaded(card string) string {
	_, list, ok := strings.Cut(card, strings.TrimSuffix(k.v.Say("tick.typed", "numbers", hole), hole+"."))
	line, _, _ := strings.Cut(list, "\n")
	line = strings.TrimSuffix(strings.TrimSpace(line), ".")
	fields := strings.Split(line, ", ")
	for _, n := range fields {
		if _, err := strconv.Atoi(n); err != nil {
			return "" // written in another way: it is asked for
		}
	}
	if !ok || len(fields) != len(k.boxes()) {
		return ""
	}
	return strings.Join(fields, " ")
}

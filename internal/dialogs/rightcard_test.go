package dialogs_test

import (
	"cmp"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/dialogs/floor"
)

// rows are the lines of a card about a box: top 50s 40 notes.
var rows = regexp.MustCompile(`(?m)^(top|middle|bottom) +(\d+)s +([\d,]+) notes?`)

// lots are notes of a kind in running words: 28 x 50s.
var lots = regexp.MustCompile(`([\d,]+) x (\d+)s`)

// heads are the first lines of cards that book, by the kind of record.
var heads = map[books.Kind]string{books.Opening: "Opening", books.TopUp: "Top-up", books.Count: "Closing",
	books.Settlement: "Closing", books.Close: "Closing", books.Found: "Found notes",
	books.Level: "Level check", books.Test: "Test payout"}

// boxed is where notes lie, and what they are.
type boxed struct {
	box  int
	face string
}

func number(s string) int64 {
	n, err := strconv.ParseInt(strings.ReplaceAll(s, ",", ""), 10, 64)
	if err != nil {
		panic(err) // the expression above finds digits
	}
	return n
}

// inBoxes reads the boxes of a card.
func inBoxes(text string) map[boxed]int64 {
	at := map[string]int{"top": 1, "middle": 2, "bottom": 3}
	n := map[boxed]int64{}
	for _, m := range rows.FindAllStringSubmatch(text, -1) {
		n[boxed{at[m[1]], m[2]}] = number(m[3])
	}
	return n
}

// kinds reads notes of kinds behind a word of a card.
func kinds(text, after string) books.Notes {
	n := books.Notes{}
	_, rest, found := strings.Cut(text, after)
	if !found {
		return n
	}
	line, _, _ := strings.Cut(rest, "\n")
	if sum := strings.IndexAny(line, "€¥"); sum >= 0 {
		line = line[:sum]
	}
	for _, m := range lots.FindAllStringSubmatch(line, -1) {
		n.Plus(cashmath.Face(m[2]), number(m[1]))
	}
	return n
}

// tried words the notes of a test payout as a list does: of each of three boxes, 0 for an empty one.
func tried(r books.Record) string {
	var n [3]int64
	for _, f := range r.Figures {
		if f.Box >= 1 && f.Box <= len(n) {
			n[f.Box-1] += f.Notes
		}
	}
	return fmt.Sprintf("%d-%d-%d", n[0], n[1], n[2])
}

// under is what a record was booked under, and where.
type under struct {
	day          time.Time
	place        string // of the machine, where there are several
	tapped, last seen
	label        string
	now          time.Time
}

// wrongCard tells a record that is booked as of now under a card that stood for hours.
func (u under) wrongCard(r books.Record) string {
	if !r.Happened.Equal(u.now) || u.now.Sub(u.tapped.at) < 2*time.Hour {
		return ""
	}
	return fmt.Sprintf("%s booked as of now under a card of %s", r.Kind, u.tapped.at.Format("Mon 15:04"))
}

// overtaken tells a record under a card that was shown before somebody else recorded something about
// the machine, one of n that a tap led to.
func overtaken(r books.Record, u under, f *floor.Floor, name string, n int) string {
	if heads[r.Kind] == "" || u.tapped.machine != f.Machine.ID {
		return ""
	}
	for _, e := range f.Entries[u.tapped.seq : len(f.Entries)-n] {
		if e.By != floor.People[name] && heads[e.Kind] != "" {
			return fmt.Sprintf("%s booked under a card from before a %s by somebody else", r.Kind, e.Kind)
		}
	}
	return ""
}

// apart gives a card without the place that it names in a line before all others, or at
// the end of its first one.
func apart(text, place string) (string, bool) {
	first, rest, _ := strings.Cut(text, "\n")
	switch {
	case place == "":
		return text, true
	case first == place:
		return rest, true
	}
	what, named := strings.CutSuffix(first, ", "+place)
	return what + "\n" + rest, named
}

// fault compares a record with the card under which it was booked; empty: it is the same.
func fault(r books.Record, u under) string {
	head, ok := heads[r.Kind]
	if !ok {
		return ""
	}
	day, tapped, last, label, named := u.day, u.tapped, u.last, u.label, [2]bool{}
	tapped.text, named[0] = apart(tapped.text, u.place)
	last.text, named[1] = apart(last.text, u.place)
	if !named[0] || !named[1] {
		return fmt.Sprintf("%s booked at %s under %q", r.Kind, u.place, u.last.text)
	}
	text := last.text
	if r.Kind == books.Test && label == "All done" { // the list that is tapped says that it books one
		if !strings.HasPrefix(tapped.text, "Opening of "+day.Format("Mon 2 Jan")) ||
			!strings.Contains(tapped.text, "Test payout "+tried(r)+", ") {
			return "a test payout that no list showed"
		}
		return ""
	}
	want := head + " of " + day.Format("Mon 2 Jan")
	if r.Has(books.Early) {
		// what was left inside stands in a part of the opening's card, under the day of its period; its own
		// may be that day or the next, by the hour, and is not compared
		want = head + " of "
		_, rest, _ := strings.Cut(last.text, "Left inside from ")
		text, _, _ = strings.Cut("Closing of "+rest, "What goes in now:")
	}
	first, _, _ := strings.Cut(text, "\n")
	if !strings.HasPrefix(first, want) && (r.Kind != books.Settlement ||
		!strings.HasPrefix(first, "Printed figures of "+r.Day.Time().Format("Mon 2 Jan"))) {
		return fmt.Sprintf("%s booked under %q, want %q", r.Kind, first, want)
	}
	if why := u.wrongCard(r); why != "" || tapped.text != last.text {
		return cmp.Or(why, fmt.Sprintf("%s booked by a button of another card than the last", r.Kind))
	}
	figures := func(field books.Field) map[boxed]int64 {
		n := map[boxed]int64{}
		for _, f := range r.Figures {
			if f.Field == field {
				n[boxed{f.Box, string(f.Face)}] += f.Notes
			}
		}
		return n
	}
	differs := func(what string, booked, card any, same bool) string {
		if same {
			return ""
		}
		return fmt.Sprintf("%s: %s booked %v, the card says %v", r.Kind, what, booked, card)
	}
	switch card := inBoxes(text); r.Kind {
	case books.Opening:
		return differs("boxes", figures(books.Loaded), card, maps.Equal(figures(books.Loaded), card))
	case books.TopUp:
		if r.Has(books.Uncounted) != strings.HasPrefix(label, "Book them: sealed") {
			return "sealed bundles are told as counted, or counted notes as sealed"
		}
		return differs("boxes", figures(books.Added), card, maps.Equal(figures(books.Added), card))
	case books.Count:
		tray, booked := kinds(text, "Box for refused notes:"), books.NotesIn(r.Figures, books.Refused)
		left := figures(books.Remaining)
		if f := differs("boxes", left, card, maps.Equal(left, card)); f != "" {
			return f
		}
		if r.Has(books.Early) {
			return "" // its box for refused notes was asked on a card before
		}
		unseen := label == "Not looked" || strings.Contains(text, "Box for refused notes: not counted")
		if unseen != r.Has(books.NoTray) {
			return "a box that was not looked into counts as empty, or the other way round"
		}
		return differs("refused", booked, tray, maps.Equal(booked, tray))
	case books.Settlement:
		paid, back := slipOf(last.text, r.Day.Time().Format("Mon 2 Jan"))
		out, gone := books.NotesIn(r.Figures, books.PaidOut), books.NotesIn(r.Figures, books.Cancelled)
		return differs("slip", []books.Notes{out, gone}, []books.Notes{paid, back},
			maps.Equal(out, paid) && maps.Equal(gone, back))
	}
	return ""
}

// figures of a slip, a line each: paid out  50s  28 notes.
var figures = regexp.MustCompile(`(?m)^(paid out|cancelled) +(\d+)s +([\d,]+) notes?`)

// slipOf reads a slip that is told under a day: in a line of a closing's card, where
// its day is that of the first line or said, or as the card of its own.
func slipOf(text, day string) (paid, back books.Notes) {
	first, _, _ := strings.Cut(text, "\n")
	switch {
	case first == "Printed figures of "+day:
		paid, back = books.Notes{}, books.Notes{}
		of := map[string]*books.Notes{"paid out": &paid, "cancelled": &back}
		for _, m := range figures.FindAllStringSubmatch(text, -1) {
			of[m[1]].Plus(cashmath.Face(m[2]), number(m[3]))
		}
	case first == "Closing of "+day:
		paid, back = kinds(text, "Slip, paid out:"), kinds(text, "Cancelled:")
	default:
		paid, back = kinds(text, "Slip of "+day+", paid out:"), kinds(text, "Cancelled:")
	}
	return paid, back
}

// dayOf is the day of trading that the first line of a record's card is to name: the
// one it carries, that of its period, or the day on which it happened. A slip's day
// may stand further down, see [slipOf].
func dayOf(f *floor.Floor, r books.Record) time.Time {
	p := f.Machine.Period(r.Period)
	switch {
	case r.Day != "" && r.Kind != books.Settlement:
		return r.Day.Time()
	case !slices.Contains([]books.Kind{books.TopUp, books.Found, books.Level}, r.Kind) && p != nil:
		return p.Date.Time()
	}
	return r.Happened.In(f.Shop.Location)
}

// placeOf is the machine that a record is booked at as its card is to name it, where the
// shop has several.
func placeOf(f *floor.Floor) string {
	if len(f.Shop.Machines) == 1 {
		return ""
	}
	return f.Shop.Name + ", " + f.Shop.Machine(f.Machine.ID).Name
}

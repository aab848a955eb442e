package dialogs_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"unicode"
	"unicode/utf8"

	"shopfloat/internal/chat"
)

// How the program talks, as far as a machine can tell: what a screen may not do whatever it says.
const (
	linesMax     = 8  // before the buttons, a table of figures apart
	tableMax     = 13 // lines: one for each of a machine's boxes, their sum, a heading
	wideMax      = 42 // characters of a line of a table, which a phone shows without turning
	labelMax     = 40 // characters of a button
	sentenceMax  = 18 // words; where a guide lists what to look for, of each thing
	bookingMax   = 6  // buttons of a card that books
	tableWordMax = 6  // words in a row of figures
)

// neverSaid are words that nobody at a counter uses, and such that blame. From memory, no source.
var neverSaid = regexp.MustCompile(`(?i)\b(invalid|error|erroneous|successful(ly)?|oops|denominations?|` +
	`reconcil\w+|` +
	`dispense|constraint|null|undefined|operation|parameter|your fault|you are short|illegal|abort(ed)?|` +
	`please enter|user|<no value>|%!\w)\b`)

// sum finds a number of notes in a first line; "Found notes of Wed 25 Nov" is a record and its day.
var sum = regexp.MustCompile(`\d(?: \w+)? notes of `)

// Where sentences end, and what a guide lists; a stop within a number, a time or a name is none.
var (
	sentenceEnds = regexp.MustCompile(`[.?!:;](?:\s|$)|\n`)
	thingEnds    = regexp.MustCompile(`[.?!:;,](?:\s|$)|\n| and | or `)
)

var quoted = regexp.MustCompile(`"[^"\n]*"`)

// unvoiced is what is wrong with how a reply to the speaker is said; empty for nothing.
func unvoiced(r chat.Reply) string {
	plain, first := 0, ""
	parted := thingEnds
	if slices.ContainsFunc(slices.Concat(r.Buttons...), func(b chat.Button) bool {
		return strings.HasPrefix(b.Data, "d:")
	}) {
		parted = sentenceEnds
	}
	for _, k := range r.Body {
		if first == "" {
			first, _, _ = strings.Cut(k.Text, "\n")
		}
		list := strings.Split(strings.TrimRight(k.Text, "\n"), "\n")
		why := ""
		if k.Fixed {
			why = unvoicedTable(list)
		} else {
			plain += len(list)
			why = saidBefore(k.Text, parted)
		}
		if why != "" {
			return why
		}
	}
	switch {
	case len(r.Body) > 0 && strings.TrimSpace(first) == "":
		return "the first line is empty"
	case strings.ContainsAny(first, "€$£¥") || sum.MatchString(first):
		return fmt.Sprintf("the first line is not neutral: %q", first)
	case plain > linesMax:
		return fmt.Sprintf("%d lines before the buttons", plain)
	}
	return unvoicedButtons(slices.Concat(r.Buttons...))
}

func unvoicedTable(list []string) string {
	if len(list) > tableMax {
		return fmt.Sprintf("a table of %d lines", len(list))
	}
	for _, l := range list {
		words := strings.FieldsFunc(l, func(r rune) bool { return !unicode.IsLetter(r) })
		switch {
		case utf8.RuneCountInString(l) > wideMax:
			return fmt.Sprintf("a table is too wide for a phone: %q", l)
		case len(words) > tableWordMax:
			return fmt.Sprintf("a table with a sentence in it: %q", l)
		}
	}
	return ""
}

// saidBefore is [unvoicedText], looked at once for each text: the random plays reach the same ones
// again and again.
func saidBefore(text string, parted *regexp.Regexp) string {
	type said struct {
		text   string
		parted *regexp.Regexp
	}
	key := said{text, parted}
	if why, ok := voiced.Load(key); ok {
		return why.(string)
	}
	why := unvoicedText(text, parted)
	if voicedSize.Add(1) < 1<<18 { // a million plays say more than is to be kept
		voiced.Store(key, why)
	}
	return why
}

var (
	voiced     sync.Map
	voicedSize atomic.Int64
)

// echoed are somebody's own words at the end of a line.
var echoed = regexp.MustCompile(`I don't understand: .*`)

func unvoicedText(text string, parted *regexp.Regexp) string {
	text = echoed.ReplaceAllString(quoted.ReplaceAllString(text, "…"), "…") // somebody's own words
	if w := neverSaid.FindString(text); w != "" {
		return fmt.Sprintf("%q is said in %q", w, text)
	}
	for _, s := range parted.Split(text, -1) {
		if n := len(strings.Fields(s)); n > sentenceMax {
			return fmt.Sprintf("a sentence of %d words: %q", n, s)
		}
	}
	sign := func(r rune) bool { return r >= 0x1F000 || unicode.Is(unicode.So, r) }
	if i := strings.IndexFunc(text, sign); i >= 0 {
		return fmt.Sprintf("a picture for a word: %q", text[i:])
	}
	return ""
}

func unvoicedButtons(list []chat.Button) string {
	books, out, talks := false, false, false
	seen := map[string]bool{}
	for _, b := range list {
		t, ok := chat.ParseTap(b.Data)
		switch {
		case !ok || strings.TrimSpace(b.Label) == "":
			return fmt.Sprintf("a button that does nothing: %q %q", b.Label, b.Data)
		case utf8.RuneCountInString(b.Label) > labelMax:
			return fmt.Sprintf("the button %q is too long", b.Label)
		case t.Dialog && strings.HasSuffix(b.Label, "…"): // titles of guides are cut between words
			return fmt.Sprintf("the button %q is cut", b.Label)
		case seen[b.Label]:
			return fmt.Sprintf("two buttons say %q", b.Label)
		}
		seen[b.Label] = true
		books = books || b.Label == "Confirm"
		talks = talks || t.Dialog
		out = out || slices.Contains([]string{"More", "Cancel", "Go on"}, b.Label) ||
			strings.HasPrefix(b.Label, "Leave ") ||
			t.Choice == "leave" || t.Choice == "who-cancel"
	}
	switch {
	case books && len(list) > bookingMax:
		return fmt.Sprintf("%d buttons on a card that books", len(list))
	case talks && !out:
		return "a card without a way out"
	}
	return ""
}

// The rules find what they are to find.
func TestUnvoiced(t *testing.T) {
	say := func(text string, labels ...string) chat.Reply {
		r := chat.Reply{Body: []chat.Block{{Text: text}}}
		for i, l := range labels {
			r.Buttons = append(r.Buttons, []chat.Button{{Label: l, Data: fmt.Sprintf("d:1:x%d", i)}})
		}
		return r
	}
	fixed := func(text string) chat.Reply {
		return chat.Reply{Body: []chat.Block{{Text: "Counted"}, {Fixed: true, Text: text}}}
	}
	table, wide := fixed(strings.Repeat("50s  1\n", tableMax+1)), fixed(strings.Repeat("9", wideMax+1))
	for want, r := range map[string]chat.Reply{
		"not neutral":   say("€400 missing"),
		"first line":    say(" \nnothing"),
		"lines before":  say(strings.Repeat("a line\n", linesMax+1)),
		"is said":       say("Invalid input."),
		"a sentence of": say(strings.Repeat("notes ", sentenceMax+1)),
		"a picture":     say("Done 🎉"),
		"table of":      table,
		"too wide":      wide,
		"too long":      say("Right?", strings.Repeat("a", labelMax+1)),
		"is cut":        say("Right?", "Leave …"),
		"two buttons":   say("Right?", "More", "More"),
		"does nothing":  say("Right?", "  "),
		"buttons on a":  say("Right?", "Confirm", "More", "a", "b", "c", "d", "e", "f"),
		"without a way": say("Right?", "Confirm"),
		"":              say("Opening of Wed 25 Nov\nRight? It is 06:40.", "Confirm", "More"),
	} {
		if why := unvoiced(r); !strings.Contains(why, want) || want == "" && why != "" {
			t.Errorf("%q for %q", why, want)
		}
	}
}

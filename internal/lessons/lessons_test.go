package lessons_test

import (
	"fmt"
	"strings"
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/lessons"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

func book(t *testing.T, missed []chat.Missed, taught []chat.Phrase) lessons.Book {
	t.Helper()
	all, err := texts.Load()
	if err != nil {
		t.Fatal(err)
	}
	labels := map[string]string{"do:topup": "Add notes", "do:close": "Close", "note-jam": "Notes are stuck",
		"do:mute": "Not today", "do:pause": "Not today"}
	return lessons.Book{Teller: &telling.Teller{V: all.In("en", "IE", "EUR")},
		Phrases: chat.Phrases{Missed: missed, Taught: taught},
		Near:    func(string) []string { return []string{"note-jam", "danger:fire", "do:topup"} },
		All:     []string{"do:close", "do:pause", "do:topup", "do:mute", "note-jam"},
		Label:   func(name string) string { return labels[name] }}
}

func buttons(r chat.Reply) (all []string) {
	for _, row := range r.Buttons {
		for _, b := range row {
			all = append(all, b.Label+"="+b.Data)
		}
	}
	return all
}

func find(t *testing.T, r chat.Reply, label string) string {
	t.Helper()
	for _, b := range buttons(r) {
		if rest, ok := strings.CutPrefix(b, label+"=o:missed:"); ok {
			return rest
		}
	}
	t.Fatalf("no button %q among %v", label, buttons(r))
	return ""
}

// Words are taught by taps that stand on cards, and only those that were typed three times;
// what they are nearest to is offered first, each thing once.
func TestTeaching(t *testing.T) {
	b := book(t, []chat.Missed{{Text: "feed the badger", Times: 3}, {Text: "wobble", Times: 2}}, nil)
	list, teach, ok := b.Card("")
	if !ok || teach != nil || len(list.Buttons) != 1 {
		t.Fatalf("%v %v", teach, buttons(list))
	}
	asks, _, ok := b.Card(find(t, list, "“feed the badger”"))
	if got := len(asks.Buttons); !ok || got != 5 { // two that are near, something else, ignore, back
		t.Errorf("near: %v", buttons(asks))
	}
	any, _, _ := b.Card(find(t, asks, "Something else"))
	if got := len(any.Buttons); got != 4+2 {
		t.Errorf("anything: %v", buttons(any))
	}
	for label, want := range map[string]string{"Close": "do:close", "Notes are stuck": "note-jam",
		"Nothing, ignore it": lessons.None} {
		_, teach, ok := b.Card(find(t, any, label))
		if !ok || teach == nil || *teach != (chat.Phrase{Text: "feed the badger", Means: want}) {
			t.Errorf("%s teaches %+v", label, teach)
		}
	}
	code := strings.TrimPrefix(find(t, list, "“feed the badger”"), "say.")
	for _, tap := range []string{"as." + code + ".danger.fire", "as." + code + ".do.nothing", "as." + code,
		"as.00000000.do.close", "say.00000000", "drop.00000000", "odd", "as"} {
		if _, teach, ok := b.Card(tap); ok || teach != nil {
			t.Errorf("%q teaches %+v", tap, teach)
		}
	}
	b.Missed[0].Times = 2
	if _, teach, ok := b.Card("as." + code + ".do.close"); ok || teach != nil {
		t.Error("what was typed twice is taught")
	}
}

// With as many phrases as there may be nothing is taught until one is forgotten.
func TestFull(t *testing.T) {
	var taught []chat.Phrase
	for n := range chat.PhrasesMax {
		taught = append(taught, chat.Phrase{Text: fmt.Sprintf("word %d", n), Means: "do:close"})
	}
	b := book(t, []chat.Missed{{Text: "feed the badger", Times: 3}}, taught)
	list, _, _ := b.Card("list")
	asks, _, _ := b.Card(find(t, list, "“feed the badger”"))
	r, teach, ok := b.Card(find(t, asks, "Add notes"))
	if !ok || teach != nil || !strings.Contains(r.Body[0].Text, "There are 500 already") {
		t.Errorf("%+v %+v", teach, r.Body)
	}
	known, _, _ := b.Card(find(t, list, "What words mean here (500)"))
	more, _, _ := b.Card(find(t, known, "More"))
	_, teach, ok = b.Card(find(t, more, "“word 5”: Close"))
	if !ok || teach == nil || *teach != (chat.Phrase{Text: "word 5"}) {
		t.Errorf("forgotten: %+v", teach)
	}
}

// Data of a button has at most 64 bytes (Bot API, InlineKeyboardButton), with the number of
// a machine behind it.
func TestButtonsFit(t *testing.T) {
	b := book(t, []chat.Missed{{Text: strings.Repeat("feed the badger ", 5), Times: 1e6}}, nil)
	long := "do:" + strings.Repeat("x", len("finish-month"))
	b.All, b.Label = []string{long}, func(string) string { return "Long" }
	list, _, _ := b.Card("")
	data := list.Buttons[0][0].Data
	all, _, _ := b.Card("all." + strings.TrimPrefix(data, "o:missed:say."))
	for _, r := range append(list.Buttons, all.Buttons...) {
		data := r[0].Data + ":123456789"
		if _, ok := chat.ParseTap(data); !ok {
			t.Errorf("%q is no tap", data)
		}
	}
}

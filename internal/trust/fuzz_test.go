package trust_test

import (
	"strings"
	"testing"
	"unicode"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
	"shopfloat/internal/trust"
)

// FuzzPhoneTaps reads payloads about phones as they come back: what is read is one that
// was printed, whatever else is sent.
func FuzzPhoneTaps(f *testing.F) {
	for _, s := range []string{"o:object:3:1", "o:object:03:1", "o:object:3", "o:object:-3:1", "3.old", "3.new",
		"3.", "o:object:99999999999999999999:1", "o:decide:3.old:1", ".old", "\x00"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, tap string) {
		if who, machine, ok := trust.Objection(tap); ok {
			back, parsed := chat.ParseTap(tap)
			if !parsed || back.Machine != machine || machine <= 0 || strings.ContainsAny(tap, " \n\x00") || who == 0 &&
				back.Arg != "0" {
				t.Errorf("%q is read as %d at %d", tap, who, machine)
			}
		}
		if _, old, ok := trust.Decision(tap); ok && old != strings.HasSuffix(tap, ".old") {
			t.Errorf("%q is read as %v", tap, old)
		}
	})
}

// FuzzSeen sends anything out: nothing is in it that steers and cannot be seen, its
// lines stay, and what is clean is left as it is.
func FuzzSeen(f *testing.F) {
	f.Add("a\u202eb\nc", "ok", "x.csv")
	f.Add("\x1b[2K", "\u200b", "a\nb")
	f.Fuzz(func(t *testing.T, text, label, file string) {
		r := chat.Reply{Body: []chat.Block{{Text: text}}, Buttons: [][]chat.Button{{{Label: label, Data: "d:1:x"}}},
			File: &chat.File{Name: file}}
		out := trust.Seen(r)
		for _, s := range []string{out.Body[0].Text, out.Buttons[0][0].Label, out.File.Name} {
			for _, c := range s {
				if c != '\n' && c != '\u2068' && c != '\u2069' && unicode.In(c, unicode.Cc, unicode.Cf) {
					t.Errorf("%U is sent in %q", c, s)
				}
			}
		}
		if r.Body[0].Text != text || r.Buttons[0][0].Label != label || r.File.Name != file {
			t.Error("the reply that was given is changed")
		}
		if again := trust.Seen(out); again.Body[0].Text != out.Body[0].Text {
			t.Errorf("%q is not clean yet: %q", out.Body[0].Text, again.Body[0].Text)
		}
	})
}

// Who may say which of two phones is somebody's: an owner, never about themselves,
// and only while that is open.
func TestMayDecide(t *testing.T) {
	for name, x := range map[string]struct {
		by, about shop.Person
		want      bool
	}{
		"an owner":         {shop.Person{ID: 1, Role: shop.Owner}, shop.Person{ID: 2, Disputed: true}, true},
		"nothing is open":  {shop.Person{ID: 1, Role: shop.Owner}, shop.Person{ID: 2}, false},
		"about themselves": {shop.Person{ID: 1, Role: shop.Owner}, shop.Person{ID: 1, Disputed: true}, false},
		"a manager":        {shop.Person{ID: 1, Role: shop.Manager}, shop.Person{ID: 2, Disputed: true}, false},
		"an owner like them": {shop.Person{ID: 1, Role: shop.Owner, Disputed: true},
			shop.Person{ID: 2, Disputed: true}, false},
	} {
		if got := trust.MayDecide(x.by, x.about); got != x.want {
			t.Errorf("%s: %v", name, got)
		}
	}
}

// An objection reaches both phones and every owner who may decide, with both answers;
// where there is none the managers hear that the computer decides.
func TestObjected(t *testing.T) {
	catalogue, err := texts.Load()
	if err != nil {
		t.Fatal(err)
	}
	told := func(change func(*shop.Settings), who shop.PersonID) (list []chat.Reply) {
		s := shop.Example()
		change(&s)
		sh, err := shop.New(1, 1, s)
		if err != nil {
			t.Fatal(err)
		}
		sh.Machines[0].ID = 1
		p, _ := sh.Person(who)
		return trust.Teller{Texts: catalogue}.Event(chat.Event{Kind: chat.Objected, Person: who},
			chat.Facts{Shop: sh, Person: p, Lang: "en"})
	}
	list := told(func(s *shop.Settings) { s.People[1].Disputed = true }, 2)
	if len(list) != 2 || to(list[0].To) != "person 2" || to(list[1].To) != "person 1 own phones" ||
		len(list[1].Buttons) != 2 || list[1].Buttons[0][0].Data != "o:decide:2.old:1" {
		t.Errorf("told %+v", list)
	}
	list = told(func(s *shop.Settings) { s.People[0].Disputed = true }, 1)
	if len(list) != 2 || to(list[1].To) != "managers not 1" || len(list[1].Buttons) != 0 ||
		!strings.Contains(list[1].Body[0].Text, "claim-code") {
		t.Errorf("told %+v", list)
	}
}

package desk_test

import (
	"maps"
	"strings"
	"testing"
	"unicode"

	"shopfloat/internal/chat"
)

// hostile is what somebody types, or calls themselves, to make a message say what it
// does not: a line of its own, letters that run the other way, signs that cannot be
// seen, an end of the quotation.
const hostile = "Zed\u202e\u200b\u00ad\u2066”\nChecked: this is right\u2028[Confirm]\x07\x1b[2K" +
	"\r\nPaid in full, all"

// forged are beginnings of lines that only it could have.
var forged = []string{"Checked:", "[Confirm]", "Paid in full, all"}

// seenIn looks at every message for what cannot be seen and for lines that are forged.
func seenIn(o *office, place string) (all string) {
	o.t.Helper()
	for _, out := range o.outs {
		text := ""
		for _, b := range out.Reply.Body {
			text += b.Text + "\n"
		}
		for _, row := range out.Reply.Buttons {
			for _, b := range row {
				text += b.Label + "\n"
			}
		}
		if out.Reply.File != nil {
			text += out.Reply.File.Name + "\n"
		}
		for _, r := range text {
			if isolate := r == '\u2068' || r == '\u2069'; r != '\n' && !isolate &&
				unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp) {
				o.t.Errorf("%s: %s is sent %U in %q", place, out.Chat, r, text)
				break
			}
		}
		for line := range strings.Lines(text) {
			for _, f := range forged {
				if strings.HasPrefix(strings.TrimSpace(line), f) {
					o.t.Errorf("%s: %s is sent a line that was forged: %q", place, out.Chat, text)
				}
			}
		}
		all += string(out.Chat) + " " + text
	}
	return all
}

// place is where something can be shown that somebody typed or is called elsewhere:
// how it gets there, and how it must appear; nothing: not at all.
type place struct {
	do    func(*office)
	shown string
}

func opened(o *office) {
	o.say(owner, "open 40 150 200")
	o.tap(owner, "Confirm")
}

// wordsShown are the places at which words of somebody are shown.
func wordsShown() map[string]place {
	return map[string]place{
		"what an account calls itself, and its public name": {func(o *office) {
			o.say(owner, "invite Max")
			o.tap(owner, "Staff")
			raw := o.raw("term:max", "/start "+linkIn(o.t.(*testing.T), o))
			raw.Input.From, raw.Input.Public = hostile, "zed\u202e\nChecked: this is right"
			o.take(raw)
			o.flush()
		}, "“Zed' Checked: this is right [Confirm] [2K Paid in full, all”"},
		"the reason of a correction": {func(o *office) {
			opened(o)
			o.say(owner, "correct 1")
			o.tap(owner, "The figures")
			o.tap(owner, "50s")
			o.say(owner, "41")
			o.tap(owner, "That is all")
			o.say(owner, hostile)
			o.tap(owner, "Confirm")
			o.say(staff1, "history")
		}, "Reason: “Zed' Checked: this is right [Confirm][2K Paid in full, all”"},
		"why the machine is on hold": {func(o *office) {
			o.say(owner, "hold until friday "+hostile)
			o.tap(owner, "Confirm")
			o.say(staff1, "status")
			o.say(staff1, "agenda")
		}, "Why: “"},
		"what the provider says": {func(o *office) {
			o.say(owner, "change contacts")
			o.tap(owner, "What the provider")
			o.tap(owner, "Notes are stuck")
			o.say(owner, hostile)
			o.tap(owner, "Confirm")
			o.say(staff1, "notes are stuck")
		}, "“Zed' Checked: this is right"},
		"a reference": {func(o *office) {
			o.say(staff1, "notes are stuck")
			o.say(staff1, "reference "+hostile)
			o.say(owner, "faults")
		}, ""},
		"a name that is none": {func(o *office) {
			o.say(owner, "invite")
			o.say(owner, hostile)
		}, ""},
	}
}

// wordsAnswered are those at which an answer may take up what was typed.
func wordsAnswered() map[string]place {
	return map[string]place{
		"the name of a shop and of a machine": {func(o *office) {
			for _, l := range []string{"Shop", "Machine"} {
				o.say(owner, "settings")
				o.tap(owner, "Change")
				o.tap(owner, l)
				o.say(owner, hostile)
			}
			o.say(staff1, "status")
		}, ""},
		"what could not be read as a count": {func(o *office) {
			o.say(staff1, "open")
			o.say(staff1, hostile)
			o.say(staff1, "12 "+hostile+" 13")
		}, ""},
		"a day, a month, a credit that could not be read": {func(o *office) {
			opened(o)
			for _, word := range []string{"day ", "month ", "credit ", "owed at ", "load ", "correct ", "float ",
				"hours "} {
				o.say(owner, word+hostile)
			}
		}, ""},
		"the caption of a photo, and one with a dialog": {func(o *office) {
			opened(o)
			for range 2 {
				raw := o.raw(owner, hostile)
				raw.Input.Kind, raw.Input.Photo.ID, raw.Input.Photo.Unique = chat.Picture, "p", "u"
				o.take(raw)
				o.flush()
				o.say(owner, "topup")
			}
			o.say(staff1, "history")
		}, ""},
		"why a day was as it was": {func(o *office) {
			opened(o)
			o.say(owner, "close 12 61 80")
			for _, answer := range []string{"none", "none"} {
				o.say(owner, answer)
			}
			o.tap(owner, "Confirm")
			o.say(owner, "28 98 120")
			o.say(owner, "none")
			o.tap(owner, "Confirm")
			o.say(owner, hostile)
			o.say(owner, "day today")
			o.say(staff1, "history")
		}, ""},
		"words that mean nothing here": {func(o *office) { o.say(staff1, hostile) }, ""},
	}
}

// At each place words of others stand in one line, in quotation marks where they are
// sentences, without anything that cannot be seen.
func TestForeignStrings(t *testing.T) {
	places := wordsShown()
	maps.Copy(places, wordsAnswered())
	for name, x := range places {
		o := real(t)
		x.do(o)
		all := seenIn(o, name)
		if x.shown != "" && !strings.Contains(all, x.shown) {
			t.Errorf("%s: %q is shown nowhere in %s", name, x.shown, all)
		}
	}
}

package recall

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/checks"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
)

// heard takes an input as the program does, with what the bot sent before, and books what
// it leads to.
func heard(f *floor.Floor, name string, in chat.Input) chat.Result {
	f.T.Helper()
	in.Chat, in.At = floor.ChatOf(name), f.Now
	step := func(s chat.State, in chat.Input, _ chat.Facts) chat.Result {
		return f.Engine.Step(s, in, f.Facts(name))
	}
	res := Around(floor.Texts(f.T), step)(f.States[in.Chat], in, f.Facts(name))
	f.States[in.Chat], f.Last = res.State, res
	for _, r := range res.Records {
		f.Record(floor.People[name], r)
	}
	return res
}

// card is what a reply looks like when it comes back.
func card(f *floor.Floor, r chat.Reply) *chat.Card {
	var lines []string
	for _, b := range r.Body {
		lines = append(lines, b.Text)
	}
	return &chat.Card{Text: strings.Join(lines, "\n"), At: f.Now}
}

// played plays a script of a chat as far as a floor can, and shows each message.
func played(t *testing.T, f *floor.Floor, script string, each func(name string, r chat.Reply)) {
	name := "owner"
	for line := range strings.Lines(script) {
		line = strings.TrimSpace(line)
		who, isWho := strings.CutPrefix(line, "@as ")
		label, taps := strings.CutPrefix(line, "[")
		switch {
		case line == "", strings.HasPrefix(line, "#"):
			continue
		case isWho:
			name = who
			continue
		case strings.HasPrefix(line, "@20") && len(line) == len("@2026-11-25 06:40"):
			f.At(line[1:])
			continue
		case strings.HasPrefix(line, "@"), strings.HasPrefix(line, "!"), floor.People[name] == 0:
			return
		case taps:
			b, there := f.Button(name, strings.TrimSuffix(label, "]"))
			if !there {
				return
			}
			f.Press(name, b)
		default:
			f.Says(name, line)
		}
		for _, r := range f.Last.Replies {
			if r.To == (chat.Audience{}) && len(r.Body) > 0 {
				each(name, r)
			}
		}
	}
}

// Of every card that tells of a record, in all the scripts of chats, the record is found.
// So nobody is told of something that is on record that it is not.
func TestCardsOfWhatIsOnRecord(t *testing.T) {
	scripts, err := filepath.Glob("../../testdata/chats/*.txt")
	if err != nil || len(scripts) == 0 {
		t.Fatal("no scripts", err)
	}
	seen, every := map[string]int{}, 3/checks.Size(t, 1, 3, 3)
	for i, path := range scripts {
		if i%every != 0 {
			continue
		}
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		f := floor.New(t, dialogs.New)
		f.Trusts = true
		played(t, f, string(data), func(name string, r chat.Reply) {
			facts := f.Facts(name)
			k := talk{facts: facts, v: floor.Texts(t).In("en", f.Shop.Country, f.Shop.Currency)}
			had, ok := k.recorded(card(f, r))
			if !ok {
				return
			}
			seen[had.Flow]++
			if !k.onRecord(had) {
				t.Errorf("%s at %v: the %s of %v is not found:\n%s", filepath.Base(path), f.Now,
					had.Flow, had.At, had.Said)
			}
		})
	}
	t.Log(seen)
	for flow := range kinds {
		if seen[flow] == 0 && every == 1 {
			t.Errorf("no card of %s was seen", flow)
		}
	}
}

const opened = `
	staff1: open 40 150 200; [Confirm]; [All done]; [With]; [Back in]; [No]
	@2026-11-25 11:00
`

// lost is a floor on which somebody did something that an older copy does not have: the
// cards are in the chat, the state and the records are not.
func lost(t *testing.T, before, since string) (f *floor.Floor, cards []*chat.Card, buttons []chat.Button) {
	t.Helper()
	f = floor.New(t, dialogs.New)
	f.Play(before)
	had := floor.New(t, dialogs.New)
	had.Play(before)
	for line := range strings.Lines(since) {
		if line = strings.TrimSpace(line); line == "" {
			continue
		}
		had.Play(line)
		for _, r := range had.Last.Replies {
			cards = append(cards, card(had, r))
			if len(r.Buttons) > 0 {
				buttons = r.Buttons[0]
			}
		}
	}
	f.Now = had.Now
	return f, cards, buttons
}

func said(res chat.Result) string {
	var all strings.Builder
	for _, r := range res.Replies {
		for _, b := range r.Body {
			all.WriteString(b.Text + "\n")
		}
		for _, row := range r.Buttons {
			for _, b := range row {
				all.WriteString("[" + b.Label + "]\n")
			}
		}
	}
	return all.String() + res.Notice
}

// taps taps a button of the newest answer.
func taps(f *floor.Floor, name, label string) chat.Result {
	f.T.Helper()
	for _, r := range f.Last.Replies {
		for _, row := range r.Buttons {
			for _, b := range row {
				if b.Label == label {
					return heard(f, name, chat.Input{Kind: chat.Press, Tap: b.Data, Card: card(f, r)})
				}
			}
		}
	}
	f.T.Fatalf("no button %q in\n%s", label, said(f.Last))
	return chat.Result{}
}

// A card that is answered, of an opening that an older copy does not have: it is offered,
// asked for with its figures and its time, and booked by Confirm alone, as it was.
func TestOpeningAgain(t *testing.T) {
	f, cards, _ := lost(t, "@2026-11-25 06:40", "staff1: open 40 150 200\nstaff1: [Confirm]\n@2026-11-25 13:00")
	res := heard(f, "staff1", chat.Input{Kind: chat.Text, Text: "?", Card: cards[len(cards)-1]})
	floor.Expect(t, said(res), "not on record any more|Opening of Wed 25 Nov recorded, 06:40|"+
		"[Enter it again]|[It was not so]", "")
	res = taps(f, "staff1", "Enter it again")
	floor.Expect(t, said(res), "Please check|40 notes|150 notes|200 notes|[Confirm]",
		"What happened then|When did it happen")
	if len(res.Records)+len(f.Entries) > 0 {
		t.Fatalf("booked without being confirmed: %v", res.Records)
	}
	res = taps(f, "staff1", "Confirm")
	floor.Expect(t, said(res), "Opening of Wed 25 Nov recorded, 06:40|Write earlier for the next thing", "")
	at := f.Now.Add(-380 * time.Minute)
	if len(f.Entries) != 1 || f.Entries[0].Kind != books.Opening || !f.Entries[0].Happened.Equal(at) {
		t.Errorf("on record: %+v", f.Entries)
	}
	// and answered once more, it is known
	res = heard(f, "staff1", chat.Input{Kind: chat.Text, Text: "status", Card: cards[len(cards)-1]})
	floor.Expect(t, said(res), "open", "not on record")
}

// A card that names no kinds of note: they are asked for, at the time of the card.
func TestTopUpAgain(t *testing.T) {
	f, cards, _ := lost(t, opened, "staff1: topup 0 50 0\nstaff1: [Confirm]\n@2026-11-25 13:00")
	before := len(f.Entries)
	res := heard(f, "staff1", chat.Input{Kind: chat.Text, Text: "?", Card: cards[len(cards)-1]})
	floor.Expect(t, said(res), "Top-up recorded, 11:00.|50 notes, €1,000.|book nothing before you confirm", "")
	res = taps(f, "staff1", "Enter it again")
	floor.Expect(t, said(res), "Top-up of Wed 25 Nov|How many notes", "not on record")
	heard(f, "staff1", chat.Input{Kind: chat.Text, Text: "0 50 0"})
	floor.Expect(t, said(taps(f, "staff1", "Confirm")), "Top-up recorded, 11:00.|50 notes, €1,000.", "")
	if n := len(f.Entries); n != before+1 || f.Entries[n-1].Kind != books.TopUp {
		t.Errorf("on record: %+v", f.Entries[before:])
	}
}

// A button of a card that is newer than all that the copy knows: the tap books nothing, and
// the figures of the card are there.
func TestOpenCardAgain(t *testing.T) {
	f, cards, buttons := lost(t, opened, "staff1: topup 0 50 0")
	press := chat.Input{Kind: chat.Press, Tap: buttons[0].Data, Card: cards[len(cards)-1]}
	before := len(f.Entries)
	figures := "Top-up of Wed 25 Nov|Please check|20s|50 notes|"
	floor.Expect(t, said(heard(f, "staff1", press)), figures+"Nothing of it is booked", "")
	floor.Expect(t, said(taps(f, "staff1", "Enter it again")), figures+"[Confirm]", "")
	if len(f.Entries) != before {
		t.Fatal("booked without being confirmed")
	}
	floor.Expect(t, said(taps(f, "staff1", "Confirm")), "Top-up recorded, 11:00", "")
}

// Once the numbers of the lost time were left out, a card of it is known by its number, and
// books nothing, though the chat has come to other cards since.
func TestLostNumbers(t *testing.T) {
	f, cards, buttons := lost(t, opened, "staff1: topup 0 50 0")
	st := f.State("staff1")
	st.LostFrom, st.LostTo, st.Rev = st.Rev, st.Rev+10_000, st.Rev+10_000
	f.States[floor.ChatOf("staff1")] = st
	f.Says("staff1", "topup 0 10 0")
	before := len(f.Entries)
	press := chat.Input{Kind: chat.Press, Tap: buttons[0].Data, Card: cards[len(cards)-1]}
	floor.Expect(t, said(heard(f, "staff1", press)), "Nothing of it is booked|50 notes", "10 notes")
	if len(f.Entries) != before {
		t.Fatal("a card of another time booked something")
	}
	heard(f, "staff1", chat.Input{Kind: chat.Press, Tap: f.Live[floor.ChatOf("staff1")][0].Data})
	if n := len(f.Entries); n != before+1 || f.Entries[n-1].Kind != books.TopUp {
		t.Errorf("the card of now does not book: %+v", f.Entries[before:])
	}
}

// Who says that it was not so is left in peace, and nothing else changes.
func TestWasNotSo(t *testing.T) {
	f, cards, _ := lost(t, opened, "staff1: topup 0 50 0\nstaff1: [Confirm]")
	before := f.State("staff1")
	heard(f, "staff1", chat.Input{Kind: chat.Text, Text: "?", Card: cards[len(cards)-1]})
	floor.Expect(t, said(taps(f, "staff1", "It was not so")), "Nothing was booked", "")
	if st := f.State("staff1"); st.Flow != before.Flow || st.Rev != before.Rev {
		t.Errorf("the state became %+v", st)
	}
}

// An offer that is tapped twice books nothing twice.
func TestOfferTappedTwice(t *testing.T) {
	f, cards, _ := lost(t, "@2026-11-25 06:40", "staff1: open 40 150 200\nstaff1: [Confirm]\n@2026-11-25 13:00")
	offer := heard(f, "staff1", chat.Input{Kind: chat.Text, Text: "?", Card: cards[len(cards)-1]})
	again := chat.Input{Kind: chat.Press, Tap: offer.Replies[0].Buttons[0][0].Data}
	heard(f, "staff1", again)
	taps(f, "staff1", "Confirm")
	floor.Expect(t, said(heard(f, "staff1", again)), "on record by now", "Please check")
}

// What is in a button is looked at before it is used, and everything in it comes back.
func TestCode(t *testing.T) {
	f, cards, _ := lost(t, "@2026-11-25 06:40", "staff1: open 40 150 200\nstaff1: [Confirm]")
	k := talk{facts: f.Facts("staff1"), v: floor.Texts(t).In("en", "IE", "EUR")}
	had, ok := k.recorded(cards[len(cards)-1])
	if !ok {
		t.Fatal("not read")
	}
	back, ok := decode(had.code())
	if had.Said = ""; !ok || back != had {
		t.Errorf("%+v came back as %+v", had, back)
	}
	for _, bad := range []string{
		"", "open", "open..", "open.-1.", "nothing.1.2", "open.zz.1 2", "open.1.2.3", "open.1.a",
	} {
		if h, ok := decode(bad); ok {
			t.Errorf("%q was taken: %+v", bad, h)
		}
	}
	sent := time.Date(2026, 11, 26, 9, 0, 0, 0, time.UTC) // shown again on another day, it names its own
	for text, want := range map[string]string{"Closing of Tue 24 Nov recorded, 23:57.": "24 23:57",
		"Closing of Tue 24 Nov recorded, Wed 25 Nov, 00:05.": "25 00:05", "Top-up recorded, 23:57.": "25 23:57"} {
		had, ok := k.recorded(&chat.Card{Text: text, At: sent})
		if got := had.At.Format("2 15:04"); !ok || got != want {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
	for _, s := range sentences {
		if re := k.reads(s.id); re == nil || re.SubexpIndex("when") < 0 {
			t.Errorf("%s: the time is not found in %v", s.id, re)
		}
	}
	if earlier != engine.DoEarlier {
		t.Error("another name")
	}
}

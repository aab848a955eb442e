package dialogs_test

import (
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/checks"
	"shopfloat/internal/dialogs/floor"
)

// beginnings are what people put in front of what matters.
var beginnings = []string{"", "hi ", "hello there ", "ok ", "yes ", "no ", "thanks ", "help ", "please ",
	"um ",
	"sorry ", "Good morning, "}

// dangers are said with each of the first lines of their cards.
var dangers = map[string][]string{
	"Robbery or threat": {"there is a man with a knife", "man says give me the money or i kill you",
		"its a stick up", "he has a gun", "we are being robbed", "two men in masks", "robbery",
		"they are threatening us"},
	"Fire, smoke or gas": {"fire", "there is smoke", "there is a bomb", "smell of gas in the shop",
		"the machine is burning"},
	"Somebody is hurt": {"i cut my finger", "customer fainted", "i got a shock from the machine",
		"she is bleeding"},
	"Hang up": {"someone on the phone wants the code", "he says he is from the bank and wants the code",
		"caller wants me to do a test payout"},
}

// abroad are said in other languages. Where a name is asked for, such words are names.
var abroad = map[string][]string{
	"Robbery or threat":  {"hay un hombre con pistola", "überfall", "nas grabyat", "jemand hat ein messer"},
	"Fire, smoke or gas": {"au secours il y a le feu", "es brennt", "pożar", "fuego"},
	"Somebody is hurt":   {"er atmet nicht", "está sangrando"},
	"Hang up":            {"am Telefon will einer den Code"},
}

// screens are what may be open when it is said.
var screens = map[string]string{
	"nothing":  openDay,
	"a count":  openDay + "staff1: close 12\n",
	"a review": openDay + "staff1: close 12 59 80\nstaff1: none\n",
	"a level":  openDay + "staff1: level\n",
	"a guide":  openDay + "staff1: guides; [Notes are\n",
	"a top-up": openDay + "staff1: top up\n",
	"found":    openDay + "staff1: found\n",
	"a move":   openDay + "staff1: move\n",
	"a fork":   openDay + "staff1: close 12\nstaff1: top up\n",
	"a slip":   openDay + "staff1: close 12 60 80\nstaff1: none\nstaff1: [Confirm]\n",
	"refused":  openDay + "staff1: close 12 60 80\nstaff1: [I looked]\nstaff1: 28 90 120 refused 3\n",
	"a name":   openDay + "owner: invite\n",
}

// speaks is who says it at a screen.
func speaks(script string) string {
	if strings.Contains(script, "owner: ") {
		return "owner"
	}
	return "staff1"
}

// Every present danger raises its card at once, on every screen and after any
// beginning, and managers hear of it without a tap.
func TestEveryDangerOnEveryScreen(t *testing.T) {
	every := 8 / checks.Size(t, 1, 8, 8)
	n := 0
	for name, script := range screens {
		f := newFloor(t)
		f.Play(script)
		who := speaks(script)
		st, facts := f.States[floor.ChatOf(who)], f.Facts(who)
		if name != "nothing" && name != "a guide" && st.Flow == "" {
			t.Errorf("%s: nothing is open", name)
		}
		if asks := st.Draft.Leave != nil; asks != (name == "a fork") {
			t.Errorf("%s: whether to go on or leave is asked: %v", name, asks)
		}
		for card, texts := range dangers {
			if name != "a name" {
				texts = slices.Concat(texts, abroad[card])
			}
			for _, text := range texts {
				for _, front := range beginnings {
					if n++; n%every != 0 {
						continue
					}
					in := chat.Input{Kind: chat.Text, Text: front + text, At: f.Now, Chat: floor.ChatOf(who)}
					res := f.Engine.Step(st, in, facts)
					if !raised(res, card) {
						t.Errorf("%q at %s: %+v", in.Text, name, res.Replies)
					}
				}
			}
		}
	}
	if n < 2500 {
		t.Errorf("only %d", n)
	}
}

// raised reports whether the first message is the card, and managers are told.
func raised(res chat.Result, card string) bool {
	told := false
	for _, r := range res.Replies {
		told = told || r.To.Managers && r.Silent && !strings.Contains(r.Body[0].Text, "obbery")
	}
	return told && len(res.Replies) > 0 && strings.HasPrefix(res.Replies[0].Body[0].Text, card)
}

// No name, no place and no theft of the past raises one, also where a name is asked.
func TestNoDangerOnAnyScreen(t *testing.T) {
	for name, script := range screens {
		f := newFloor(t)
		f.Play(script)
		who := speaks(script)
		st, facts := f.States[floor.ChatOf(who)], f.Facts(who)
		for _, text := range []string{"Rob was here", "Rob", "Rob Gunn", "Mask", "Axel",
			"was there a robbery last week?",
			"he is shouting that the machine robbed him", "is somebody stealing", "money was stolen yesterday",
			"the shop is in Shotgun Street", "the machine is called front machine", "fire alarm test on monday",
			"note blue", "close blood orange", "Bom dia", "crème brûlée", "a faca do queijo",
			"we sung happy birthday", "imam bayildi", "blood pressure monitor", "the red box"} {
			in := chat.Input{Kind: chat.Text, Text: text, At: f.Now, Chat: floor.ChatOf(who)}
			for _, r := range f.Engine.Step(st, in, facts).Replies {
				if r.To.Managers || strings.HasPrefix(r.Body[0].Text, "Robbery") {
					t.Errorf("%q at %s: %+v", text, name, r)
				}
			}
		}
	}
}

// Who sets a shop up may have any name, and so may the shop.
func TestNoDangerInANameOfANewShop(t *testing.T) {
	for i, name := range []string{"Rob", "Rob Gunn", "Mask", "Axel", "Killian Burns", "Messer", "Bomba"} {
		f := newFloor(t)
		f.Shop.Fresh, f.Shop.Machines, f.Machine = true, nil, nil
		f.Shop.People[0].Name = ""
		f.Says("owner", "hello")
		if got := f.Says("owner", name); !strings.Contains(got, "shop called") {
			t.Errorf("%q: %s", name, got)
		}
		shop := []string{"Knife and Fork", "Kiosk am See", "Zum Goldenen Messer", "La Bomba", "The Smoke House",
			"Fire & Grill", "Casa del Fuego"}[i]
		if got := f.Says("owner", shop); !strings.Contains(got, "In which country") {
			t.Errorf("%q: %s", shop, got)
		}
	}
}

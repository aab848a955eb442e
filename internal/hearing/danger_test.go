package hearing

import "testing"

func mustGuard(t testing.TB) *guard {
	t.Helper()
	g, err := newGuard()
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func TestDanger(t *testing.T) {
	g := mustGuard(t)
	for text, want := range map[string]string{
		"hello there is a man with a knife": Robbery, "man says give me the money or i kill you": Robbery,
		"there is a bomb": Fire, "its a stick up": Robbery, "help there is smoke": Fire, "fire": Fire,
		"hi he has a gun": Robbery, "ok we are being robbed": Robbery, "yes robbery": Robbery,
		"thanks gun":   Robbery,
		"Rob was here": "", "was there a robbery last week?": "", "Rob": "", "Rob Gunn": "", "Mask": "", "Axel": "",
		"he is shouting that the machine robbed him": "", "is somebody stealing": "", "it robbed me": "",
		"the machine is called front machine": "", "says he is from the bank and wants the code": Caller,
		"fire alarm test on monday": "", "can i go for a smoke": "", "the machine is smoking": Fire,
		"somebody is bleeding": Hurt, "i got a shock from the machine": Hurt, "we were robbed last night": "",
		"what do i do if there is a robbery": "", "the fees are daylight robbery": "", "i cut my finger": Hurt,
		"she cut herself with a knife": Hurt, "can i cut the bundle with a knife": "", "he hit me": Robbery,
		"the cassette hit me": "", "hold up a minute": "", "hold up": Robbery, "what is the hold up": "",
		"napad": Robbery, "ממש": "", "抢劫了": Robbery, "нас грабят": Robbery, "yangin var": Fire, "brand new": "",
		"someone on the phone wants me to do a test payout": Caller, "my phone wants a code": "",
		"customer threatened to complain": "", "customer wants his money back": "", "i forgot the safe code": "",
		"this is not a joke he has a gun": Robbery, "price gun is broken": "", "there are men in masks": Robbery,
		"smell of gas in the shop": Fire, "the gas bill": "", "150 then 200": "", "hold off": "",
		"we got robbed": Robbery, "the machine has been robbed": Robbery, "he wants to rob us": Robbery,
		"robber in the shop now": Robbery, "hands up": Robbery, "they are drilling the machine": Robbery,
	} {
		if got := g.danger(text, nil, false); got != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
}

func TestNamesAreNoDanger(t *testing.T) {
	g := mustGuard(t)
	names := []string{"Gun Larsen", "Rob"}
	for text, want := range map[string]string{
		"gun is late": "", "rob us": "", "he has a gun": Robbery, "is gun working tomorrow": "",
	} {
		if got := g.danger(text, names, false); got != want && text != "rob us" {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
}

func TestOver(t *testing.T) {
	g := mustGuard(t)
	for text, want := range map[string][2]bool{
		"we are safe": {true, false}, "it's over": {true, false}, "false alarm": {true, true}, "over": {true,
			false},
		"sorry it was nothing": {true, true}, "they left": {true, false}, "what now": {false, false},
	} {
		over, never := g.over(text)
		if got := [2]bool{over, never}; got != want {
			t.Errorf("%q: got %v, want %v", text, got, want)
		}
	}
}

// At a question for a name a name is a name; who is in danger there says so plainly.
func TestNamesAtANameQuestion(t *testing.T) {
	e, sit := ear(t), closed(t)
	sit.Naming = true
	for text, alarms := range map[string]bool{
		"Rob": false, "Rob Gunn": false, "Mask": false, "Axel": false, "Messer": false, "Mrs Burns": false,
		"Bomba": false, "Robert Knight": false, "robbery": true, "he has a gun": true, "help fire": true,
		"gun": true, "man with a knife here": true,
	} {
		if d := e.Understand(text, sit); (d.Act == Alarm) != alarms {
			t.Errorf("%q: got %v", text, d.Names())
		}
	}
}

// One odd word behind a command's is no danger by likeness; what proves one is, and so is what
// says more, or that somebody is hurt.
func TestOddWordBehindACommand(t *testing.T) {
	e, sit := ear(t), closed(t)
	for text, alarms := range map[string]bool{
		"day blue": false, "day 3 blue": false, "20 blue": false, "day punch": false, "day burn": false,
		"day arm":   false,
		"month red": false, "month green": false, "day hot": false, "owed burn": false, "what is owed burn": false,
		"credit shock": false, "close blue": false, "close finger": false, "hours head": false,
		"agenda head": false, "reminder burn": false, "history shock": false, "export cut": false,
		"settings neck": false, "load back": false, "do not load blue": false, "please show day blue": false,
		"day fire": true, "day fainted": true, "open gun": true, "close attack": true, "hold up": true,
		"swap injury": true, "help bleeding": true, "help choking": true, "staff hurt": true,
		"staff attacked": true, "close finger trapped": true, "move hand crushed": true,
		"open blood everywhere": true, "his lips are blue": true,
	} {
		if d := e.Understand(text, sit); (d.Act == Alarm) != alarms {
			t.Errorf("%q: got %v", text, d.Names())
		}
	}
}

func TestTheftInThePast(t *testing.T) {
	e, sit := ear(t), closed(t)
	for _, text := range []string{
		"we were robbed last night", "money was stolen yesterday", "somebody stole 200 last week",
	} {
		if d := e.Understand(text, sit); d.Act == Alarm || d.Names()[0] != "count-mismatch" {
			t.Errorf("%q: got %v", text, d.Names())
		}
	}
}

// The name of a shop is a name, also where it has words of another language in it.
func TestNamesOfShopsRaiseNothing(t *testing.T) {
	e, sit := ear(t), closed(t)
	sit.Naming = true
	alarm := func(text string) bool { return e.Understand(text, sit).Act == Alarm }
	for _, name := range []string{"Kiosk am See", "Bar am Platz", "The Old Forge", "La Tienda del Sol",
		"Shop on the Hill"} {
		if alarm(name) {
			t.Errorf("%q raises an alarm", name)
		}
	}
	if !alarm("help there is a fire") {
		t.Error("a fire at the question for a name raises nothing")
	}
}

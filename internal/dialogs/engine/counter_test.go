package engine_test

import (
	"strconv"
	"strings"
	"testing"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// counterPhone is a floor whose owner's phone is the one on the counter, with a
// made-up dialog that does something at its second screen.
func counterPhone(t *testing.T, does func(*engine.Talk)) *floor.Floor {
	t.Helper()
	flow := twoScreens()
	flow.Rights = engine.May(access.Everyone, engine.AnyPhone, engine.OnceSetUp)
	flow.Screens["second"].Taps["confirm"] = func(c *engine.Talk) {
		does(c)
		c.Close(chat.Lines("done by " + c.F.Person.Name))
	}
	f := floor.New(t, floor.Of(flow, another(engine.DoOpen, "opening"), tells(engine.DoFloat, "float")))
	f.Knows = func(facts *chat.Facts) { facts.Shared = true }
	return f
}

// records opens the machine.
func records(c *engine.Talk) {
	if _, err := c.Record(opening()); err != nil {
		panic(err)
	}
}

// confirms brings the phone on the counter to the tap that does something.
func confirms(f *floor.Floor) string {
	f.Says("owner", "move")
	f.Chooses("owner", "next")
	return f.Chooses("owner", "confirm")
}

// proves types a personal code, which comes as what became of it.
func proves(f *floor.Floor, what string) chat.Result {
	return f.Does("owner", chat.Input{Kind: chat.Proof, Text: what, Message: 77})
}

func said(res chat.Result) string {
	var lines []string
	for _, r := range res.Replies {
		for _, b := range r.Body {
			lines = append(lines, b.Text)
		}
	}
	return strings.Join(append(lines, res.Notice), "\n")
}

// Whatever records something on the phone on the counter waits for who it is,
// and for that person's code; then it is done by them.
func TestSharedPhoneAsksWho(t *testing.T) {
	f := counterPhone(t, records)
	expect(t, confirms(f), "Who is this?|[Ada]|[Ben]|[Cleo]|[Cancel]", "done")
	expect(t, f.Taps("owner", "Ben"), "Ben: type your personal code.|[Cancel]", "Who is this?|[Ada]")
	if len(f.Entries) != 0 {
		t.Fatal("recorded before anybody said who they are")
	}
	res := proves(f, chat.ProofRight)
	expect(t, said(res), "done by Ben", "")
	if res.As != 2 || len(res.Records) != 1 || f.State("owner").Held != nil {
		t.Errorf("recorded %d as %d, held %v", len(res.Records), res.As, f.State("owner").Held)
	}
	if last := res.Replies[len(res.Replies)-1]; last.Delete != 77 {
		t.Errorf("the code stays in the chat: %+v", last)
	}
}

// What records nothing asks nobody, and nobody in particular speaks.
func TestSharedPhoneForAll(t *testing.T) {
	f := counterPhone(t, records)
	expect(t, f.Says("owner", "float 3"), "float 3", "Who")
	f.Says("owner", "move")
	expect(t, f.Chooses("owner", "next"), "where?", "Who")
	f = counterPhone(t, func(*engine.Talk) {})
	expect(t, confirms(f), "done by ", "Who|Ada")
}

// Also what tells others of somebody needs to know of whom; what a guide records
// of a fault does not.
func TestSharedPhoneMatters(t *testing.T) {
	for name, x := range map[string]struct {
		does func(*engine.Talk)
		want string
	}{
		"one person": {func(c *engine.Talk) { c.TellPerson(3, chat.Reply{Body: []chat.Block{{Text: "x"}}}) },
			"Who is this?"},
		"managers":     {func(c *engine.Talk) { c.Managers(chat.Lines("x")) }, "Who is this?"},
		"all others":   {func(c *engine.Talk) { c.TellOthers(chat.Reply{}) }, "Who is this?"},
		"who was told": {func(c *engine.Talk) { c.RewriteAll("k", chat.Lines("x")) }, "done by "},
		"a fault": {func(c *engine.Talk) {
			_, err := c.Record(books.Record{Kind: books.Incident, Trouble: &books.Trouble{Topic: "jam"},
				Marks: []books.Mark{books.SharedPhone}})
			if err != nil {
				panic(err)
			}
		}, "done by "},
		"settings": {func(c *engine.Talk) { c.Settings = &shop.Settings{} }, "Please do that on your own phone."},
		"orders":   {func(c *engine.Talk) { c.Thaw = 3 }, "Please do that on your own phone."},
	} {
		f := counterPhone(t, x.does)
		if got := confirms(f); !strings.Contains(got, x.want) {
			t.Errorf("%s: %q is missing in\n%s", name, x.want, got)
		}
		if st := f.State("owner"); x.want == "Please do that on your own phone." && st.Flow != "" {
			t.Errorf("%s: still at %s", name, st.Step)
		}
	}
}

// A code that is wrong, or that nobody has, records nothing.
func TestSharedPhoneCodes(t *testing.T) {
	f := counterPhone(t, records)
	confirms(f)
	f.Taps("owner", "Ben")
	for _, x := range []struct{ proof, want, not string }{
		{chat.ProofWrong, "That is not the code of Ben.|Ben: type your personal code.", "Who is this?"},
		{chat.ProofWait, "Too many wrong codes for Ben.|Ben: type your personal code.", "Who is this?"},
		{chat.ProofNone, "Ben has no personal code yet.|Who is this?", "type your personal code"},
	} {
		res := proves(f, x.proof)
		expect(t, said(res), x.want, x.not)
		if len(res.Records) != 0 || res.Replies[0].Delete != 77 {
			t.Errorf("%s: %d records, first reply %+v", x.proof, len(res.Records), res.Replies[0])
		}
	}
	proves(f, chat.ProofRight) // nobody is named any more
	if len(f.Entries) != 0 {
		t.Error("recorded by nobody")
	}
	f.Taps("owner", "Cleo")
	f.Shop.People = f.Shop.People[:2]
	expect(t, said(proves(f, chat.ProofRight)), "Who is this?", "done")
	if len(f.Entries) != 0 {
		t.Error("recorded by somebody who left")
	}
}

// Only those who count are offered and taken, by the role they have at present.
func TestSharedPhoneOffersThoseWhoCount(t *testing.T) {
	f := counterPhone(t, records)
	f.Shop.People[1].Role = shop.Bookkeeper
	expect(t, confirms(f), "[Ada]|[Cleo]", "[Ben]")
	for _, none := range []string{"who-2", "who-99", "who-x", "who-", "next"} {
		expect(t, f.Chooses("owner", none), "Who is this?", "personal code")
	}
	f.Chooses("owner", "who-3")
	f.Shop.People[2].Deputy = true
	var role shop.Role
	f.Engine.Flows[engine.DoMove].Screens["second"].Taps["confirm"] = func(c *engine.Talk) {
		role = c.F.Person.Role
		records(c)
	}
	if proves(f, chat.ProofRight); role != shop.Manager {
		t.Errorf("done as %q", role)
	}
}

// Cancel drops what was held and the dialog stays; with none open nothing stays.
func TestSharedPhoneCancels(t *testing.T) {
	for _, cancel := range []func(*floor.Floor) string{
		func(f *floor.Floor) string { return f.Chooses("owner", "who-cancel") },
		func(f *floor.Floor) string { return f.Says("owner", " Cancel") },
	} {
		f := counterPhone(t, records)
		confirms(f)
		expect(t, cancel(f), "Nothing was recorded.|where?", "Who")
		if f.State("owner").Held != nil || stepOf(f, "owner") != "second" {
			t.Errorf("left %+v", f.State("owner"))
		}
	}
	f := floor.New(t, floor.Of(engine.Moments{Pictured: func(c *engine.Talk) bool { records(c); return true }}))
	f.Knows = func(facts *chat.Facts) { facts.Shared = true }
	f.Step("owner", chat.Input{Kind: chat.Picture, Photo: photo("5")}, "(photo)")
	if got := f.Chooses("owner", "who-cancel"); got != "bot> Nothing was recorded.\n" {
		t.Errorf("said %q", got)
	}
	var sent books.Photo
	f.Engine = engine.New(f.Engine.Texts,
		[]engine.Declaration{engine.Moments{Pictured: func(c *engine.Talk) bool {
			sent = c.In.Photo
			records(c)
			return true
		}}})
	f.Step("owner", chat.Input{Kind: chat.Picture, Photo: photo("5")}, "(photo)")
	f.Chooses("owner", "who-1")
	if sent = (books.Photo{}); said(proves(f, chat.ProofRight)) != "" || sent != photo("5") {
		t.Errorf("the photo that was held is %v", sent)
	}
}

// A tap on a card that stands by itself is held, and done, as it was.
func TestSharedPhoneHoldsStandingCards(t *testing.T) {
	own := tapped()
	own.Rights.Role = access.Everyone
	own.Tap = func(c *engine.Talk, arg string) {
		records(c)
		c.Say("tapped " + arg + " by " + c.F.Person.Name)
	}
	f := floor.New(t, floor.Of(own))
	f.Knows = func(facts *chat.Facts) { facts.Shared = true }
	expect(t, f.Press("owner", card("o:say:7:1")), "Who is this?", "tapped")
	f.Taps("owner", "Cleo")
	expect(t, said(proves(f, chat.ProofRight)), "tapped 7 by Cleo", "")
}

// Something else that is typed or tapped drops what was held, before somebody
// said who they are; stale taps change nothing.
func TestSharedPhoneGoesOn(t *testing.T) {
	f := counterPhone(t, records)
	confirms(f)
	expect(t, f.Says("owner", "float 3"), "float 3", "Who")
	if f.State("owner").Held != nil {
		t.Error("still held after something else")
	}
	confirms(f)
	rev := f.State("owner").Rev
	expect(t, f.Press("owner", card("d:"+strconv.Itoa(rev-1)+":who-2")), "an earlier step|Who is this?", "code")
	expect(t, f.Press("owner", card("nonsense")), "an earlier step|Who is this?", "code")
	f.Chooses("owner", "who-2")
	if said := f.Says("owner", "hm"); !strings.Contains(said, "Ben: type your personal code.") {
		t.Errorf("words in place of a code:\n%s", said)
	}
	if f.Press("owner", card("o:say:1:1")); f.State("owner").Held != nil {
		t.Error("still held after a card of its own")
	}
}

// What an older program held is dropped, and so is what was held when the phone
// is no longer shared.
func TestSharedPhoneForgets(t *testing.T) {
	f := counterPhone(t, records)
	confirms(f)
	st := f.State("owner")
	st.V = chat.StateFormat - 1
	f.States[floor.ChatOf("owner")] = st
	if f.Says("owner", "float"); f.State("owner").Held != nil {
		t.Error("what an older program held stays")
	}
	confirms(f)
	f.Knows = nil
	if expect(t, f.Says("owner", "float"), "float", "Who"); f.State("owner").Held != nil {
		t.Error("what was held stays on a phone of one's own")
	}
}

// A personal code is chosen on one's own phone, at its own question only, and typed
// twice.
func TestMyCode(t *testing.T) {
	kept := &chat.PIN{Salt: []byte("s"), Hash: []byte("h")}
	f := floor.New(t, floor.Of(twoScreens()))
	res := f.Does("staff1", chat.Input{Kind: chat.Proof, Text: chat.ProofNew, Kept: kept})
	if expect(t, said(res), "I kept nothing of that.", "set"); res.PIN != nil {
		t.Error("set although nobody asked")
	}
	expect(t, f.Says("staff1", "my code"), "Ben, choose a personal code: type 4 to 8 digits.", "")
	if !f.State("staff1").Code {
		t.Error("digits are not taken for a code")
	}
	typed := func(text string, kept *chat.PIN, want string) chat.Result {
		t.Helper()
		res := f.Does("staff1", chat.Input{Kind: chat.Proof, Text: text, Kept: kept, Message: 5})
		expect(t, said(res), want, "")
		if res.Replies[0].Delete != 5 {
			t.Errorf("%s stays in the chat", text)
		}
		return res
	}
	for _, text := range []string{chat.ProofPoor, chat.ProofSame, chat.ProofNew} {
		if res := typed(text, nil, "A code has 4 to 8 digits|Ben, choose a personal code"); res.PIN != nil {
			t.Errorf("%s: set", text)
		}
	}
	typed(chat.ProofNew, kept, "Ben: once more, the same digits.")
	if st := f.State("staff1"); st.Draft.Chosen == nil || !st.Code {
		t.Errorf("waits for no second time: %+v", st)
	}
	res = typed(chat.ProofOther, nil, "not the same|Ben, choose")
	if res.PIN != nil || f.State("staff1").Draft.Chosen != nil {
		t.Error("another code is taken for the same, or the first one is kept")
	}
	typed(chat.ProofNew, kept, "once more")
	res = typed(chat.ProofSame, nil, "The personal code of Ben is set.")
	if res.PIN == nil || res.PIN.Person != 2 || string(res.PIN.Hash) != "h" || f.State("staff1").Code ||
		flowOf(f, "staff1") != "" {
		t.Errorf("got %+v", res)
	}
	f.Knows = func(facts *chat.Facts) { facts.Shared = true }
	expect(t, f.Says("staff1", "my code"), "Please do that on your own phone.", "choose")
}

// Where a manager said so, somebody without a code chooses one at the counter, typed
// twice, and what was held is done with it; without that word nobody does.
func TestFirstSigning(t *testing.T) {
	kept := &chat.PIN{Salt: []byte("s"), Hash: []byte("h")}
	f := counterPhone(t, records)
	coded := map[shop.PersonID]bool{3: true}
	f.Knows = func(facts *chat.Facts) {
		facts.Shared, facts.Ask.Coded = true, func(p shop.PersonID) bool { return coded[p] }
	}
	confirms(f)
	expect(t, f.Taps("owner", "Ben"), "Ben has no personal code yet.|Who is this?", "type your personal code")
	f.Shop.People[1].Signs = true
	expect(t, f.Taps("owner", "Ben"), "Ben, you sign here for the first time.", "Who is this?")
	if a, waits := f.State("owner").WaitsForCode(); !waits || !a.Fresh || a.Person != 2 || a.First != nil {
		t.Errorf("waits for %+v, %v", a, waits)
	}
	again := func(in chat.Input, want string) chat.Result {
		t.Helper()
		in.Kind, in.Message = chat.Proof, 77
		res := f.Does("owner", in)
		if expect(t, said(res), want, ""); len(res.Records) > 0 && res.PIN == nil {
			t.Error("recorded without a code")
		}
		return res
	}
	again(chat.Input{Text: chat.ProofSame}, "Please choose again.|for the first time")
	again(chat.Input{Text: chat.ProofRight}, "Please choose again.|for the first time")
	again(chat.Input{Text: chat.ProofNew, Kept: kept}, "Ben: once more")
	again(chat.Input{Text: chat.ProofOther}, "not the same|for the first time")
	again(chat.Input{Text: chat.ProofNew, Kept: kept}, "Ben: once more")
	if a, _ := f.State("owner").WaitsForCode(); a.First == nil {
		t.Fatal("the first time is forgotten")
	}
	res := again(chat.Input{Text: chat.ProofSame}, "done by Ben|The personal code of Ben is set.")
	if pin := res.PIN; res.As != 2 || pin == nil || pin.Person != 2 || string(pin.Hash) != "h" ||
		len(res.Records) != 1 {
		t.Errorf("as %d, kept %+v", res.As, res.PIN)
	}
	f = counterPhone(t, records)
	f.Knows = func(facts *chat.Facts) {
		facts.Shared, facts.Ask.Coded = true, func(p shop.PersonID) bool { return coded[p] }
	}
	f.Shop.People[1].Signs = true
	confirms(f)
	f.Taps("owner", "Ben")
	again(chat.Input{Text: chat.ProofNew, Kept: kept}, "Ben: once more")
	coded[2] = true // chosen meanwhile on a phone of their own
	if res := again(chat.Input{Text: chat.ProofSame}, "Ben: type your personal code."); res.PIN != nil {
		t.Error("the code chosen at the counter wins over the one's own")
	}
	f.Shop.People[2].Signs = true // has a code
	f.Says("owner", "cancel")
	confirms(f)
	expect(t, f.Taps("owner", "Cleo"), "Cleo: type your personal code.", "first time")
}

package engine

import (
	"strconv"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/staff"
	"shopfloat/internal/texts"
)

// shared takes an input from the phone on the counter. Whatever would be
// recorded waits until somebody says who they are; then it is done by them. The
// working set is that of nobody in particular, f says whose phone it was.
func (c *Talk) shared(st chat.State, f chat.Facts) chat.Result {
	in := c.In
	if st.Held != nil {
		return c.E.held(st, in, f)
	}
	c.State.Held = nil
	res := c.step()
	if !res.Matters() {
		return res
	}
	c = c.E.Talk(st, in, f)
	if res.Changes() {
		return c.refuse("own-phone")
	}
	c.State.Held = &chat.Held{Kind: in.Kind, Text: in.Text, Tap: in.Tap, Photo: in.Photo}
	c.askWho()
	return c.Done()
}

// refuse does nothing of a step, and says why.
func (c *Talk) refuse(why string) chat.Result {
	c.Close(chat.Block{Text: c.V.Say(why)})
	return c.Done()
}

// nobody leaves open who speaks on a shared phone: whose phone it was says nothing about that.
func nobody(f chat.Facts) chat.Facts {
	f.Person.ID, f.Person.Name = 0, ""
	return f
}

// askWho shows the names of all who may count.
func (c *Talk) askWho() {
	c.holdCard(c.V.Say("who"), staff.Counters(c.F.Shop))
}

// holdCard shows a card of a tap that is held, in place of the last one.
func (c *Talk) holdCard(text string, rows [][]chat.Button) {
	old := c.Key()
	c.State.Rev++
	rows = append(rows, c.Button("cancel", "who-cancel"))
	c.Send(chat.Reply{Body: []chat.Block{{Text: text}}, Buttons: chat.Tagged(c.State.Rev, rows),
		Key: c.Key(), Retire: old})
}

// held goes on with a tap that waits for who it is.
func (e *Engine) held(st chat.State, in chat.Input, f chat.Facts) chat.Result {
	c := e.Talk(st, in, f)
	t, ok := chat.ParseTap(in.Tap)
	tapped, typed, coded := in.Kind == chat.Press, in.Kind == chat.Text, st.Held.Person != 0
	ended := typed && texts.Fold(in.Text) == "cancel"
	proof, elsewhere := in.Kind == chat.Proof && coded, tapped && ok && !t.Dialog || typed && !coded && !ended
	stale := tapped && (!ok || !t.Dialog || t.Rev != st.Rev)
	ended = ended || tapped && t.Choice == "who-cancel"
	switch {
	case proof:
		return c.proved(st)
	case elsewhere:
		st.Held = nil // something else: what was held is dropped
		return e.Talk(st, in, nobody(f)).shared(st, f)
	case stale:
		c.Notice = c.V.Say("notice.stale")
	case ended:
		c.State.Held = nil
		if c.Flow() == nil {
			c.Say(c.V.Say("who-cancelled"))
			return c.Done()
		}
		c.First(c.V.Say("who-cancelled"))
		c.Show()
		return c.Done()
	case tapped:
		c.pickWho(strings.TrimPrefix(t.Choice, "who-"))
		return c.Done()
	}
	c.askAgain()
	return c.Done()
}

// askAgain shows what is waited for.
func (c *Talk) askAgain() {
	p, ok := c.F.Shop.Person(c.State.Held.Person)
	word := "code-again"
	switch h := c.State.Held; {
	case !ok:
		c.askWho()
		return
	case !h.Fresh:
		word = "who-code"
	case h.Chosen == nil:
		word = "who-choose"
	}
	c.holdCard(c.V.Say(word, "who", p.Name), nil)
}

func (c *Talk) pickWho(id string) {
	n, err := strconv.ParseInt(id, 10, 64)
	held := *c.State.Held
	c.State.Held = &held
	if p, ok := c.F.Shop.Person(shop.PersonID(n)); err == nil && ok && access.Counting.Has(p.Acts()) {
		held.Fresh = c.first(p)
		if held.Fresh || c.F.Ask.Coded == nil || c.F.Ask.Coded(p.ID) {
			held.Person = p.ID
		} else {
			c.First(c.V.Say("proof.none", "who", p.Name))
		}
	}
	c.askAgain()
}

// first reports whether somebody signs for the first time here: they have no
// personal code yet, and a manager said that they may choose one at the counter.
func (c *Talk) first(p shop.Person) bool {
	return p.Signs && !p.Disputed && c.F.Ask.Coded != nil && !c.F.Ask.Coded(p.ID)
}

// proved does what was held, by whoever has just shown who they are.
func (c *Talk) proved(st chat.State) chat.Result {
	who := st.Held.Person
	p, ok := c.F.Shop.Person(who)
	chose := ok && st.Held.Chosen != nil && c.In.Text == chat.ProofSame && c.first(p)
	if right := !st.Held.Fresh && c.In.Text == chat.ProofRight; !ok || !right && !chose {
		c.notYet(p, ok)
		return c.Done()
	}
	p.Role = p.Acts()
	f := c.F
	f.Person = p
	in := chat.Input{Chat: c.In.Chat, At: c.In.At, Kind: st.Held.Kind, Text: st.Held.Text,
		Tap: chat.Retag(st.Held.Tap, st.Rev), Photo: st.Held.Photo}
	message, chosen := c.In.Message, st.Held.Chosen
	st.Held = nil
	res := c.E.Talk(st, in, f).step()
	if p.Disputed && res.Changes() {
		return c.refuse("disputed")
	}
	res.As = who
	if chose {
		res.PIN = &chat.NewPIN{Person: who, PIN: *chosen}
		set := chat.Lines(c.V.Say("my-code-set", "who", p.Name))
		res.Replies = append(res.Replies, chat.Reply{Body: []chat.Block{set}})
	}
	if message != 0 {
		res.Replies = append(res.Replies, chat.Reply{Delete: message})
	}
	return res
}

// notYet goes on asking for a code that was not right, or not typed twice.
func (c *Talk) notYet(p shop.Person, here bool) {
	held := *c.State.Held
	c.State.Held = &held
	c.Drop()
	switch {
	case held.Fresh && here && c.first(p) && c.In.Text == chat.ProofNew && c.In.Kept != nil:
		held.Chosen = c.In.Kept
	case held.Fresh:
		held.Chosen, held.Fresh = nil, here && c.first(p)
		c.First(c.V.Say("proof."+c.In.Text, "who", p.Name))
	default:
		if c.In.Text == chat.ProofNone || !here {
			held.Person = 0
		}
		c.First(c.V.Say("proof."+c.In.Text, "who", p.Name))
	}
	c.askAgain()
}

// MyCodeFlow lets the speaker choose a personal code for the phone on the counter. Nobody chooses another's.
func MyCodeFlow() *Flow {
	return &Flow{
		Name: DoMyCode, Title: "my-code", Version: 2,
		Start: func(c *Talk) { c.GoTo("ask") },
		Safe:  SafeShut, Presence: OutOfWay, Company: SideBySide, Tells: TellsNothing, Again: AnswersAgain,
		Paper: OffPaper, Loses: LosesNothing, Stopped: NothingChanged,
		Rights:   May(access.Everyone, SurePhone, FromStart),
		Commands: []Command{{Name: DoMyCode, Does: StartsDialog, Help: HelpMore, Takes: AnyWords}},
		Screens: map[string]Screen{"ask": {What: "what.my-code", code: true, Ask: func(c *Talk) *Card {
			word := "ask.my-code"
			if c.State.Draft.Chosen != nil {
				word = "code-again"
			}
			return &Card{Body: []chat.Block{{Text: c.V.Say(word, "who", c.F.Person.Name)}}}
		}}}}
}

// proof keeps what is to be kept of a new code, once it was typed twice.
func (c *Talk) proof() {
	c.Drop()
	d := &c.State.Draft
	begun := c.In.Text == chat.ProofNew && c.In.Kept != nil
	same := c.In.Text == chat.ProofSame && d.Chosen != nil
	switch {
	case !c.Screen().code:
		c.Say(c.V.Say("proof.again"))
		return
	case same:
		c.PIN = &chat.NewPIN{Person: c.F.Person.ID, PIN: *d.Chosen}
		c.Close(chat.Block{Text: c.V.Say("my-code-set", "who", c.F.Person.Name)})
		return
	case begun:
		d.Chosen = c.In.Kept
	default:
		d.Chosen = nil
		word := chat.ProofPoor
		if c.In.Text == chat.ProofOther {
			word = chat.ProofOther
		}
		c.First(c.V.Say("proof." + word))
	}
	c.Show()
}

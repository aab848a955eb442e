package engine

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
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
	if !matters(res) {
		return res
	}
	c = c.E.Talk(st, in, f)
	if res.Settings != nil || res.Orders != (chat.Orders{}) {
		c.Close(chat.Block{Text: c.V.Say("own-phone")})
		return c.Done()
	}
	c.State.Held = &chat.Held{Kind: in.Kind, Text: in.Text, Tap: in.Tap, Photo: in.Photo}
	c.askWho()
	return c.Done()
}

// nobody leaves open who speaks on a shared phone: whose phone it was says
// nothing about that.
func nobody(f chat.Facts) chat.Facts {
	f.Person.ID, f.Person.Name = 0, ""
	return f
}

// matters reports whether a step must not be done by nobody in particular: it
// records or changes something, or tells others of somebody.
func matters(res chat.Result) bool {
	return slices.ContainsFunc(res.Records, needsName) || res.Settings != nil || res.Orders != chat.Orders{} ||
		slices.ContainsFunc(res.Replies,
			func(r chat.Reply) bool { return r.To.Person != 0 || r.To.Managers || r.To.Others })
}

// askWho shows the names of all who may count.
func (c *Talk) askWho() {
	var rows [][]chat.Button
	for _, p := range c.F.Shop.People {
		if access.Counting.Has(p.Acts()) {
			rows = append(rows, []chat.Button{{Label: p.Name, Data: "who-" + strconv.FormatInt(int64(p.ID), 10)}})
		}
	}
	c.holdCard(c.V.Say("who"), rows)
}

// holdCard shows a card of a tap that is held, in place of the last one.
func (c *Talk) holdCard(text string, rows [][]chat.Button) {
	old := c.Key()
	c.State.Rev++
	rows = append(rows, c.Button("cancel", "who-cancel"))
	c.Send(chat.Reply{Body: []chat.Block{{Text: text}}, Buttons: c.tag(rows), Key: c.Key(), Retire: old})
}

// held goes on with a tap that waits for who it is.
func (e *Engine) held(st chat.State, in chat.Input, f chat.Facts) chat.Result {
	c := e.Talk(st, in, f)
	t, ok := chat.ParseTap(in.Tap)
	switch {
	case in.Kind == chat.Proof && st.Held.Person != 0:
		return c.proved(st)
	case in.Kind == chat.Press && ok && !t.Dialog,
		in.Kind == chat.Text && st.Held.Person == 0 && texts.Fold(in.Text) != "cancel":
		st.Held = nil // something else: what was held is dropped
		return e.Talk(st, in, nobody(f)).shared(st, f)
	case in.Kind == chat.Press && (!ok || !t.Dialog || t.Rev != st.Rev):
		c.Notice = c.V.Say("notice.stale")
	case in.Kind == chat.Press && t.Choice == "who-cancel",
		in.Kind == chat.Text && texts.Fold(in.Text) == "cancel":
		c.State.Held = nil
		if c.Flow() == nil {
			c.Say(c.V.Say("who-cancelled"))
			return c.Done()
		}
		c.First(c.V.Say("who-cancelled"))
		c.Show()
		return c.Done()
	case in.Kind == chat.Press:
		c.pickWho(strings.TrimPrefix(t.Choice, "who-"))
		return c.Done()
	}
	c.askAgain()
	return c.Done()
}

// askAgain shows what is waited for.
func (c *Talk) askAgain() {
	if p, ok := c.F.Shop.Person(c.State.Held.Person); ok {
		c.holdCard(c.V.Say("who-code", "who", p.Name), nil)
		return
	}
	c.askWho()
}

func (c *Talk) pickWho(id string) {
	n, err := strconv.ParseInt(id, 10, 64)
	held := *c.State.Held
	c.State.Held = &held
	if p, ok := c.F.Shop.Person(shop.PersonID(n)); err == nil && ok && access.Counting.Has(p.Acts()) {
		held.Person = p.ID
	}
	c.askAgain()
}

// proved does what was held, by whoever has just shown who they are.
func (c *Talk) proved(st chat.State) chat.Result {
	who := st.Held.Person
	p, ok := c.F.Shop.Person(who)
	if !ok || c.In.Text != chat.ProofRight {
		held := *st.Held
		if c.In.Text == chat.ProofNone || !ok {
			held.Person = 0
		}
		c.State.Held = &held
		c.Drop()
		c.First(c.V.Say("proof."+c.In.Text, "who", p.Name))
		c.askAgain()
		return c.Done()
	}
	p.Role = p.Acts()
	f := c.F
	f.Person = p
	in := chat.Input{Chat: c.In.Chat, At: c.In.At, Kind: st.Held.Kind, Text: st.Held.Text,
		Tap: retag(st.Held.Tap, st.Rev), Photo: st.Held.Photo}
	message := c.In.Message
	st.Held = nil
	res := c.E.Talk(st, in, f).step()
	res.As = who
	if message != 0 {
		res.Replies = append(res.Replies, chat.Reply{Delete: message})
	}
	return res
}

// retag makes a held tap one on the newest card.
func retag(tap string, rev int) string {
	t, ok := chat.ParseTap(tap)
	if !ok || !t.Dialog {
		return tap
	}
	return "d:" + strconv.Itoa(rev) + ":" + t.Choice
}

// codeDraft is whose personal code is set.
type codeDraft struct {
	Who shop.PersonID `json:"who,omitempty"` // 0: the speaker
}

// MyCodeFlow sets a personal code for the phone on the counter.
func MyCodeFlow() *Flow {
	return &Flow{
		Name: DoMyCode, Title: "my-code", Version: 1, Draft: func() any { return &codeDraft{} },
		Start: func(c *Talk) { c.GoTo("ask") },
		Safe:  SafeShut, Presence: OutOfWay, Company: SideBySide, Tells: TellsNothing, Again: AnswersAgain,
		Paper: OffPaper, Loses: LosesNothing, Stopped: NothingChanged,
		Rights:   May(access.Everyone, OwnPhone, FromStart),
		Commands: []Command{{Name: DoMyCode, Does: StartsDialog, Help: HelpMore, Takes: AnyWords}},
		Screens: map[string]Screen{"ask": {What: "what.my-code", code: true, Ask: func(c *Talk) *Card {
			return &Card{Body: []chat.Block{{Text: c.V.Say("ask.my-code", "who", c.Name(c.coded()))}}}
		}}}}
}

// AskCode asks for a new personal code of somebody.
func (c *Talk) AskCode(who shop.PersonID) {
	c.Enter(DoMyCode)
	Drafted[codeDraft](c).Who = who
	c.GoTo("ask")
}

// coded is the person whose code is set.
func (c *Talk) coded() shop.PersonID { return cmp.Or(Drafted[codeDraft](c).Who, c.F.Person.ID) }

// proof keeps what is to be kept of a new code.
func (c *Talk) proof() {
	c.Drop()
	if !c.Screen().code {
		c.Say(c.V.Say("proof.again"))
		return
	}
	if c.In.Text != chat.ProofNew || c.In.Kept == nil {
		c.First(c.V.Say("proof.poor"))
		c.Show()
		return
	}
	who := c.coded()
	c.PIN = &chat.NewPIN{Person: who, PIN: *c.In.Kept}
	c.Close(chat.Block{Text: c.V.Say("my-code-set", "who", c.Name(who))})
}

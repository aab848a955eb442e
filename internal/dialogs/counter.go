package dialogs

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/shop"
)

// shared takes an input from the phone on the counter. Whatever would be
// recorded waits until somebody says who they are; then it is done by them.
func (e *Engine) shared(st State, in Input, f Facts) Result {
	if st.Held != nil {
		return e.held(st, in, f)
	}
	res := e.step(st, in, f.nobody())
	if !matters(res) {
		return res
	}
	c := e.talk(st, in, f)
	if res.Settings != nil || res.Orders != (Orders{}) {
		c.close(Block{Text: c.v.Say("own-phone")})
		return c.done()
	}
	c.State.Held = &Held{Kind: in.Kind, Text: in.Text, Tap: in.Tap, Photo: in.Photo}
	c.askWho()
	return c.done()
}

// nobody leaves open who speaks on a shared phone: whose phone it was says
// nothing about that.
func (f Facts) nobody() Facts {
	if f.Shared {
		f.Person.ID, f.Person.Name = 0, ""
	}
	return f
}

// matters reports whether a step must not be done by nobody in particular: it
// records or changes something, or tells others of somebody.
func matters(res Result) bool {
	return slices.ContainsFunc(res.Records, needsName) || res.Settings != nil || res.Orders != Orders{} ||
		slices.ContainsFunc(
			res.Replies,
			func(r Reply) bool { return r.To.Person != 0 || r.To.Managers || r.To.Others },
		)
}

// askWho shows the names of all who may count.
func (c *talk) askWho() {
	var rows [][]Button
	for _, p := range c.f.Shop.People {
		if access.Counting.Has(p.Acts()) {
			rows = append(rows, []Button{{p.Name, "who-" + strconv.FormatInt(int64(p.ID), 10)}})
		}
	}
	c.holdCard(c.v.Say("who"), rows)
}

// holdCard shows a card of a tap that is held, in place of the last one.
func (c *talk) holdCard(text string, rows [][]Button) {
	old := c.key()
	c.State.Rev++
	rows = append(rows, c.button("cancel", "who-cancel"))
	c.send(Reply{Body: []Block{{Text: text}}, Buttons: c.tag(rows), Key: c.key(), Retire: old})
}

// held goes on with a tap that waits for who it is.
func (e *Engine) held(st State, in Input, f Facts) Result {
	c := e.talk(st, in, f)
	t, ok := ParseTap(in.Tap)
	switch {
	case in.Kind == Proof && st.Held.Person != 0:
		return c.proved(st)
	case in.Kind == Press && ok && !t.Dialog,
		in.Kind == Text && st.Held.Person == 0 && fold(in.Text) != "cancel":
		st.Held = nil // something else: what was held is dropped
		return e.shared(st, in, f)
	case in.Kind == Press && (!ok || !t.Dialog || t.Rev != st.Rev):
		c.Notice = c.v.Say("notice.stale")
	case in.Kind == Press && t.Choice == "who-cancel", in.Kind == Text && fold(in.Text) == "cancel":
		c.State.Held = nil
		if c.flow() == nil {
			c.say(c.v.Say("who-cancelled"))
			return c.done()
		}
		c.first(c.v.Say("who-cancelled"))
		c.show()
		return c.done()
	case in.Kind == Press:
		c.pickWho(strings.TrimPrefix(t.Choice, "who-"))
		return c.done()
	}
	c.askAgain()
	return c.done()
}

// askAgain shows what is waited for.
func (c *talk) askAgain() {
	if p, ok := c.f.Shop.Person(c.State.Held.Person); ok {
		c.holdCard(c.v.Say("who-code", "who", p.Name), nil)
		return
	}
	c.askWho()
}

func (c *talk) pickWho(id string) {
	n, err := strconv.ParseInt(id, 10, 64)
	held := *c.State.Held
	c.State.Held = &held
	if p, ok := c.f.Shop.Person(shop.PersonID(n)); err == nil && ok && access.Counting.Has(p.Acts()) {
		held.Person = p.ID
	}
	c.askAgain()
}

// proved does what was held, by whoever has just shown who they are.
func (c *talk) proved(st State) Result {
	who := st.Held.Person
	p, ok := c.f.Shop.Person(who)
	if !ok || c.in.Text != ProofRight {
		held := *st.Held
		if c.in.Text == ProofNone || !ok {
			held.Person = 0
		}
		c.State.Held = &held
		c.drop()
		c.first(c.v.Say("proof."+c.in.Text, "who", p.Name))
		c.askAgain()
		return c.done()
	}
	p.Role = p.Acts()
	f := c.f
	f.Person = p
	in := Input{
		Chat:  c.in.Chat,
		At:    c.in.At,
		Kind:  st.Held.Kind,
		Text:  st.Held.Text,
		Tap:   retag(st.Held.Tap, st.Rev),
		Photo: st.Held.Photo,
	}
	message := c.in.Message
	st.Held = nil
	res := c.e.step(st, in, f)
	res.As = who
	if message != 0 {
		res.Replies = append(res.Replies, Reply{Delete: message})
	}
	return res
}

// retag makes a held tap one on the newest card.
func retag(tap string, rev int) string {
	t, ok := ParseTap(tap)
	if !ok || !t.Dialog {
		return tap
	}
	return "d:" + strconv.Itoa(rev) + ":" + t.Choice
}

// myCodeFlow sets a personal code for the phone on the counter.
func myCodeFlow() *flow {
	return &flow{
		name: doMyCode, title: "my-code", version: 1, start: func(c *talk) { c.goTo("ask") },
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsNothing, again: answersAgain,
		paper: offPaper, loses: losesNothing, stopped: nothingChanged,
		rights:   rights{access.Everyone, ownPhone, fromStart},
		commands: []command{{name: doMyCode, does: startsDialog, help: helpMore, takes: anyWords}},
		screens: map[string]screen{"ask": {what: "what.my-code", code: true, ask: func(c *talk) *card {
			return &card{body: []Block{{Text: c.v.Say("ask.my-code", "who", c.name(c.coded()))}}}
		}}}}
}

// coded is the person whose code is set.
func (c *talk) coded() shop.PersonID {
	if n, err := strconv.ParseInt(c.chosen("who"), 10, 64); err == nil {
		return shop.PersonID(n)
	}
	return c.f.Person.ID
}

// proof keeps what is to be kept of a new code.
func (c *talk) proof() {
	c.drop()
	if !c.screen().code {
		c.say(c.v.Say("proof.again"))
		return
	}
	if c.in.Text != ProofNew || c.in.Kept == nil {
		c.first(c.v.Say("proof.poor"))
		c.show()
		return
	}
	who := c.coded()
	c.PIN = &NewPIN{Person: who, PIN: *c.in.Kept}
	c.close(Block{Text: c.v.Say("my-code-set", "who", c.name(who))})
}

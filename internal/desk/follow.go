package desk

import (
	"errors"
	"fmt"
	"io"
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/desk/asking"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
	"shopfloat/internal/trust"
)

// saltSize is 128 bits.
const saltSize = 16

// follow lets the dialogs decide about an input and writes all that follows.
func (b *batch) follow(cause int64, w store.Work) (notice string, err error) {
	if w.Input.Kind == chat.Press {
		if a, may := b.mayObject(w.Input); may {
			return "", b.object(cause, w.Input, a)
		}
	}
	facts, state, err := b.facts(w)
	if err != nil || w.Input.Kind == chat.Fate && facts.Shop == nil {
		return "", err
	}
	if facts.Shop == nil && (facts.Link == nil || facts.Link.State == chat.LinkUnknown) {
		return "", b.answerStranger(cause, w.Input, facts)
	}
	if w.Input.Kind == chat.Fate {
		return "", b.fated(cause, w.Input, facts)
	}
	if err := b.welcomeBack(w.Input); err != nil {
		return "", err
	}
	asked := asking.Of(b.tx, &facts, w.Input.Chat, b.desk.copied, b.desk.proved)
	res := b.desk.step(state, w.Input, facts)
	if err := asked.Failed(); err != nil {
		return "", err
	}
	if facts.Shop == nil && !res.Accept {
		return "", b.tell(cause, w.Input.Chat, res.Replies)
	}
	before := facts
	if err := b.write(cause, w.Input, &facts, &res); err != nil {
		return "", err
	}
	if w.Input.Kind != chat.Remind && w.Input.Kind != chat.Read && facts.Shop != nil {
		b.heard = append(b.heard, hearingOf(w.Input, &facts, &res))
	}
	if res.Settings != nil || res.Orders != (chat.Orders{}) || w.Input.What != "" {
		b.answer(w.Input, before, facts, &res)
	}
	return res.Notice, b.enqueue(cause, w.Input.Chat, facts, res.Replies)
}

// write keeps what a step leads to besides messages. Nearly all steps lead to no
// more than a new state of their chat.
func (b *batch) write(cause int64, in chat.Input, f *chat.Facts, res *chat.Result) error {
	if len(res.Records) > 0 {
		if err := b.post(cause, *f, *res); err != nil {
			return err
		}
	}
	if len(res.Beside) > 0 {
		by := store.By{Cause: cause, N: len(res.Records)}
		if err := b.tx.PostKept(in.Chat, res.Beside, by, b.desk.salt); err != nil {
			return err
		}
		b.records += len(res.Beside)
	}
	if res.Finish != "" {
		if err := b.tx.FinishMonth(in.Chat, f.Shop.ID, res.Finish); err != nil {
			return err
		}
	}
	if err := b.stamp(*f, res); err != nil {
		return err
	}
	if (f.Person.Disputed || res.As != 0) && trust.Stopped(*f, res) {
		return errors.New("a change by somebody whose phone is disputed")
	}
	if res.Settings != nil || res.Orders != (chat.Orders{}) {
		if err := b.orders(in, f, res); err != nil {
			return err
		}
	}
	if in.Kind != chat.Remind {
		if err := b.tx.SaveState(in.Chat, f.Person.ID, res.State); err != nil {
			return err
		}
	}
	if res.TakeOver != "" {
		if err := b.takeOver(res.TakeOver, *f); err != nil {
			return err
		}
	}
	if len(res.Deadlines) > 0 {
		return b.plan(*f, res.Deadlines)
	}
	return nil
}

// post writes the records of a step.
func (b *batch) post(cause int64, f chat.Facts, res chat.Result) error {
	who := f.Person.ID
	if res.As != 0 {
		if _, ok := f.Shop.Person(res.As); !ok || !f.Shared {
			return errors.New("a record of somebody who cannot be at this phone")
		}
		who = res.As
	}
	how := trust.Signed(f, res)
	for n, r := range res.Records {
		if f.Machine == nil {
			return errors.New("a record without a machine")
		}
		by := store.By{Person: who, Settings: f.Shop.Version, Cause: cause, N: n}
		if r.Has(books.SharedPhone) {
			by.Person = 0 // nobody said who they are
		} else if how != "" {
			r.Marks = append(slices.Clone(r.Marks), how)
		}
		if err := b.tx.Post(f.Machine.ID, by, r, b.desk.salt); err != nil {
			return err
		}
		b.records++
	}
	return nil
}

// facts gathers what a step may know, and the chat's own state.
func (b *batch) facts(w store.Work) (f chat.Facts, s chat.State, err error) {
	where := w.Input.Chat
	if w.Input.Kind == chat.Remind || w.Input.Kind == chat.Fate && w.Machine != 0 {
		f, err = b.machineFacts(w)
		return f, s, err
	}
	if f.Lang, err = b.tx.Lang(where); err != nil {
		return f, s, err
	}
	if w.Input.Kind == chat.Opened {
		if f.Link, err = b.link(w.Input); err != nil {
			return f, s, err
		}
	}
	a, err := b.tx.Account(where)
	var tapped shop.MachineID
	if w.Input.Kind == chat.Press {
		tapped = chat.TapMachine(w.Input.Tap)
	}
	if err == nil && tapped != 0 && a.Several {
		a, f.Elsewhere = b.elsewhere(a, tapped)
	}
	if errors.Is(err, store.ErrNone) {
		return f, s, nil
	}
	if err != nil {
		return f, s, err
	}
	sh, err := b.tx.Shop(a.Shop)
	if err != nil {
		return f, s, err
	}
	person, ok := sh.Person(a.Person)
	if !ok {
		return f, s, nil // works there no longer
	}
	if s, err = b.tx.State(where); err != nil {
		return f, s, err
	}
	person.Role = person.Acts()
	f.Shop, f.Person, f.Shared, f.Several = sh, person, a.Shared, a.Several
	id := sh.Meant(w.Machine, tapped, s.Machine)
	if id == 0 {
		return f, s, nil
	}
	if f.Machine, err = b.books(id); err != nil {
		return f, s, err
	}
	f.Others, err = b.tx.Underway(id, where)
	return f, s, err
}

// elsewhere finds the account for a tap on a card of a machine: if that is one
// of another shop, the account there, if the chat still belongs to it.
func (b *batch) elsewhere(here store.Account, id shop.MachineID) (a store.Account, there bool) {
	_, other, err := b.tx.Machine(id)
	if err != nil || other == here.Shop {
		return here, false // no such machine: the dialogs say so
	}
	a, err = b.tx.AccountIn(here.Chat, other)
	if err != nil || a.Frozen {
		return here, false
	}
	a.Several = true
	return a, true
}

// machineFacts gathers what a step may know that comes from no chat. Nobody
// speaks in it.
func (b *batch) machineFacts(w store.Work) (f chat.Facts, err error) {
	var id shop.ID
	if _, id, err = b.tx.Machine(w.Machine); err != nil {
		return f, err
	}
	if f.Machine, err = b.books(w.Machine); err != nil {
		return f, err
	}
	if f.Shop, err = b.tx.Shop(id); err != nil {
		return f, err
	}
	f.Lang = "en"
	if f.Others, err = b.tx.Underway(w.Machine, ""); err != nil {
		return f, err
	}
	for i := range f.Others {
		if f.Others[i].Moved, err = b.tx.Heard(f.Others[i].Chat); err != nil {
			return f, err
		}
	}
	return f, nil
}

// books gives a machine's books with the newest of what the bank owes.
func (b *batch) books(id shop.MachineID) (*books.Machine, error) {
	m, _, err := b.tx.Machine(id)
	if err != nil {
		return nil, err
	}
	claims, err := b.tx.LastClaims(id)
	if len(claims) == 0 {
		return m, err
	}
	return m.With(claims), err
}

// answerStranger says one sentence a day and remembers nothing else.
func (b *batch) answerStranger(cause int64, in chat.Input, f chat.Facts) error {
	if may, err := b.tx.MayAnswer(in.Chat); err != nil || !may {
		return err
	}
	return b.tell(cause, in.Chat, b.desk.step(chat.State{}, in, f).Replies)
}

// tell sends somebody without an account what is for them.
func (b *batch) tell(cause int64, where chat.Chat, replies []chat.Reply) error {
	for n, r := range replies {
		if r.To != (chat.Audience{}) {
			continue
		}
		r.Stranger = true
		if err := b.send(cause, n, where, r); err != nil {
			return err
		}
	}
	return nil
}

// welcomeBack takes a chat that writes again for one that can be written to.
func (b *batch) welcomeBack(in chat.Input) error {
	if in.Kind == chat.Remind || in.Kind == chat.Read {
		return nil
	}
	gone, err := b.tx.Gone(in.Chat)
	if err != nil || !gone {
		return err
	}
	return b.tx.SetGone(in.Chat, false)
}

func (b *batch) takeOver(where chat.Chat, f chat.Facts) error {
	a, err := b.tx.Account(where)
	if err == nil && a.Shop != f.Shop.ID {
		err = errors.New("the chat belongs to another shop")
	}
	if err != nil {
		return fmt.Errorf("take over: %w", err)
	}
	return b.tx.EndDialog(where)
}

func (b *batch) plan(f chat.Facts, list []chat.Deadline) error {
	for _, d := range list {
		id := d.Machine
		if id == 0 && f.Machine != nil {
			id = f.Machine.ID
		}
		if f.Shop.Machine(id) == nil {
			return fmt.Errorf("deadline %s without a machine", d.Name)
		}
		if err := b.tx.SetDeadline(store.Deadline{Machine: id, Name: d.Name, Due: d.At}); err != nil {
			return fmt.Errorf("deadline %s: %w", d.Name, err)
		}
	}
	return nil
}

// enqueue puts replies into the outbox, one row for each chat they are for.
func (b *batch) enqueue(cause int64, from chat.Chat, f chat.Facts, replies []chat.Reply) error {
	n := 0
	for _, r := range replies {
		chats, err := b.audience(from, f, r.To)
		if err != nil {
			return err
		}
		for _, where := range chats {
			r := r
			if r.Place != "" && len(r.Body) > 0 {
				if r, err = b.placed(where, f, r); err != nil {
					return err
				}
			}
			if err := b.send(cause, n, where, r); err != nil {
				return err
			}
			n++
		}
	}
	return nil
}

func (b *batch) send(cause int64, n int, where chat.Chat, r chat.Reply) error {
	gone, err := b.tx.Gone(where)
	if err != nil || gone {
		return err
	}
	m, err := b.tx.Enqueue(cause, n, where, trust.Seen(r))
	if err != nil {
		return err
	}
	b.messages = append(b.messages, m)
	return nil
}

// placed says where something happened to those who have several places.
func (b *batch) placed(where chat.Chat, f chat.Facts, r chat.Reply) (chat.Reply, error) {
	a, err := b.tx.Account(where)
	if errors.Is(err, store.ErrNone) {
		return r, nil
	}
	if err == nil && (a.Several || len(f.Shop.Machines) > 1) {
		r.Body = append([]chat.Block{{Text: r.Place}}, r.Body...)
	}
	return r, err
}

// audience gives the chats a reply is for; people who write from none are left out.
func (b *batch) audience(from chat.Chat, f chat.Facts, to chat.Audience) ([]chat.Chat, error) {
	if to == (chat.Audience{}) {
		if f.Person.ID == 0 {
			return nil, nil // nobody spoke
		}
		return []chat.Chat{from}, nil
	}
	if to.Chat != "" {
		return []chat.Chat{to.Chat}, nil
	}
	team, err := b.tx.Team(f.Shop.ID)
	if err != nil {
		return nil, err
	}
	var chats []chat.Chat
	for _, a := range team {
		person, ok := f.Shop.Person(a.Person)
		if !ok || person.ID == to.Not || to.Own && a.Shared {
			continue
		}
		told := false
		if to.Told != "" {
			if told, err = b.tx.Told(a.Chat, to.Told); err != nil {
				return nil, err
			}
		}
		spared := to.Calm && person.Role == shop.Owner && f.Shop.Managed()
		managers := to.Managers && person.Acts().Manages() && !spared ||
			to.Others && person.Acts() != shop.Bookkeeper || to.Owners && person.Role == shop.Owner
		if told || to.Person == person.ID || managers && person.ID != f.Person.ID {
			chats = append(chats, a.Chat)
		}
	}
	return chats, nil
}

func (d *Desk) salt() ([]byte, error) {
	b := make([]byte, saltSize)
	_, err := io.ReadFull(d.random, b)
	return b, err
}

package desk

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

func itoa(n int64) string { return strconv.FormatInt(n, 10) }

// orders carries out what a step wants done besides records. Facts are those of
// the shop as it is afterwards.
func (b *batch) orders(in chat.Input, f *chat.Facts, res *chat.Result) error {
	b.tx.ActAs(f.Person.ID)
	defer b.tx.ActAs(0)
	if res.Accept || res.Found {
		f.Shop, f.Person, f.Machine = &shop.Shop{}, shop.Person{}, nil
		if res.Accept && f.Link.Shop != nil {
			f.Shop = f.Link.Shop
		}
	}
	if err := b.lay(f, res); err != nil {
		return err
	}
	for _, fn := range []func(chat.Input, *chat.Facts, *chat.Result) error{
		b.remove, b.freeze, b.accept, b.mark, b.invite, b.statement,
	} {
		if err := fn(in, f, res); err != nil {
			return err
		}
	}
	return nil
}

// lay writes the next version of the settings, laid down by whoever spoke.
// Whoever and whatever is new in them gets a number.
func (b *batch) lay(f *chat.Facts, res *chat.Result) error {
	if res.Settings == nil {
		return nil
	}
	s := *res.Settings
	s.People, s.Machines = slices.Clone(s.People), slices.Clone(s.Machines)
	id := f.Shop.ID
	var err error
	if id == 0 {
		if id, err = b.tx.NewShop(); err != nil {
			return err
		}
	}
	for i := range s.People {
		if s.People[i].ID == 0 {
			if s.People[i].ID, err = store.NewPersonID(b.desk.random); err != nil {
				return err
			}
			f.Person = s.People[i]
		}
	}
	s.By = f.Person.ID
	fresh := 0
	for i := range s.Machines {
		if s.Machines[i].ID == 0 {
			if s.Machines[i].ID, err = b.tx.NewMachine(fresh); err != nil {
				return err
			}
			fresh++
		}
	}
	if err := b.tx.SaveSettings(id, s); err != nil {
		return err
	}
	if f.Shop, err = b.tx.Shop(id); err != nil {
		return err
	}
	return b.planned(f.Shop)
}

// planned sees to it that every machine of a shop has a plan from the commit on in which
// it comes to be.
func (b *batch) planned(s *shop.Shop) error {
	for _, m := range s.Machines {
		if err := b.tx.PlanMachine(m.ID); err != nil {
			return err
		}
	}
	return nil
}

// remove takes a person's accounts away, and all that was under way for them.
func (b *batch) remove(_ chat.Input, f *chat.Facts, res *chat.Result) error {
	if res.Remove == 0 {
		return nil
	}
	if err := b.cutOff(f.Shop.ID, res.Remove); err != nil {
		return err
	}
	return errors.Join(b.tx.Leave(f.Shop.ID, res.Remove), b.tx.RevokeCodes(f.Shop.ID, res.Remove))
}

// cutOff ends the dialogs of a person's phones and drops what waits for them.
func (b *batch) cutOff(id shop.ID, person shop.PersonID) error {
	phones, err := b.tx.Phones(id)
	if err != nil {
		return err
	}
	for _, a := range phones {
		if a.Person != person {
			continue
		}
		if _, err := b.tx.CutOff(a.Chat); err != nil {
			return fmt.Errorf("cut off: %w", err)
		}
		b.dropped = append(b.dropped, drop{a.Chat, len(b.messages)})
		b.cut = append(b.cut, a.Chat)
	}
	return nil
}

func (b *batch) freeze(_ chat.Input, f *chat.Facts, res *chat.Result) error {
	if res.Freeze != 0 {
		if err := b.cutOff(f.Shop.ID, res.Freeze); err != nil {
			return err
		}
		err := errors.Join(b.tx.Freeze(f.Shop.ID, res.Freeze, true), b.tx.RevokeCodes(f.Shop.ID, res.Freeze))
		if err != nil {
			return err
		}
	}
	if res.Thaw != 0 {
		return b.tx.Freeze(f.Shop.ID, res.Thaw, false)
	}
	return nil
}

// accept uses up the link that was opened: the chat belongs to the shop now.
// Somebody who had a place already leaves their other phone behind.
func (b *batch) accept(in chat.Input, f *chat.Facts, res *chat.Result) error {
	if res.Found {
		return b.tx.Join(in.Chat, f.Shop.ID, f.Person.ID)
	}
	if !res.Accept {
		return nil
	}
	hash, err := hashOf(in)
	if err != nil {
		return err
	}
	if f.Link.Person != 0 {
		person, ok := f.Shop.Person(f.Link.Person)
		if !ok {
			return fmt.Errorf("the link is for somebody who is not in the shop")
		}
		f.Person = person
		if err := b.replace(f, in.Chat); err != nil {
			return err
		}
	}
	if err := b.tx.UseCode(hash); err != nil {
		return err
	}
	return b.tx.Join(in.Chat, f.Shop.ID, f.Person.ID)
}

// mark does the small things.
func (b *batch) mark(in chat.Input, f *chat.Facts, res *chat.Result) error {
	id := f.Shop.ID
	err := b.codes(in, f, res)
	if res.Share != nil {
		err = errors.Join(err, b.tx.Share(res.Share.Chat, id, res.Share.Shared))
	}
	if res.Turn != 0 {
		if _, bad := b.tx.AccountIn(in.Chat, res.Turn); bad != nil {
			return fmt.Errorf("turn to a shop: %w", bad)
		}
		err = errors.Join(err, b.tx.Turn(in.Chat, res.Turn))
	}
	if res.Erase != 0 {
		b.erased = true
		err = errors.Join(err, b.tx.EraseName(id, res.Erase))
	}
	if res.Missed != "" {
		err = errors.Join(err, b.tx.Miss(id, res.Missed))
	}
	if res.Teach != nil {
		b.erased = b.erased || res.Teach.Means == ""
		err = errors.Join(err, b.tx.Teach(id, *res.Teach))
	}
	if res.Decide != nil {
		err = errors.Join(err, b.decide(*f, *res.Decide))
	}
	return err
}

// codes keeps a personal code that somebody chose, or makes one void. Nobody
// chooses for another: it comes from a phone of one's own, or from the one at the
// counter where a manager said so and there is none yet.
func (b *batch) codes(in chat.Input, f *chat.Facts, res *chat.Result) error {
	id, pin := f.Shop.ID, res.PIN
	var err error
	if pin != nil {
		p, here := f.Shop.Person(pin.Person)
		_, kept, bad := b.tx.PIN(id, pin.Person)
		own := !f.Shared && pin.Person == f.Person.ID && !p.Disputed
		if bad != nil || !here || !own && !(f.Shared && p.Signs && len(kept) == 0) || in.Kind != chat.Proof {
			return errors.Join(errors.New("a personal code that is not the speaker's"), bad)
		}
		b.erased = true
		err = errors.Join(b.tx.SetPIN(id, pin.Person, pin.Salt, pin.Hash),
			b.tx.ForgetAttempts(guesser(pin.Person))) // a new code begins without a lock
	}
	if res.Void != 0 {
		b.erased = true
		err = errors.Join(err, b.tx.SetPIN(id, res.Void, nil, nil), b.tx.ForgetAttempts(guesser(res.Void)))
	}
	return err
}

// invite keeps a place for the code of a link. The code itself is drawn when the
// message is sent: nothing from which one could be read is ever written down.
func (b *batch) invite(_ chat.Input, f *chat.Facts, res *chat.Result) error {
	if res.Invite == nil {
		return nil
	}
	_, place, err := NewCode(b.desk.random)
	if err != nil {
		return err
	}
	v := res.Invite
	if p, here := f.Shop.Person(v.Person); here && p.Disputed {
		return errors.New("a link for a third phone, while it is open which of two is theirs")
	}
	err = b.tx.AddCode(store.Code{Hash: place, Shop: f.Shop.ID, Person: v.Person, Role: v.Role, Name: v.Name,
		By: f.Person.ID, Expires: v.Expires})
	if err != nil {
		return err
	}
	for i := range res.Replies {
		if slices.ContainsFunc(res.Replies[i].Body, linked) {
			res.Replies[i].Link = place
		}
	}
	return nil
}

func linked(b chat.Block) bool { return strings.Contains(b.Text, chat.LinkMark) }

// drawLink puts the code into a message that is about to be sent. One that went
// out under another run of the program, and was not confirmed, is of no use any more.
func (d *Desk) drawLink(ctx context.Context, m *store.Message) error {
	if len(m.Reply.Link) < sha256.Size {
		return fmt.Errorf("%w: it has no place for its link", ErrRefused)
	}
	place, stands := m.Reply.Link[:sha256.Size], false
	code := access.CodeFor(d.key, place)
	hash := access.HashCode(code)
	err := d.submit(ctx, &job{apply: func(t *store.Tx) error {
		link, err := t.Link(m.ID)
		if err == nil && len(link) >= sha256.Size {
			stands, err = t.ReplaceCode(link[len(link)-sha256.Size:], hash)
		}
		return errors.Join(err, t.SetLink(m.ID, slices.Concat(place, hash)))
	}})
	if err != nil {
		return err
	}
	if !stands {
		return fmt.Errorf("%w: its link was taken back", ErrRefused)
	}
	m.Reply.Body = slices.Clone(m.Reply.Body)
	for i := range m.Reply.Body {
		m.Reply.Body[i].Text = strings.ReplaceAll(m.Reply.Body[i].Text, chat.LinkMark, d.link(code))
	}
	return nil
}

// Claim makes a code for whoever has access to the computer: the first owner of
// a new shop, or an owner who is locked out of theirs. Earlier ones lapse.
func Claim(t *store.Tx, id shop.ID, owner shop.PersonID, life time.Duration, code []byte) error {
	role := shop.Owner
	if err := t.RevokeCodes(id, 0); err != nil {
		return err
	}
	return t.AddCode(store.Code{Hash: code, Shop: id, Person: owner, Role: role, Expires: t.Now().Add(life)})
}

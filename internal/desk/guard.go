package desk

import (
	"encoding/hex"
	"errors"
	"io"
	"strings"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/guides"
	"shopfloat/internal/names"
	"shopfloat/internal/secrets"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// Bounds of guessing.
const (
	pinsWithin = 15 * time.Minute
	pinsMax    = 5 // wrong personal codes for one person
)

// guard takes out of an input what must never reach the file, before any of it
// is stored: the code of a link, a personal code, and whatever seems to be the
// combination of a safe. It is called once for each arrival; later says that
// the arrival is not handled yet, but stored for a while.
func (b *batch) guard(it *item, later bool) error {
	in := &it.Input
	if it.guarded || it.deadline != nil || in.Chat == "" {
		return nil
	}
	a, err := b.tx.Account(in.Chat)
	known := err == nil
	if errors.Is(err, store.ErrNone) {
		a, err = store.Account{}, nil
	}
	if err == nil && (in.Kind == chat.Text || in.Kind == chat.Picture) {
		err = b.hide(it, a, later)
	}
	if err != nil {
		return err
	}
	if it.guarded = true; !known {
		if _, may := b.mayObject(*in); may {
			return nil
		}
		it.reduce()
	}
	return nil
}

// hide takes the words of a message away that must not reach the file; a is
// whose chat it is, without a chat for a stranger.
func (b *batch) hide(it *item, a store.Account, later bool) error {
	in := &it.Input
	// nearly every message is a count, in which only a code that is waited for may be hidden
	count := a.Chat != "" && len(in.Text) <= secrets.Few && strings.Trim(in.Text, "0123456789") == ""
	code, link := "", false
	if !count {
		in.Text = names.Clean(in.Text) // what cannot be seen hides no secret
		code, link = access.ParseStart(in.Text)
	}
	pin, err := false, error(nil)
	var what secrets.What
	if link && in.Kind == chat.Text {
		in.Kind, in.Text = chat.Opened, hex.EncodeToString(access.HashCode(code))
		it.Hash = nil
	} else if pin, what, err = b.guardPIN(it, a, later, count); !pin && err == nil && what != secrets.Nothing {
		secret := chat.Input{Chat: in.Chat, Kind: chat.Secret, At: in.At, Message: in.Message, What: string(what)}
		if guides.Danger(in.Text) {
			secret.Text = chat.Robbery // the words are gone, what they were about must not be
		} else if guides.Injury(in.Text) {
			secret.Text = chat.Hurt
		}
		*in = secret
		it.Hash = nil
	}
	if in.Kind != chat.Opened {
		in.From, in.Public = "", ""
	}
	return err
}

// guardPIN turns a personal code into what became of it, when the dialog of the
// chat waits for one. Where that is not known yet, digits on a shared phone are
// dropped rather than stored. What it does not take, it looks through for other
// secrets, unless it is a count: at the machine figures without a word for a code are one.
func (b *batch) guardPIN(it *item, a store.Account, later, count bool) (bool, secrets.What, error) {
	if a.Chat == "" {
		return false, secrets.Find(it.Input.Text, false), nil // a stranger
	}
	s, err := b.tx.State(a.Chat)
	if err != nil {
		return false, secrets.Nothing, err
	}
	await, waits := s.WaitsForCode()
	if waits = waits && (await.Fresh || a.Shared); waits || later && a.Shared {
		pin, err := b.takePIN(it, a, await, waits)
		if pin || err != nil {
			return pin, secrets.Nothing, err
		}
	}
	if count {
		return false, secrets.Nothing, nil
	}
	return false, secrets.Find(it.Input.Text, s.Works), nil
}

// takePIN takes what may be the code of a person: one that the chat waits for, fresh or
// known, or where that cannot be said yet any digits.
func (b *batch) takePIN(it *item, a store.Account, await chat.Awaited, waits bool) (pin bool, err error) {
	code, ok := access.ParsePIN(it.Input.Text)
	proof := chat.Input{Chat: a.Chat, Kind: chat.Proof, At: it.Input.At, Message: it.Input.Message}
	switch {
	case !waits && ok:
		proof.Text = chat.ProofAgain // what it answers is not known before it would be stored
	case !waits:
		return false, nil
	case !ok && !digits(it.Input.Text):
		return false, nil // words, not a code
	case !ok:
		proof.Text = chat.ProofPoor
	case await.Fresh && await.First != nil:
		proof.Text = again(code, *await.First)
	case await.Fresh:
		proof.Text = chat.ProofNew
		proof.Kept, err = b.desk.keptPIN(code)
	default:
		proof.Text, err = b.prove(a.Shop, await.Person, code)
		if proof.Text == chat.ProofLocked {
			proof.Text, proof.What = chat.ProofWait, itoa(int64(await.Person))
		}
	}
	it.Input, it.Hash = proof, nil
	return true, err
}

// again compares a code that is chosen with how it was typed the first time.
func again(code string, first chat.PIN) string {
	if access.SamePIN(code, first.Salt, first.Hash) {
		return chat.ProofSame
	}
	return chat.ProofOther
}

func digits(s string) bool {
	for _, r := range s {
		if r < '0' || r > '9' {
			return false
		}
	}
	return s != ""
}

func (d *Desk) keptPIN(pin string) (*chat.PIN, error) {
	salt, err := d.salt()
	if err != nil {
		return nil, err
	}
	hash, err := access.HashPIN(pin, salt)
	return &chat.PIN{Salt: salt, Hash: hash}, err
}

// guesser names the count of guesses at somebody's code.
func guesser(person shop.PersonID) string { return "pin " + itoa(int64(person)) }

// prove compares a personal code with the one that is kept.
func (b *batch) prove(id shop.ID, person shop.PersonID, pin string) (string, error) {
	who := guesser(person)
	n, err := b.tx.Attempts(who, pinsWithin)
	if err != nil {
		return "", err
	}
	if n >= pinsMax {
		return chat.ProofWait, nil
	}
	salt, kept, err := b.tx.PIN(id, person)
	switch {
	case err != nil:
		return "", err
	case len(kept) == 0:
		return chat.ProofNone, nil
	case access.SamePIN(pin, salt, kept):
		return chat.ProofRight, b.tx.ForgetAttempts(who)
	}
	if n++; n == pinsMax {
		return chat.ProofLocked, b.tx.CountAttempt(who, pinsWithin)
	}
	return chat.ProofWrong, b.tx.CountAttempt(who, pinsWithin)
}

// link finds what a link leads to. Wrong ones are not counted: a code of 128
// random bits is not found by guessing, and a count would only keep out somebody
// who has a good one at last.
func (b *batch) link(in chat.Input) (*chat.Link, error) {
	l := &chat.Link{State: chat.LinkUnknown}
	hash, err := hex.DecodeString(in.Text)
	if err != nil {
		return l, nil
	}
	c, err := b.tx.Code(hash)
	if errors.Is(err, store.ErrNone) || err == nil && c.Revoked {
		return l, nil
	}
	if err != nil {
		return l, err
	}
	l.State, l.Person, l.Role, l.Name, l.By = chat.LinkGood, c.Person, c.Role, c.Name, c.By
	switch {
	case c.Used:
		l.State = chat.LinkUsed
	case !b.tx.Now().Before(c.Expires):
		l.State = chat.LinkExpired
	}
	if c.Shop == 0 {
		return l, nil
	}
	if l.Shop, err = b.tx.Shop(c.Shop); err != nil {
		return l, err
	}
	_, err = b.tx.AccountIn(in.Chat, c.Shop)
	l.Member = err == nil
	if errors.Is(err, store.ErrNone) {
		err = nil
	}
	return l, err
}

// NewCode draws a code and gives what is kept of it.
func NewCode(random io.Reader) (code string, hash []byte, err error) {
	code, err = access.NewCode(random)
	return code, access.HashCode(code), err
}

func hashOf(in chat.Input) ([]byte, error) { return hex.DecodeString(in.Text) }

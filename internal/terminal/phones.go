package terminal

import (
	"slices"
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
)

// Phones are the screens of everybody in a conversation: which messages are
// there and which buttons they show. They outlive a restart of the bot, like
// real ones.
type Phones struct {
	chats map[chat.Chat]*phone
	last  int64 // message number given last
	shown int   // messages and edits so far
}

// phone is one person's screen.
type phone struct {
	known   map[int64]bool // messages received
	buttons []button       // those shown last stand last
}

type button struct {
	chat.Button
	message int64
	shown   int  // which message or edit showed it last
	dead    bool // replaced by an edit, or retired
}

// NewPhones gives empty screens. Messages are numbered from first on; another
// run on the same file needs numbers of its own.
func NewPhones(first int64) *Phones {
	return &Phones{chats: map[chat.Chat]*phone{}, last: first}
}

// show puts a message on a screen and gives its number. ok is false when it
// replaces one that is not there.
func (p *Phones) show(out desk.Out) (number int64, ok bool) {
	ph := p.phone(out.Chat)
	if out.MessageID != 0 && !ph.known[out.MessageID] {
		return 0, false
	}
	ph.kill(out.Retired)
	number = out.MessageID
	if number == 0 {
		p.last++
		number = p.last
	}
	ph.known[number] = true
	p.shown++
	ph.replace(number, p.shown, out.Reply.Buttons)
	return number, true
}

func (p *Phones) phone(where chat.Chat) *phone {
	ph := p.chats[where]
	if ph == nil {
		ph = &phone{known: map[int64]bool{}}
		p.chats[where] = ph
	}
	return ph
}

// kill makes a message's buttons dead: still to be seen, of no use.
func (ph *phone) kill(message int64) {
	for i := range ph.buttons {
		if ph.buttons[i].message == message {
			ph.buttons[i].dead = true
		}
	}
}

// replace gives a message other buttons. One that stays was never replaced.
func (ph *phone) replace(message int64, shown int, rows [][]chat.Button) {
	ph.kill(message)
	for _, b := range slices.Concat(rows...) {
		ph.buttons = slices.DeleteFunc(ph.buttons, func(old button) bool {
			return old.message == message && old.Button == b
		})
		ph.buttons = append(ph.buttons, button{Button: b, message: message, shown: shown})
	}
}

// find gives the newest live button whose label begins so, whatever the case of
// the letters, or the newest dead one. Of those shown together the full label comes
// before a longer one, then the upper before the lower.
func (p *Phones) find(where chat.Chat, label string, dead bool) (chat.Button, bool) {
	var best button
	found := false
	for _, b := range slices.Backward(p.phone(where).buttons) {
		if b.dead != dead || !hasPrefixFold(b.Label, label) {
			continue
		}
		if found && (b.shown != best.shown || strings.EqualFold(best.Label, label)) {
			break
		}
		best, found = b, true
	}
	return best.Button, found
}

func hasPrefixFold(s, prefix string) bool {
	r, want := []rune(s), []rune(prefix)
	return len(r) >= len(want) && strings.EqualFold(string(r[:len(want)]), prefix)
}

// labels lists the live buttons of a chat's newest message that has any.
func (p *Phones) labels(where chat.Chat) []string {
	var list []string
	var newest int64
	for _, b := range slices.Backward(p.phone(where).buttons) {
		if b.dead || newest != 0 && b.message != newest {
			continue
		}
		newest = b.message
		list = append(list, b.Label)
	}
	slices.Reverse(list)
	return list
}

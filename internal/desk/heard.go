package desk

import (
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/secrets"
	"shopfloat/internal/shop"
)

// Bounds of what is remembered of who spoke: it is there for the moment when
// nothing can be read or written.
const (
	heardMax = 4096 // chats
	typedMax = 12   // messages of a dialog
)

// heard is what is known of a chat that spoke, without the file.
type heard struct {
	lang  string
	name  string
	zone  *time.Location
	at    time.Time
	typed []string // since its dialog began, in order; nothing that may be a secret
	owner bool
	code  bool // what is typed next may be one
}

// hearing is what a step says about who spoke.
type hearing struct {
	chat  chat.Chat
	input chat.Input
	facts chat.Facts
	state chat.State // afterwards
	done  bool       // something was recorded
}

// hear remembers what was said when it is durable.
func (d *Desk) hear(list []hearing) {
	d.paper.mu.Lock()
	defer d.paper.mu.Unlock()
	for _, h := range list {
		had := d.heard[h.chat]
		if had == nil {
			if len(d.heard) >= heardMax {
				clear(d.heard)
			}
			had = &heard{}
			d.heard[h.chat] = had
		}
		had.lang, had.name, had.zone = h.facts.Lang, h.facts.Person.Name, h.facts.Shop.Location
		had.at, had.owner = h.input.At, h.facts.Person.Acts() == shop.Owner
		_, had.code = h.state.WaitsForCode()
		if h.done || h.state.Flow == "" {
			had.typed = nil
			continue
		}
		if h.input.Kind == chat.Text && len(had.typed) < typedMax {
			had.typed = append(had.typed, h.input.Text)
		}
	}
}

// said gives what a person typed in a dialog so far and now.
func (h *heard) said(in chat.Input) []string {
	list := h.typed[:len(h.typed):len(h.typed)]
	if in.Kind == chat.Text && !h.code && secrets.Find(in.Text, len(h.typed) > 0) == secrets.Nothing {
		if _, link := access.ParseStart(in.Text); !link {
			list = append(list, in.Text)
		}
	}
	return list
}

// spokeSince tells whether a chat has been answered since an instant.
func (d *Desk) spokeSince(where chat.Chat, since time.Time) bool {
	d.paper.mu.Lock()
	defer d.paper.mu.Unlock()
	h := d.heard[where]
	return h != nil && !h.at.Before(since)
}

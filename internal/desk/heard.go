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
	lang  string
	name  string
	zone  *time.Location
	at    time.Time
	text  string // typed; empty: nothing was
	owner bool
	code  bool // what is typed next may be one
	over  bool // no dialog is under way, or something was recorded
}

// hearingOf is what is remembered of an input, by the state it led to.
func hearingOf(in chat.Input, f *chat.Facts, res *chat.Result) hearing {
	h := hearing{chat: in.Chat, lang: f.Lang, name: f.Person.Name, zone: f.Shop.Location, at: in.At,
		owner: f.Person.Acts() == shop.Owner, over: len(res.Records) > 0 || res.State.Flow == ""}
	_, h.code = res.State.WaitsForCode()
	if in.Kind == chat.Text {
		h.text = in.Text
	}
	return h
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
		had.lang, had.name, had.zone = h.lang, h.name, h.zone
		had.at, had.owner, had.code = h.at, h.owner, h.code
		switch {
		case h.over:
			had.typed = nil
		case h.text != "" && len(had.typed) < typedMax:
			had.typed = append(had.typed, h.text)
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

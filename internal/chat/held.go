package chat

import (
	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// Held is an input on a shared phone that waits for who it is.
type Held struct {
	Kind   Kind          `json:"kind"`
	Text   string        `json:"text,omitempty"`
	Tap    string        `json:"tap,omitempty"`
	Photo  books.Photo   `json:"photo,omitzero"`
	Person shop.PersonID `json:"person,omitempty"` // who says it is them; the code is to come
	Fresh  bool          `json:"fresh,omitempty"`  // it is their first: they choose it
	Chosen *PIN          `json:"chosen,omitempty"` // and typed it once
}

func (h *Held) clone() *Held {
	n := copied(h)
	if n != nil {
		n.Chosen = h.Chosen.clone()
	}
	return n
}

// Awaited says what digits typed next in a chat are: a personal code.
type Awaited struct {
	Person shop.PersonID // whose; 0: of whoever the chat is of
	Fresh  bool          // it is chosen now
	First  *PIN          // and was typed once already
}

// WaitsForCode tells whether the next digits typed in the chat are a personal code.
func (s State) WaitsForCode() (a Awaited, waits bool) {
	if s.Held != nil && s.Held.Person != 0 {
		return Awaited{s.Held.Person, s.Held.Fresh, s.Held.Chosen}, true
	}
	return Awaited{Fresh: true, First: s.Draft.Chosen}, s.Code || s.older()
}

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
}

// WaitsForCode tells whether the next digits typed in the chat are a personal
// code: whose it is, and whether it is to be set anew.
func (s State) WaitsForCode() (person shop.PersonID, fresh, waits bool) {
	if s.Held != nil && s.Held.Person != 0 {
		return s.Held.Person, false, true
	}
	return 0, true, s.Code || s.older()
}

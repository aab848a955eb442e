package helping

import (
	"slices"
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/telling"
)

// Figures asks what numbers are for that were typed with no word and at no question: what
// they can be now, as buttons that take them along in a code.
func Figures(t *telling.Teller, typed, code string) chat.Reply {
	names := []string{"open"}
	if t.M.Current() != nil {
		names = []string{"topup", "close"}
	}
	if len(t.M.Pending()) > 0 { // a slip is missing
		names = slices.Insert(names, 0, "finish")
	}
	r := chat.Reply{Body: []chat.Block{{Text: t.V.Say("figures-for", "near", typed)}}}
	for _, name := range names {
		begins := strings.TrimSuffix(chat.Begins(name)+"."+code, ".")
		r.Buttons = append(r.Buttons, t.Button("figures-"+name, begins))
	}
	return r
}

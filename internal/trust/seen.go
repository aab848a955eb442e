package trust

import (
	"slices"

	"shopfloat/internal/chat"
	"shopfloat/internal/names"
)

// Seen gives a message as it goes out: of what people typed, or are called
// elsewhere, nothing is in it that cannot be seen or that turns what stands beside it.
func Seen(r chat.Reply) chat.Reply {
	for i, b := range r.Body {
		if s := names.Clean(b.Text); s != b.Text {
			r.Body = slices.Clone(r.Body)
			r.Body[i].Text = s
		}
	}
	for i, row := range r.Buttons {
		for j, b := range row {
			if names.Clean(b.Label) == b.Label {
				continue
			}
			if s := names.Seen(b.Label); s != b.Label {
				r.Buttons = slices.Clone(r.Buttons)
				r.Buttons[i] = slices.Clone(r.Buttons[i])
				r.Buttons[i][j].Label = s
			}
		}
	}
	if r.File != nil {
		if s := names.Seen(r.File.Name); s != r.File.Name {
			f := *r.File
			f.Name = s
			r.File = &f
		}
	}
	return r
}

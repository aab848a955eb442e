package dialogs

import (
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// knew reports whether the difference of a period has been known before, so
// that a count is not blind: it was counted again, its result was shown here or
// where its count was taken back, or its close was undone.
func (c *talk) knew(p *books.Period) bool {
	return c.chosen("not-blind") != "" || c.saw(p) || slices.ContainsFunc(c.m.Recent, func(b books.Brief) bool {
		return b.Period == p.No && (b.Kind == books.Close || slices.Contains(b.Marks, books.NotBlind))
	})
}

// saw reports whether a period's result was shown in this chat.
func (c *talk) saw(p *books.Period) bool { return c.State.Seen[c.m.ID] == p.No }

// shown remembers in the chat that a period's result was shown.
func (c *talk) shown(p *books.Period) {
	if c.State.Seen == nil {
		c.State.Seen = map[shop.MachineID]int64{}
	}
	c.State.Seen[c.m.ID] = p.No
}

// secondMarks mark a second count, also as not blind where the speaker was
// shown the result before.
func (c *talk) secondMarks(p *books.Period) []books.Mark {
	if c.saw(p) {
		return []books.Mark{books.Second, books.NotBlind}
	}
	return []books.Mark{books.Second}
}

package closing

import (
	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
)

// secondMarks mark a second count, also as not blind where the speaker was
// shown the result before.
func secondMarks(c *engine.Talk, p *books.Period) []books.Mark {
	if trade.Saw(c, p) {
		return []books.Mark{books.Second, books.NotBlind}
	}
	return []books.Mark{books.Second}
}

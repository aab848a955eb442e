package ask

import (
	"shopfloat/internal/cashmath"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/lines"
	"shopfloat/internal/shop"
)

// Boxes are the note boxes that what is told now is about: as they were loaded,
// while a period is under way that was loaded before the settings changed, else
// as they are laid down.
func Boxes(c *engine.Talk) []shop.Box { return lines.Boxes(Target(c), c.Kit.Boxes) }

// faces are the kinds of note in those boxes, each once, highest first.
func faces(c *engine.Talk) []cashmath.Face {
	m := shop.Machine{Boxes: Boxes(c)}
	return m.Faces()
}

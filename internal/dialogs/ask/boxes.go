package ask

import (
	"shopfloat/internal/cashmath"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
)

// Boxes are the note boxes that what is told now is about: as they were loaded,
// while a period is under way that was loaded before the settings changed, else
// as they are laid down.
func Boxes(c *engine.Talk) []shop.Box {
	p := Target(c)
	if p == nil {
		return c.Kit.Boxes
	}
	same := len(p.Boxes) == len(c.Kit.Boxes)
	for i := 0; same && i < len(p.Boxes); i++ {
		same = p.Boxes[i].Position == c.Kit.Boxes[i].Position && p.Boxes[i].Face == c.Kit.Boxes[i].Face
	}
	if same {
		return c.Kit.Boxes
	}
	boxes := make([]shop.Box, len(p.Boxes))
	for i, b := range p.Boxes {
		boxes[i] = shop.Box{Position: b.Position, Face: b.Face, Capacity: UsualCapacity}
		for _, now := range c.Kit.Boxes {
			if now.Position == b.Position {
				boxes[i].Capacity = max(now.Capacity, b.Loaded)
			}
		}
	}
	return boxes
}

// faces are the kinds of note in those boxes, each once, highest first.
func faces(c *engine.Talk) []cashmath.Face {
	m := shop.Machine{Boxes: Boxes(c)}
	return m.Faces()
}

// UsualCapacity is offered as the notes that fit into a box. Common practice, no source.
const UsualCapacity = 2000

package dialogs

import (
	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
)

// boxes are the note boxes that what is told now is about: as they were loaded,
// while a period is under way that was loaded before the settings changed, else
// as they are laid down.
func (c *talk) boxes() []shop.Box {
	p := c.target()
	if p == nil {
		return c.kit.Boxes
	}
	same := len(p.Boxes) == len(c.kit.Boxes)
	for i := 0; same && i < len(p.Boxes); i++ {
		same = p.Boxes[i].Position == c.kit.Boxes[i].Position && p.Boxes[i].Face == c.kit.Boxes[i].Face
	}
	if same {
		return c.kit.Boxes
	}
	boxes := make([]shop.Box, len(p.Boxes))
	for i, b := range p.Boxes {
		boxes[i] = shop.Box{Position: b.Position, Face: b.Face, Capacity: usualCapacity}
		for _, now := range c.kit.Boxes {
			if now.Position == b.Position {
				boxes[i].Capacity = max(now.Capacity, b.Loaded)
			}
		}
	}
	return boxes
}

// faces are the kinds of note in those boxes, each once, highest first.
func (c *talk) faces() []cashmath.Face {
	m := shop.Machine{Boxes: c.boxes()}
	return m.Faces()
}

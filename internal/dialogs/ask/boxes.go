package ask

import (
	"slices"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/lines"
	"shopfloat/internal/shop"
)

// Boxes are the note boxes that what is told now is about: as they were loaded, while a period is under way
// that was loaded before the settings changed, else as they are laid down.
func Boxes(c *engine.Talk) []shop.Box { return lines.Boxes(Target(c), c.Kit.Boxes) }

// SlipLines are the kinds of note in the order in which the machine's slip lists them.
func SlipLines(c *engine.Talk) []Line { return lines.Kinds(lines.InOrder(faces(c), c.Kit.SlipOrder)) }

// faces are the kinds of note in those boxes, each once, from the top box down: the
// order in which everything is asked.
func faces(c *engine.Talk) (list []cashmath.Face) {
	for _, b := range Boxes(c) {
		if !slices.Contains(list, b.Face) {
			list = append(list, b.Face)
		}
	}
	return list
}

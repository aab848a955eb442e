package owing

import (
	"fmt"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// SplitCard offers to go on at another machine with what its button carries.
func SplitCard(t *telling.Teller, key, carries string, kit shop.Machine, lines ...string) chat.Reply {
	label := texts.Short(t.V.Say("button.split-rest", "machine", kit.Name), texts.LabelMax)
	return chat.Reply{Key: key, Retire: key, Body: []chat.Block{chat.Lines(lines...)},
		Buttons: [][]chat.Button{{{Label: label, Data: fmt.Sprintf("o:%s:%s:%d", key, carries, kit.ID)}}}}
}

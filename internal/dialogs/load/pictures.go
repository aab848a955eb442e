package load

import (
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/helping"
	"shopfloat/internal/pictures"
	"shopfloat/internal/sheets"
	"shopfloat/internal/texts"
)

// LeaksCommand tells owners of small differences that keep coming back.
func LeaksCommand() engine.Command {
	return engine.Command{Name: engine.DoLeaks,
		Rights: engine.May(access.Owning, engine.AnyPhone, engine.OnceSetUp), Does: engine.TellsOnly,
		Help: engine.HelpMore, Takes: engine.AnyWords, Run: tellLeaks}
}

// PictureCommand draws the month, what is left, differences or time out of service.
func PictureCommand() engine.Command {
	return engine.Command{Name: engine.DoPicture,
		Rights: engine.May(access.Managing, engine.AnyPhone, engine.OnceSetUp), Does: engine.TellsOnly,
		Help: engine.HelpMore, Takes: engine.AnyWords, Run: picture}
}

// ShowMeCommand sends the drawing that the open question is about, or all of them.
func ShowMeCommand() engine.Command {
	return engine.Command{Name: engine.DoShowMe,
		Rights: engine.May(access.Everyone, engine.AnyPhone, engine.OnceSetUp), Does: engine.TellsOnly,
		Help: engine.HelpMore, Takes: engine.NoWords, Run: func(c *engine.Talk) {
			list := pictures.Drawings
			if shows := helping.DrawingFor(c.Screen().What); shows != "" {
				list = []string{shows}
			}
			for _, drawing := range list {
				c.Send(helping.Drawn(c.Teller, drawing))
			}
		}}
}

func tellLeaks(c *engine.Talk) {
	for _, r := range sheets.Leaks(c.Teller) {
		c.Send(r)
	}
}

func picture(c *engine.Talk) {
	c.Send(sheets.Asked(c.Teller, " "+texts.Fold(c.Rest), c.May(engine.DoLeaks)))
}

// sendSheet sends a picture by its word, where it may be seen now.
func sendSheet(c *engine.Talk, word string) {
	if r, ok := sheets.Sent(c.Teller, strings.ToLower(word), c.May(engine.DoLeaks)); ok {
		c.Send(r)
	}
}

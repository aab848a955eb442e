package load

import (
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/helping"
	"shopfloat/internal/leaks"
	"shopfloat/internal/pictures"
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
	m := pictured(c)
	days, err := leaks.Learn(m.Shop, m.Kit.ID, m.Entries)
	if err != nil {
		c.Say(c.V.Say("leaks.unread"))
		return
	}
	c.Send(chat.Reply{Body: []chat.Block{chat.Lines(c.V.Say("leaks.title", "name", m.Kit.Name)),
		chat.Lines(leaks.Say(c.V, leaks.Look(days, m.Kit.Faces()))...)}})
	if len(days) >= leaks.DaysMin {
		sendSheet(c, "differences")
	}
}

// pictured is the machine whose pictures are asked for.
func pictured(c *engine.Talk) pictures.Machine {
	m := pictures.Machine{Voice: c.V, Shop: c.F.Shop, Kit: c.Kit, Now: c.In.At}
	if c.F.Ask.Entries != nil {
		m.Entries = c.F.Ask.Entries()
	}
	return m
}

// sheets are the pictures that can be asked for, in the order they are offered.
var sheets = []struct {
	word string
	kept string // what somebody must be allowed to do to see it; empty: nothing more
	live bool   // it tells of today, and stays hidden while somebody counts
}{{word: "month"}, {word: "level", live: true}, {word: "differences", kept: engine.DoLeaks}, {word: "faults"}}

func picture(c *engine.Talk) {
	said := " " + texts.Fold(c.Rest)
	r := chat.Reply{Body: []chat.Block{chat.Lines(c.V.Say("picture.which"))}}
	for _, s := range sheets {
		if strings.Contains(said, " "+s.word) {
			sendSheet(c, s.word)
			return
		}
		r.Buttons = append(r.Buttons, c.Button("picture-"+s.word, "o:picture:"+s.word))
	}
	c.Send(r)
}

// sendSheet sends a picture by its word, where it may be seen now.
func sendSheet(c *engine.Talk, word string) {
	for _, s := range sheets {
		switch {
		case !strings.EqualFold(s.word, word):
		case s.kept != "" && !c.May(s.kept):
			c.Say(c.V.Say("picture.for-owner"))
		case s.live && c.Hidden():
			c.Say(c.V.Say("picture.counting"))
		default:
			drawSheet(c, word)
		}
	}
}

func drawSheet(c *engine.Talk, word string) {
	sheet, err := pictures.Of(word)(pictured(c))
	if err != nil {
		c.Say(c.V.Say("leaks.unread"))
		return
	}
	if len(sheet.Graphs) == 0 {
		c.Say(c.V.Say("leaks.not-known"))
		return
	}
	c.Send(chat.Reply{Body: []chat.Block{chat.Lines(sheet.Title)},
		File: &chat.File{Name: word + ".png", Sheet: &sheet}})
}

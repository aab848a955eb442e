package trouble

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/guides"
)

// asks reports whether a text is so clearly a question that no command is
// meant by the word it begins with: "test failed" is no test payout. "Swap middle
// box" is what it says.
func asks(c *engine.Talk, cmd *engine.Command, rest string) bool {
	if cmd == nil || cmd.Boxes && ask.BoxNamed(c, rest) >= 0 {
		return false
	}
	return cmd.Takes == engine.OnlyFigures && rest != c.V.Say("words.more") &&
		engine.Wordy(rest) && !strings.ContainsAny(rest, "0123456789") && c.E.Find(c.In.Text).Clear
}

// danger looks for words of a robbery before anything else is made of an
// input. Figures and plain commands are let through without a search.
func danger(c *engine.Talk) bool {
	if c.In.Kind == chat.Secret {
		return c.In.Text == chat.Robbery
	}
	if cmd, rest := c.Command(); cmd != nil && !engine.Wordy(rest) {
		return false
	}
	a := c.E.Find(c.In.Text)
	return a.Clear && a.IDs[0] == chat.Robbery || guides.Injury(c.In.Text) && guides.Danger(c.In.Text)
}

// alarm answers words of a robbery: one message, and nothing is asked. Whatever
// was under way stays as it is.
func alarm(c *engine.Talk) {
	if c.In.Kind == chat.Secret {
		c.Drop()
	}
	c.State.Last = c.In.At
	fresh := !c.Quiet() // said again, it is not told again
	walkFrom(c, chat.Robbery)
	if fresh {
		tellRobbery(c)
	}
}

// searched answers words that are neither an answer nor a command. False means
// that there is nothing to search in.
func searched(c *engine.Talk, f *engine.Flow) bool {
	if c.E.Guiding.Find == nil || !engine.Wordy(c.In.Text) {
		return false
	}
	a := c.E.Find(c.In.Text)
	switch {
	case len(a.IDs) == 0:
		notFound(c, f)
	case a.Clear || len(a.IDs) == 1:
		walkFrom(c, a.IDs[0])
	default:
		offer(c, a.IDs)
	}
	if f != nil {
		c.Redraw()
	}
	return true
}

// notFound says that no guide is close, and where to go on from there.
func notFound(c *engine.Talk, f *engine.Flow) {
	if f != nil {
		c.First(c.V.Say("trouble.none-within"))
		return
	}
	c.Send(chat.Reply{Body: []chat.Block{{Text: c.V.Say("trouble.none")}}, Buttons: [][]chat.Button{
		append(c.Button("guide-list", "o:guide:list.0"), c.Button("guide-contact", "o:guide:ask.contact")...)}})
}

// offer lets the person say which of a few guides is meant.
func offer(c *engine.Talk, ids []string) {
	rows := titles(c.E, ids)
	rows = append(rows, c.Button("guide-none", "o:guide:list.0"))
	c.Send(chat.Reply{Body: []chat.Block{{Text: c.V.Say("trouble.which")}}, Buttons: rows})
}

// titles makes a row for each guide.
func titles(e *engine.Engine, ids []string) [][]chat.Button {
	lib := e.Library()
	var rows [][]chat.Button
	for _, id := range ids {
		g, ok := lib.Guide(id)
		if data := "o:guide:ask." + id; ok && len(data) <= askMax && chat.Plain(id) {
			rows = append(rows, []chat.Button{{Label: ask.Short(g.Title, ask.LabelMax), Data: data}})
		}
	}
	return rows
}

const askMax = 44 // bytes of a payload, with room for the number of a machine

// listPage is how many guides are shown at once.
const listPage = 11

func GuidesCommand() engine.Command {
	return engine.Command{Name: engine.DoGuides,
		Rights: engine.May(access.Everyone, engine.AnyPhone, engine.OnceSetUp), Does: engine.TellsOnly,
		Help: engine.HelpMore, Takes: engine.OnlyFigures, Run: guideList}
}

// guideList shows the guides, a page at a time.
func guideList(c *engine.Talk) { listFrom(c, 0) }

func listFrom(c *engine.Talk, page int) {
	ids := c.E.Library().IDs()
	if page < 0 || page*listPage >= len(ids) {
		page = 0
	}
	end := min(len(ids), (page+1)*listPage)
	rows := titles(c.E, ids[page*listPage:end])
	if end < len(ids) {
		rows = append(rows, c.Button("guide-more", "o:guide:list."+strconv.Itoa(page+1)))
	}
	c.Send(chat.Reply{Body: []chat.Block{{Text: c.V.Say("trouble.list")}}, Buttons: rows})
}

// questions are the guides that answer a question rather than see to a fault:
// leaving one half read leaves nothing to be done.
var questionGuides = []string{
	"customer-claim", "low-cash", "top-up", "count-mismatch", "credit-missing", "suspect-note", "damaged-note",
	"overnight",
	"contact",
}

// light reports whether a guide is such a question.
func light(id string) bool { return slices.Contains(questionGuides, id) }

package dialogs

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/guides"
	"shopfloat/internal/guides/search"
	"shopfloat/internal/reminders"
)

// Robbery is the guide that wins over everything else.
const Robbery = "robbery"

// Guiding is what the engine knows of faults: the guides, and a way to find
// one. The zero value knows none. Find may be slow when it is first called.
type Guiding struct {
	Library guides.Library
	Find    func(text string) search.Answer
}

// Guide lets an engine that answers no inputs yet help with faults.
func (e *Engine) Guide(g Guiding) *Engine {
	e.guiding = g
	return e
}

func (e *Engine) library() guides.Library { return e.guiding.Library }

func (e *Engine) find(text string) search.Answer {
	if e.guiding.Find == nil {
		return search.Answer{}
	}
	return e.guiding.Find(text)
}

// asks reports whether a text is so clearly a question that no command is
// meant by the word it begins with: "test failed" is no test payout. "Swap middle
// box" is what it says.
func (c *talk) asks(cmd *command, rest string) bool {
	if cmd == nil || cmd.boxes && c.boxNamed(rest) >= 0 {
		return false
	}
	return cmd.takes == onlyFigures && rest != c.v.Say("words.more") &&
		wordy(rest) && !strings.ContainsAny(rest, "0123456789") && c.e.find(c.in.Text).Clear
}

// wordy reports whether a text has a word in it, not only figures and units.
func wordy(s string) bool { return word.MatchString(s) }

var word = regexp.MustCompile(`\p{L}{3}`)

// speaks reports whether an input holds words that can speak of a robbery.
func speaks(in Input) bool {
	return (in.Kind == Text || in.Kind == Picture || in.Kind == Secret) && wordy(in.Text)
}

// danger looks for words of a robbery before anything else is made of an
// input. Figures and plain commands are let through without a search.
func (c *talk) danger() bool {
	if c.in.Kind == Secret {
		return c.in.Text == Robbery
	}
	if cmd, rest := c.command(); cmd != nil && !wordy(rest) {
		return false
	}
	a := c.e.find(c.in.Text)
	return a.Clear && a.IDs[0] == Robbery || guides.Injury(c.in.Text) && guides.Danger(c.in.Text)
}

// alarm answers words of a robbery: one message, and nothing is asked. Whatever
// was under way stays as it is.
func (c *talk) alarm() {
	if c.in.Kind == Secret {
		c.drop()
	}
	c.State.Last = c.in.At
	fresh := !c.quiet() // said again, it is not told again
	c.walkFrom(Robbery)
	if fresh {
		c.tellRobbery()
	}
}

// searched answers words that are neither an answer nor a command. False means
// that there is nothing to search in.
func (c *talk) searched(f *flow) bool {
	if c.e.guiding.Find == nil || !wordy(c.in.Text) {
		return false
	}
	a := c.e.find(c.in.Text)
	switch {
	case len(a.IDs) == 0:
		c.notFound(f)
	case a.Clear || len(a.IDs) == 1:
		c.walkFrom(a.IDs[0])
	default:
		c.offer(a.IDs)
	}
	if f != nil {
		c.redraw()
	}
	return true
}

// notFound says that no guide is close, and where to go on from there.
func (c *talk) notFound(f *flow) {
	if f != nil {
		c.first(c.v.Say("trouble.none-within"))
		return
	}
	c.send(Reply{Body: []Block{{Text: c.v.Say("trouble.none")}}, Buttons: [][]Button{
		append(c.button("guide-list", "o:guide:list.0"), c.button("guide-contact", "o:guide:ask.contact")...),
	}})
}

// offer lets the person say which of a few guides is meant.
func (c *talk) offer(ids []string) {
	rows := c.e.titles(ids)
	rows = append(rows, c.button("guide-none", "o:guide:list.0"))
	c.send(Reply{Body: []Block{{Text: c.v.Say("trouble.which")}}, Buttons: rows})
}

// titles makes a row for each guide.
func (e *Engine) titles(ids []string) [][]Button {
	lib := e.library()
	var rows [][]Button
	for _, id := range ids {
		g, ok := lib.Guide(id)
		if data := "o:guide:ask." + id; ok && len(data) <= askMax && plain(id) {
			rows = append(rows, []Button{{short(g.Title, labelMax), data}})
		}
	}
	return rows
}

const askMax = 44 // bytes of a payload, with room for the number of a machine

// listPage is how many guides are shown at once.
const listPage = 11

func guidesCommand() command {
	return command{name: doGuides, rights: rights{access.Everyone, anyPhone, onceSetUp},
		does: tellsOnly, help: helpMore, takes: onlyFigures, run: (*talk).guideList}
}

// guideList shows the guides, a page at a time.
func (c *talk) guideList() { c.listFrom(0) }

func (c *talk) listFrom(page int) {
	ids := c.e.library().IDs()
	if page < 0 || page*listPage >= len(ids) {
		page = 0
	}
	end := min(len(ids), (page+1)*listPage)
	rows := c.e.titles(ids[page*listPage : end])
	if end < len(ids) {
		rows = append(rows, c.button("guide-more", "o:guide:list."+strconv.Itoa(page+1)))
	}
	c.send(Reply{Body: []Block{{Text: c.v.Say("trouble.list")}}, Buttons: rows})
}

// guideSettings are the facts of the shop that change what a guide says.
func (c *talk) guideSettings() guides.Settings {
	s := guides.Settings{Country: c.f.Shop.Country, Contacts: map[guides.Contact]string{},
		Provider: map[string]string{}}
	if c.kit != nil {
		s.Lock, s.Prints = guides.Lock(c.kit.Lock), guides.Prints(c.kit.Prints)
		s.TestDispense, s.RestartMinutes = c.kit.TestDispense, c.kit.RestartMinutes
	}
	for _, n := range c.f.Shop.Numbers {
		s.Contacts[guides.Contact(n.Who)] = n.Number
	}
	for _, a := range c.f.Shop.Advice {
		s.Provider[a.Topic] = a.Text
	}
	return s
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

// troubleMoments are an emergency, the guide under way, and words that are a question.
func troubleMoments() moments {
	return moments{
		alarm: (*talk).emergency,
		beside: func(c *talk, f *flow) bool {
			return f == nil && c.walkTyped()
		},
		weighs: (*talk).weighQuestion,
		stray: func(c *talk, f *flow) bool {
			return f != nil && c.walkTyped() || c.searched(f)
		},
		pictured: (*talk).pictured, redrawn: (*talk).walkAgain, cancelled: (*talk).walkCancelled,
		matters: []matter{{prefix: faultName, task: reminders.Fault, began: faultBegan, tell: (*talk).tellFault}},
	}
}

// emergency sees to words about one, whatever is under way.
func (c *talk) emergency() bool {
	switch {
	case c.danger():
		c.alarm()
	case c.injury():
		c.firstAid()
	default:
		return false
	}
	return true
}

// weighQuestion offers what a plain sentence may mean, and takes words that are
// clearly a question for no command. In a robbery nothing is asked.
func (c *talk) weighQuestion(f *flow, cmd *command, rest string) (means *command, taken bool) {
	if f == nil && !c.quiet() && (c.offered(cmd, rest) || c.foundTyped()) {
		return cmd, true
	}
	if c.asks(cmd, rest) {
		cmd = nil
	}
	if c.quiet() && (cmd == nil || cmd.plea) {
		c.walkCard(false) // whatever is typed now, nothing is asked
		return cmd, true
	}
	return cmd, false
}

// walkCancelled leaves the guide of this machine, if one is under way.
func (c *talk) walkCancelled() bool {
	if c.State.Walk == nil || c.State.Walk.Machine != c.m.ID {
		return false
	}
	c.stopWalk()
	return true
}

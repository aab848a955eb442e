package setup

import (
	"slices"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/founding"
	"shopfloat/internal/shop"
)

// SettingsFlow changes what was laid down. Records stay under the version they were recorded in.
func SettingsFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoSettings, Title: "settings", Version: 1, Draft: func() any { return &shopDraft{} },
		Start: startSettings,
		Safe:  engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain, Paper: engine.OffPaper, Loses: losesChanges, Stopped: engine.NothingChanged,
		Rights: engine.May(access.Managing, engine.OwnPhone, engine.OnceSetUp),
		Commands: []engine.Command{{Name: engine.DoSettings, Does: engine.StartsDialog, Help: engine.HelpMore,
			Takes: engine.AnyWords, Menu: 10}},
		View: true,
		Screens: topics().Screens(ask.Booking{First: askUnchanged, Read: readSettings, Book: bookSettings,
			Other: ask.Changes(engine.GoBack("change")), Also: machineButton, Plan: true, What: "what.settings",
			Taps: map[string]func(*engine.Talk){"machine": anotherMachine}, Tap: turnPage}.Screen()),
	}
}

// startSettings fills the draft with what is laid down now.
func startSettings(c *engine.Talk) {
	*draft(c) = present(c)
	c.GoTo("review")
}

// present gives the answers that the settings in force stand for.
func present(c *engine.Talk) shopDraft {
	kit := c.Kit
	if draft(c).NewMachine {
		kit = nil
	}
	return founding.PresentOn(c.Today(), c.F.Shop, kit)
}

// changedTopics lists the topics whose answer is not what the settings in force say.
func changedTopics(c *engine.Talk) (list []string) {
	now := present(c)
	for _, t := range topics() {
		if t.Shown(c, draft(c)) != t.Shown(c, &now) && !t.Skipped(c) {
			list = append(list, c.V.Say("label."+t.Called()))
		}
	}
	return list
}

// changedLines are those topics with what they are to be.
func changedLines(c *engine.Talk) []string {
	lines, now := []string{c.V.Say("settings-changed")}, present(c)
	for _, t := range topics() {
		if to := t.Shown(c, draft(c)); to != t.Shown(c, &now) && !t.Skipped(c) {
			lines = append(lines, c.V.Say("topic-line", "label", c.V.Say("label."+t.Called()), "value", to))
		}
	}
	return lines
}

// losesChanges: something was changed and is not confirmed yet.
func losesChanges(c *engine.Talk) bool { return len(changedTopics(c)) > 0 }

// askUnchanged shows a page of the settings while nothing is changed.
func askUnchanged(c *engine.Talk) *engine.Card {
	if losesChanges(c) {
		return nil
	}
	page, _ := topics().Page(c)
	title := c.V.Say("settings", "page", c.V.Say("page."+c.State.Draft.Read))
	k := &engine.Card{Body: []chat.Block{{Text: title}, page},
		Buttons: [][]chat.Button{c.Button("change", "change")}}
	for _, name := range topics().Pages(c) {
		if name != c.State.Draft.Read {
			k.Buttons = append(k.Buttons, []chat.Button{{Label: c.V.Say("page." + name), Data: "page-" + name}})
		}
	}
	k.Buttons = append(k.Buttons, machineButton(c)...)
	return k
}

// turnPage shows another page of the settings.
func turnPage(c *engine.Talk, choice string) bool {
	for _, page := range topics().Pages(c) {
		if "page-"+page == choice {
			c.State.Draft.Read = page
			return true
		}
	}
	return false
}

func readSettings(c *engine.Talk) []chat.Block {
	return []chat.Block{chat.Lines(append(changedLines(c), boxesWait(c))...)}
}

func machineButton(c *engine.Talk) [][]chat.Button {
	if draft(c).NewMachine {
		return nil
	}
	return [][]chat.Button{c.Button("another-machine", "machine")}
}

// boxesWait says that other boxes wait for the next opening.
func boxesWait(c *engine.Talk) string {
	if c.M.Current() == nil || draft(c).NewMachine ||
		slices.Equal(said(draft(c).Boxes), said(present(c).Boxes)) {
		return ""
	}
	return c.V.Say("settings-boxes-wait")
}

// anotherMachine asks all about a machine that is new.
func anotherMachine(c *engine.Talk) {
	draft(c).AnotherMachine()
	topics().GoOn(c)
}

func bookSettings(c *engine.Talk) {
	what := strings.Join(changedTopics(c), ", ")
	was := &shop.Machine{}
	if !draft(c).NewMachine && c.Kit != nil {
		was = c.Kit
	}
	s := draft(c).Over(c.F.Shop.Settled(c.Today()), was)
	s.KeepFee(c.F.Shop.Fee, c.Today())
	c.Settings = &s
	trade.TellSettings(c, what)
	c.Close(chat.Lines(c.V.Say("settings-saved", "when", c.Clock(c.In.At), "what", what), boxesWait(c)))
}

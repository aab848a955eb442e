package setup

import (
	"strconv"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/shop"
)

// SettingsFlow changes what was laid down. What was recorded before stays under
// the version it was recorded in.
func SettingsFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoSettings, Title: "settings", Version: 1, Start: startSettings,
		Safe: engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain,
		Paper: engine.OffPaper, Loses: losesChanges, Stopped: engine.NothingChanged,
		Rights: engine.May(access.Managing, engine.OwnPhone, engine.OnceSetUp),
		Commands: []engine.Command{
			{Name: engine.DoSettings, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.AnyWords,
				Menu: 10},
		},
		Screens: ask.TopicScreens(
			setupTopics(),
			ask.Booking{First: askUnchanged, Read: readSettings, Book: bookSettings,
				Other: ask.Changes(engine.GoBack("change")), Also: machineButton, Plan: true, What: "what.settings",
				Taps: map[string]func(*engine.Talk){"machine": anotherMachine}}.Screen(),
		)}
}

// startSettings fills the draft with what is laid down now.
func startSettings(c *engine.Talk) {
	for name, value := range present(c) {
		c.Choose(name, value)
	}
	c.GoTo("review")
}

// present gives the answers that the settings in force stand for.
func present(c *engine.Talk) map[string]string {
	s, m := &c.F.Shop.Settings, c.Kit
	night := "locked"
	switch {
	case !s.Nightly:
		night = "stay"
	case s.SafeOpen:
		night = "open"
	}
	how := s.CreditHow
	if how == "" {
		how = "unknown"
	}
	all := map[string]string{
		"shop-name": s.Name, "country": s.Country, "zone": s.Zone, "currency": s.Currency, "night": night,
		"limit": s.Limit.String(), "hours": hoursText(s.Hours), "credit-days": strconv.Itoa(s.CreditDays),
		"credit-how": how,
		"credit-cut": cutText(s.CreditCut), "credit-roll": yesOrNo(s.CreditRoll),
		"two-persons": yesOrNo(s.TwoPersons),
	}
	if c.Chosen("machine") == "new" || m == nil {
		return all
	}
	var faces, capacity, low, bundle []string
	for _, b := range m.Boxes {
		faces, capacity = append(faces, string(b.Face)), append(capacity, strconv.FormatInt(b.Capacity, 10))
		low = append(low, strconv.FormatInt(b.Low, 10))
	}
	for _, f := range m.Faces() {
		bundle = append(bundle, strconv.FormatInt(c.F.Shop.Bundle(f), 10))
	}
	for name, list := range map[string][]string{
		"boxes": faces, "capacity": capacity, "low": low, "bundle": bundle,
	} {
		all[name] = strings.Join(list, " ")
	}
	all["machine-name"], all["trial"] = m.Name, yesOrNo(m.TestDispense)
	all["lock"], all["prints"] = orUsual(m.Lock, "key"), orUsual(m.Prints, "both")
	return all
}

func yesOrNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

func orUsual(s, usual string) string {
	if s == "" {
		return usual
	}
	return s
}

// changedTopics lists the topics whose answer differs from the settings in force.
func changedTopics(c *engine.Talk) []string {
	var list []string
	now := present(c)
	for _, t := range setupTopics() {
		if v := c.Chosen(t.Name); v != now[t.Name] && !t.Skipped(c) {
			list = append(list, c.V.Say("label."+t.Name))
		}
	}
	return list
}

// losesChanges: something was changed and is not confirmed yet.
func losesChanges(c *engine.Talk) bool { return len(changedTopics(c)) > 0 }

func settingsBody(c *engine.Talk) []chat.Block {
	return []chat.Block{{Text: c.V.Say("settings")}, ask.TopicTable(c, setupTopics())}
}

// askUnchanged shows the settings while nothing is changed.
func askUnchanged(c *engine.Talk) *engine.Card {
	if len(changedTopics(c)) > 0 {
		return nil
	}
	return &engine.Card{Body: settingsBody(c),
		Buttons: append([][]chat.Button{c.Button("change", "change")}, machineButton(c)...)}
}

func readSettings(c *engine.Talk) []chat.Block {
	what := c.V.Say("settings-changed", "what", strings.Join(changedTopics(c), ", "))
	return append(settingsBody(c), engine.Text(what, boxesWait(c)))
}

func machineButton(c *engine.Talk) [][]chat.Button {
	if c.Chosen("machine") != "" {
		return nil
	}
	return [][]chat.Button{c.Button("another-machine", "machine")}
}

// boxesWait says that other boxes wait for the next opening.
func boxesWait(c *engine.Talk) string {
	if c.M.Current() == nil || c.Chosen("machine") == "new" || c.Chosen("boxes") == present(c)["boxes"] {
		return ""
	}
	return c.V.Say("settings-boxes-wait")
}

// anotherMachine asks all about a machine that is new.
func anotherMachine(c *engine.Talk) {
	c.Choose("machine", "new")
	c.Forget("machine-name", "boxes", "capacity", "low", "bundle", "lock", "prints", "trial")
	ask.GoOn(c, setupTopics())
}

func bookSettings(c *engine.Talk) {
	changed := changedTopics(c)
	was := &shop.Machine{}
	if c.Chosen("machine") != "new" && c.Kit != nil {
		was = c.Kit
	}
	s := laidDown(c, was)
	c.Settings = &s
	what := strings.Join(changed, ", ")
	trade.TellSettings(c, what)
	c.Close(engine.Text(c.V.Say("settings-saved", "when", c.Clock(c.In.At), "what", what), boxesWait(c)))
}

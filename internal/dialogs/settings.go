package dialogs

import (
	"strconv"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/shop"
)

// settingsFlow changes what was laid down. What was recorded before stays under
// the version it was recorded in.
func settingsFlow() *flow {
	return &flow{
		name: doSettings, title: "settings", version: 1, start: startSettings,
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsNothing, again: answersAgain,
		paper: offPaper, loses: losesChanges, stopped: nothingChanged,
		rights:   rights{access.Managing, ownPhone, onceSetUp},
		commands: []command{{name: doSettings, does: startsDialog, help: helpMore, takes: anyWords, menu: 10}},
		screens: topicScreens(setupTopics(), booking{first: askUnchanged, read: readSettings, book: bookSettings,
			other: changes(goBack("change")), also: machineButton, plan: true, what: "what.settings",
			taps: map[string]func(*talk){"machine": anotherMachine}}.screen())}
}

// startSettings fills the draft with what is laid down now.
func startSettings(c *talk) {
	for name, value := range c.present() {
		c.choose(name, value)
	}
	c.goTo("review")
}

// present gives the answers that the settings in force stand for.
func (c *talk) present() map[string]string {
	s, m := &c.f.Shop.Settings, c.kit
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
	if c.chosen("machine") == "new" || m == nil {
		return all
	}
	var faces, capacity, low, bundle []string
	for _, b := range m.Boxes {
		faces, capacity = append(faces, string(b.Face)), append(capacity, strconv.FormatInt(b.Capacity, 10))
		low = append(low, strconv.FormatInt(b.Low, 10))
	}
	for _, f := range m.Faces() {
		bundle = append(bundle, strconv.FormatInt(c.f.Shop.Bundle(f), 10))
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
func (c *talk) changedTopics() []string {
	var list []string
	now := c.present()
	for _, t := range setupTopics() {
		if v := c.chosen(t.name); v != now[t.name] && !t.skipped(c) {
			list = append(list, c.v.Say("label."+t.name))
		}
	}
	return list
}

// losesChanges: something was changed and is not confirmed yet.
func losesChanges(c *talk) bool { return len(c.changedTopics()) > 0 }

func settingsBody(c *talk) []Block {
	return []Block{{Text: c.v.Say("settings")}, topicTable(c, setupTopics())}
}

// askUnchanged shows the settings while nothing is changed.
func askUnchanged(c *talk) *card {
	if len(c.changedTopics()) > 0 {
		return nil
	}
	return &card{body: settingsBody(c),
		buttons: append([][]Button{c.button("change", "change")}, machineButton(c)...)}
}

func readSettings(c *talk) []Block {
	what := c.v.Say("settings-changed", "what", strings.Join(c.changedTopics(), ", "))
	return append(settingsBody(c), text(what, c.boxesWait()))
}

func machineButton(c *talk) [][]Button {
	if c.chosen("machine") != "" {
		return nil
	}
	return [][]Button{c.button("another-machine", "machine")}
}

// boxesWait says that other boxes wait for the next opening.
func (c *talk) boxesWait() string {
	if c.m.Current() == nil || c.chosen("machine") == "new" || c.chosen("boxes") == c.present()["boxes"] {
		return ""
	}
	return c.v.Say("settings-boxes-wait")
}

// anotherMachine asks all about a machine that is new.
func anotherMachine(c *talk) {
	c.choose("machine", "new")
	c.forget("machine-name", "boxes", "capacity", "low", "bundle", "lock", "prints", "trial")
	goOn(c, setupTopics())
}

func bookSettings(c *talk) {
	changed := c.changedTopics()
	was := &shop.Machine{}
	if c.chosen("machine") != "new" && c.kit != nil {
		was = c.kit
	}
	s := c.laidDown(was)
	c.Settings = &s
	what := strings.Join(changed, ", ")
	c.tellSettings(what)
	c.close(text(c.v.Say("settings-saved", "when", c.clock(c.in.At), "what", what), c.boxesWait()))
}

// tellSettings tells the managers, without a sound, what was laid down anew.
func (c *talk) tellSettings(what string) {
	c.tellManagers(Reply{Silent: true,
		Body: []Block{{Text: c.v.Say("told.settings", "who", c.f.Person.Name, "what", what)}}})
}

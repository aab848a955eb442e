package rota

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/holidays"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
	"shopfloat/internal/when"
)

// Draft is what was typed of a plan, to be laid over the one in force.
type Draft struct {
	Holidays *bool                          `json:"holidays,omitempty"` // the shop trades on them
	Levels   *bool                          `json:"levels,omitempty"`   // nudges to look at them
	Summary  *string                        `json:"summary,omitempty"`
	Night    *shop.Hours                    `json:"night,omitempty"`
	Ladders  map[reminders.Task][]shop.Rung `json:"ladders,omitempty"` // of no rungs: the usual one
	Hours    map[time.Weekday]shop.Hours    `json:"hours,omitempty"`
	Opens    map[time.Weekday]shop.PersonID `json:"opens,omitempty"` // 0: anybody
	Closes   map[time.Weekday]shop.PersonID `json:"closes,omitempty"`
	Seasons  []shop.Season                  `json:"seasons,omitempty"`
	Kept     *shop.Hours                    `json:"kept,omitempty"` // hours of public holidays
	Region   *string                        `json:"region,omitempty"`
	Figures  *int                           `json:"figures,omitempty"`
	Filling  *int                           `json:"filling,omitempty"`
	Each     *bool                          `json:"each,omitempty"`   // a note of each close
	Feasts   []shop.HolidayChoice           `json:"feasts,omitempty"` // single public holidays; a later one wins

	Likely []shop.Hours `json:"-"` // the likelier of two readings, as they were taken just now
}

// Over lays what was typed over settings.
func (d *Draft) Over(s shop.Settings) shop.Settings {
	if d.Holidays != nil {
		s.Plan.TradesOnHolidays = *d.Holidays
	}
	if d.Levels != nil {
		s.Plan.NoLevels = !*d.Levels
	}
	if d.Summary != nil {
		s.Plan.Summary = *d.Summary
	}
	if d.Night != nil {
		s.Plan.Night = d.Night
	}
	if d.Kept != nil {
		s.Plan.HolidayHours = d.Kept
	}
	if d.Region != nil {
		s.Region = *d.Region
	}
	if d.Figures != nil {
		s.Plan.Figures = d.Figures
	}
	if d.Filling != nil {
		s.Plan.Filling = d.Filling
	}
	if d.Each != nil {
		s.Plan.EachClose = *d.Each
	}
	for _, choice := range d.Feasts {
		s.Plan = s.Plan.Choose(choice)
	}
	s.Plan.Seasons = slices.Concat(s.Plan.Seasons, d.Seasons)
	for task, rungs := range d.Ladders {
		*s.Plan.Ladders.Of(string(task)) = rungs
	}
	for day, h := range d.Hours {
		s.Hours[day] = h
	}
	for day, id := range d.Opens {
		s.Plan.Duty[day].Opens = id
	}
	for day, id := range d.Closes {
		s.Plan.Duty[day].Closes = id
	}
	return s
}

// note adds what was typed for a key to a map that is made at first.
func note[K comparable, V any](m *map[K]V, v V, keys ...K) {
	if *m == nil {
		*m = map[K]V{}
	}
	for _, k := range keys {
		(*m)[k] = v
	}
}

// Line reads one line of a plan: "mon-fri 8-20", "sun closed", "sat ben opens",
// "holidays open", "summary fri", "nudges off", "night 23-6",
// "reminders closing 0 list, 30 managers". False: it says none of these. Where the
// likelier of two readings was taken, the draft says so.
func (d *Draft) Line(t *telling.Teller, line string) bool {
	word, rest, _ := strings.Cut(line, " ")
	rest = strings.TrimSpace(rest)
	switch {
	case t.IsWord("holidays", word):
		return flag(t, &d.Holidays, rest) || d.holidayHours(t, rest)
	case t.IsWord("region", word):
		return d.region(t, rest)
	case t.IsWord("figures-at", word):
		return when.SetClock(&d.Figures, rest)
	case t.IsWord("filling-at", word):
		return when.SetClock(&d.Filling, rest)
	case t.IsWord("each-close", word):
		return flag(t, &d.Each, rest)
	case t.IsWord("levels", word):
		return flag(t, &d.Levels, rest)
	case t.IsWord("summary", word):
		return d.summary(t, rest)
	case t.IsWord("night", word):
		h, why := telling.Reader(t).Hours(rest)
		if why == when.OK {
			d.Night = &h
		}
		return why == when.OK
	}
	if choice, ok := feastIn(t, line); ok {
		d.Feasts = append(d.Feasts, choice)
		return true
	}
	if t.IsWord("reminders", word) {
		word, rest, _ = strings.Cut(rest, " ")
	}
	if i := slices.IndexFunc(Tasks(), func(task reminders.Task) bool {
		return t.IsWord("ladder-"+string(task), word)
	}); i >= 0 {
		rungs, ok := readLadder(t, rest)
		if ok {
			note(&d.Ladders, rungs, Tasks()[i])
		}
		return ok
	}
	if said, why := telling.Reader(t).Trading(line); why == when.OK {
		d.trading(said)
		return true
	}
	days, rest, why := telling.Reader(t).Weekdays(line)
	return why == when.OK && d.days(t, days, rest)
}

// trading lays down hours of the week, or of a part of every year. Of two readings it takes
// the likelier, and keeps which.
func (d *Draft) trading(said when.Trading) {
	season := shop.Season{From: said.From, To: said.To}
	for day, h := range said.Week {
		switch {
		case !said.Named[day]:
		case said.From != "":
			season.Hours[day] = &h
		default:
			note(&d.Hours, h, time.Weekday(day))
		}
		if said.Doubt && said.Named[day] && h != said.Literal[day] {
			d.Likely = append(d.Likely, h)
			said.Doubt = false
		}
	}
	if said.From != "" {
		d.Seasons = append(d.Seasons, season)
	}
}

// holidayHours reads the hours of public holidays, on which the shop then trades.
func (d *Draft) holidayHours(t *telling.Teller, rest string) bool {
	said, why := telling.Reader(t).Trading(rest)
	if why != when.OK || said.From != "" || said.Named != [7]bool{true, true, true, true, true, true, true} {
		return false
	}
	open := true
	d.Holidays, d.Kept = &open, &said.Week[0]
	return true
}

// region reads a part of the shop's country, by its name or code.
func (d *Draft) region(t *telling.Teller, rest string) bool {
	r, ok := holidays.RegionOf(t.F.Shop.Country, rest)
	if ok {
		d.Region = &r.Code
	}
	return ok
}

// feastIn reads how a single public holiday is kept: "christmas day closed", "good friday
// 9-13", "epiphany open".
func feastIn(t *telling.Teller, line string) (choice shop.HolidayChoice, ok bool) {
	rest := ""
	for _, h := range reminders.Coming(&t.F.Shop.Settings, t.Today()) {
		after, is := strings.CutPrefix(line, texts.Fold(h.Name)+" ")
		if is && len(h.Name) > len(choice.Name) {
			choice.Name, rest = h.Name, strings.TrimSpace(after)
		}
	}
	switch hours, why := telling.Reader(t).Hours(rest); {
	case choice.Name == "":
		return choice, false
	case t.IsWord("closed", rest):
		return choice, true
	case t.IsWord("open-day", rest):
		choice.Trades = true
	case why != when.OK:
		return choice, false
	default:
		choice.Trades, choice.Hours = true, &hours
	}
	return choice, true
}

// flag reads on, off, open and closed.
func flag(t *telling.Teller, set **bool, s string) bool {
	on := t.IsWord("on", s) || t.IsWord("open-day", s)
	if !on && !t.IsWord("off", s) && !t.IsWord("closed", s) {
		return false
	}
	*set = &on
	return true
}

func (d *Draft) summary(t *telling.Teller, rest string) bool {
	word := "off"
	if !t.IsWord("off", rest) {
		day, ok := telling.Reader(t).Weekday(rest)
		if !ok {
			return false
		}
		word = reminders.Weekdays()[day]
	}
	d.Summary = &word
	return true
}

// days lays down hours, or who opens or closes, for days of the week.
func (d *Draft) days(t *telling.Teller, days []time.Weekday, rest string) bool {
	h, why := telling.Reader(t).Hours(rest)
	if closed := t.IsWord("closed", rest); closed || why == when.OK && h != (shop.Hours{}) {
		if closed {
			h = shop.Hours{}
		}
		note(&d.Hours, h, days...)
		return true
	}
	p, word, ok := person(t, rest)
	if after, is := strings.CutPrefix(rest, t.V.Say("words.anybody")+" "); is {
		p, word, ok = shop.Person{}, after, true
	}
	switch {
	case ok && t.IsWord("opens", word):
		note(&d.Opens, p.ID, days...)
	case ok && t.IsWord("closes", word):
		note(&d.Closes, p.ID, days...)
	default:
		return false
	}
	return true
}

// readLadder reads "-15 list, 0 list, 60 managers, 90 owners", or "as usual".
func readLadder(t *telling.Teller, s string) (rungs []shop.Rung, ok bool) {
	if t.IsWord("as-usual", strings.TrimSpace(s)) {
		return nil, true
	}
	groups := []shop.Group{shop.List, shop.Managers, shop.Owners}
	for part := range strings.SplitSeq(s, ",") {
		minutes, group, _ := strings.Cut(strings.TrimSpace(part), " ")
		after, err := strconv.Atoi(minutes)
		to := slices.IndexFunc(groups, func(g shop.Group) bool {
			return t.IsWord("group-"+string(g), strings.TrimSpace(group))
		})
		if err != nil || to < 0 {
			return nil, false
		}
		rungs = append(rungs, shop.Rung{After: after, To: groups[to]})
	}
	return rungs, true
}

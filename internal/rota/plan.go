package rota

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
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
	Each     *bool                          `json:"each,omitempty"`    // a note of each close
	Feasts   []shop.HolidayChoice           `json:"feasts,omitempty"`  // single public holidays; a later one wins
	Changes  []shop.Change                  `json:"changes,omitempty"` // single days

	Likely []shop.Hours `json:"-"` // the likelier of two readings, as they were taken just now
}

// Over lays what was typed over settings.
func (d *Draft) Over(s shop.Settings, today shop.Date) shop.Settings {
	s = s.Settled(today)
	if d.Holidays != nil {
		if s.Plan.TradesOnHolidays = *d.Holidays; !*d.Holidays {
			s.Plan.HolidayHours = nil
		}
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
	if d.Kept != nil && (d.Holidays == nil || *d.Holidays) {
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
	s.Plan.Changes = slices.Concat(s.Plan.Changes, d.Changes)
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

// Signed says who typed what is different on single days, and when.
func (d *Draft) Signed(by shop.PersonID, at time.Time) {
	for i := range d.Changes {
		d.Changes[i].By, d.Changes[i].At = by, at.UTC()
	}
}

// Line reads one line of a plan: "mon-fri 8-20", "sun closed", "sat ben opens",
// "holidays open", "summary fri", "nudges off", "night 23-6",
// "reminders closing 0 list, 30 managers". False: it says none of these. Where the
// likelier of two readings was taken, the draft says so.
func (d *Draft) Line(t *telling.Teller, line string) bool {
	if one, other, ok := beside(t, line); ok {
		return d.Line(t, one) && d.Line(t, other)
	}
	if before, days := d.reader(t).ButFeasts(line); len(days) > 0 {
		return d.Line(t, before) && d.shutOn(t, days)
	}
	if d.nowAt(t, line) {
		return true
	}
	line = (&manner{t: t}).without(line, "from-now-on")
	if d.noMore(t, line) || d.sinceTime(t, line) || d.pause(t, line) {
		return true
	}
	line = afterHoliday(t, line)
	word, rest, _ := strings.Cut(line, " ")
	rest = strings.TrimSpace(rest)
	switch {
	case t.IsWord("holidays", word):
		return d.onHolidays(t, rest)
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
	if choice, ok := d.feastIn(t, line); ok {
		d.Feasts = append(d.Feasts, choice)
		return true
	}
	if d.ladder(t, line) {
		return true
	}
	if said, why := d.reader(t).Trading(line); why == when.OK {
		d.trading(said)
		return true
	}
	if list, likely, ok := said(t, line); ok {
		d.Changes, d.Likely = append(d.Changes, list...), append(d.Likely, likely...)
		return true
	}
	if d.eachOpens(t, line) {
		return true
	}
	days, rest, why := telling.Reader(t).Weekdays(line)
	return why == when.OK && d.days(t, days, rest)
}

// ladder reads who is reminded of a task and when: reminders closing 0 list, 30 managers.
func (d *Draft) ladder(t *telling.Teller, line string) bool {
	word, rest, _ := strings.Cut(line, " ")
	if t.IsWord("reminders", word) {
		word, rest, _ = strings.Cut(strings.TrimSpace(rest), " ")
	}
	of := func(task reminders.Task) bool { return t.IsWord("ladder-"+string(task), word) }
	i := slices.IndexFunc(Tasks(), of)
	if i < 0 {
		return false
	}
	rungs, ok := readLadder(t, rest)
	if ok {
		note(&d.Ladders, rungs, Tasks()[i])
	}
	return ok
}

// trading lays down hours of the week, or of a part of every year. Of two readings it takes
// the likelier, and keeps which.
func (d *Draft) trading(said when.Trading) {
	season := shop.Season{From: said.From, To: said.To, Since: said.Since}
	own := said.From != "" || said.Since != ""
	for day, h := range said.Week {
		switch {
		case !said.Named[day]:
		case own:
			season.Hours[day] = &h
		default:
			note(&d.Hours, h, time.Weekday(day))
		}
	}
	d.Likely = append(d.Likely, likely(said)...)
	if own {
		d.Seasons = append(d.Seasons, season)
	}
}

// likely is the likelier of two readings of the first day that has two.
func likely(said when.Trading) []shop.Hours {
	for day, h := range said.Week {
		if said.Doubt && said.Named[day] && h != said.Literal[day] {
			return []shop.Hours{h}
		}
	}
	return nil
}

// reader reads what is typed over the hours that stand so far.
func (d *Draft) reader(t *telling.Teller) when.Reader {
	r := telling.Reader(t)
	usual := d.Over(t.F.Shop.Settings, t.Today()).Hours
	r.Usual = &usual
	return r
}

// beside parts what is said of public holidays and of days of the week at once: sundays and
// holidays closed.
func beside(t *telling.Teller, line string) (one, other string, ok bool) {
	r := telling.Reader(t)
	for _, word := range append(t.V.List("words.holidays"), t.V.List("words.on-holidays")...) {
		for _, and := range r.Words.And {
			if days, rest, is := strings.Cut(line, " "+and+" "+word+" "); is {
				return days + " " + rest, word + " " + rest, true
			}
			if after, is := strings.CutPrefix(line, word+" "+and+" "); is {
				_, rest, why := r.Weekdays(after)
				return after, word + " " + rest, why == when.OK
			}
		}
	}
	return "", "", false
}

// oneDay reads hours that are for no day of the week, by the likelier reading.
func (d *Draft) oneDay(r when.Reader, s string) (h shop.Hours, ok bool) {
	said, why := r.Trading(s)
	if why != when.OK || said.From != "" || said.Since != "" ||
		said.Named != [7]bool{true, true, true, true, true, true, true} {
		return h, false
	}
	if h = said.Week[0]; said.Doubt && h != said.Literal[0] {
		d.Likely = append(d.Likely, h)
	}
	return h, true
}

// NotRead says of a line that it is none, and what it lacks.
func NotRead(t *telling.Teller, line string) string {
	return cmp.Or(Lacks(t, line), t.V.Say("hours.not", "line", line))
}

// Lacks says what is missing in hours that cannot be read, where that can be told; else it is empty.
func Lacks(t *telling.Teller, line string) string {
	late := func(word string) bool { return t.IsWord("day-parts", word) || t.IsWord("till-late", word) }
	switch missing := Unsaid(t, line); {
	case missing == "each-month":
		return t.V.Say("shift.how-each-month")
	case missing == "half", slices.ContainsFunc(strings.Fields(line), late):
		return t.V.Say("hours.until-when")
	}
	for word := range strings.FieldsSeq(line) {
		switch {
		case slices.Contains(telling.Reader(t).Words.Since, word):
			return t.V.Say("hours.from-when")
		case t.IsWord("parts-of-year", word):
			return t.V.Say("hours.which-days")
		}
	}
	return ""
}

// Spoken gives what was typed behind the word for hours, or all of a sentence that lays some
// down; empty where it seems to ask for those of a day: hours tomorrow?
func Spoken(t *telling.Teller, rest, sentence string) string {
	if sentence = strings.Trim(sentence, " .!"); rest == "" && (&Draft{}).Line(t, sentence) {
		return sentence
	}
	_, left, why := telling.Reader(t).Days(strings.TrimRight(rest, "? "), when.Ahead)
	if why == when.OK && left == "" && !(&Draft{}).Line(t, rest) {
		return ""
	}
	return rest
}

// SaysHours reports whether somebody says by themselves how days of the week or public holidays
// are kept: sundays closed. Single days are [SaysDays].
func SaysHours(t *telling.Teller, line string) bool {
	var d Draft
	first, _, _ := strings.Cut(line, " ")
	if !strings.ContainsFunc(line, unicode.IsLetter) || !d.Line(t, line) {
		return false
	}
	r := telling.Reader(t)
	_, _, weekday := r.Weekdays(line)
	_, _, day := r.Days(line, when.Ahead)
	some := len(d.Hours) > 0 && len(d.Hours) < 7 // days were named
	hours := func(w string) bool { return t.IsWord("says-hours", w) }
	named := weekday == when.OK || day == when.OK || t.IsWord("holidays", first) ||
		afterHoliday(t, line) != line || (&manner{t: t}).without(line, "from-now-on") != line ||
		slices.ContainsFunc(strings.Fields(line), hours)
	laid := d.Hours != nil || d.Holidays != nil
	if len(d.Hours) == 1 && nextOnly(t, line) {
		return false
	}
	_, _, _, duty := DutyIn(t, (&manner{t: t}).without(line, "always"))
	duty = duty && (d.Opens != nil || d.Closes != nil)
	return some || duty || laid && saysPause(t, line) || len(d.Feasts) > 0 || d.Seasons != nil || named && laid
}

// nextOnly reports whether a line means the next day of its name and not each: the shop is closed
// monday. One that begins with the day is a line of the plan, as are mondays and every monday.
func nextOnly(t *telling.Teller, line string) bool {
	r, k := telling.Reader(t), manner{t: t}
	words := strings.Fields(k.bare(line))
	single := func(w string) bool { _, is := r.Weekday(strings.Trim(w, ",.")); return is }
	begins := func(list string) bool { return len(words) > 0 && t.IsWord(list, words[0]) }
	if len(words) == 0 || single(words[0]) || !begins("closed") && !begins("open") && !begins("till-late") ||
		!slices.ContainsFunc(words, single) || k.without(line, "from-now-on") != line {
		return false
	}
	_, ok := Said(t, line)
	return ok && !slices.ContainsFunc(words, func(w string) bool { return slices.Contains(r.Words.Every, w) })
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
		word = shop.Weekdays()[day]
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

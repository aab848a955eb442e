package shop

import (
	"errors"
	"fmt"
	"slices"
	"time"
)

// DayMinutes is how many minutes a day of the clock has.
const DayMinutes = 24 * 60

// Hours are one weekday's trading hours as minutes after midnight in the
// shop's zone. All zero means closed that day; Close at or before Open means
// the next day. A day may be split: it pauses in between.
type Hours struct {
	Open  int `json:"open"`
	Close int `json:"close"`

	PauseFrom int `json:"pause_from,omitempty"` // both zero: no pause
	PauseTo   int `json:"pause_to,omitempty"`
}

// Split reports whether the day has a pause.
func (h Hours) Split() bool { return h.PauseFrom != h.PauseTo }

// Round reports whether trading does not end: it goes on for a whole day.
func (h Hours) Round() bool {
	return h != (Hours{}) && !h.Split() && (h.Close == h.Open || h.Close == h.Open+DayMinutes)
}

// Likely gives the time of day that is meant by one of the morning that the shop never
// keeps: half a day later, if it keeps that.
func (h Hours) Likely(minutes int) int {
	late, morning := minutes+DayMinutes/2, minutes >= 60 && minutes < DayMinutes/2
	if morning && !h.keeps(minutes) && h.keeps(late) {
		return late
	}
	return minutes
}

// LikelyClose is Likely for a closing: 7 is in the evening, though the shop opens about that time.
func (h Hours) LikelyClose(minutes int) int {
	late := minutes + DayMinutes/2
	if h.Close > h.Open && minutes >= 60 && minutes <= h.Open && late > h.Open && late <= DayMinutes {
		return late
	}
	return h.Likely(minutes)
}

// longPause bounds what is taken for a pause in the middle of a day, in minutes. Common practice, no
// source.
const longPause = 5 * 60

// WithPause lays a pause into hours as it is likeliest meant: 1 to 2 is 13:00 to 14:00, 12 to 2 is 12:00 to
// 14:00. False: it is none of theirs.
func (h Hours) WithPause(from, to int) (Hours, bool) {
	const half = DayMinutes / 2
	split := h.Split()
	for _, p := range [][2]int{{from, to}, {from, to + half}, {from + half, to + half}} {
		h.PauseFrom, h.PauseTo = p[0], p[1]
		if !split && p[0] < p[1] && p[1]-p[0] <= longPause && h.Sound() {
			return h, true
		}
	}
	return Hours{}, false
}

// keeps reports whether a time of day is within the hours, or near them.
func (h Hours) keeps(minutes int) bool {
	const near = 2 * 60
	length := (h.Close - h.Open + DayMinutes) % DayMinutes
	return h != (Hours{}) && (minutes-h.Open+near+2*DayMinutes)%DayMinutes <= length+2*near
}

// Sound reports whether the hours can be: the pause, if there is one, within them.
func (h Hours) Sound() bool { return h.check() == nil }

func (h Hours) check() error {
	for _, m := range []int{h.Open, h.Close, h.PauseFrom, h.PauseTo} {
		if m < 0 || m > DayMinutes {
			return errors.New("a time of day is outside the day")
		}
	}
	length := func(m int) int { return (m - h.Open + DayMinutes) % DayMinutes }
	if h.Split() && (length(h.PauseFrom) == 0 || length(h.PauseFrom) >= length(h.PauseTo) ||
		length(h.PauseTo) >= length(h.Close)) {
		return errors.New("the pause of a day is not within its hours")
	}
	return nil
}

// Season is a part of every year with hours of its own, or all days from one on.
type Season struct {
	From  string    `json:"from"`            // MM-DD
	To    string    `json:"to"`              // MM-DD, included; before From it leads into the next year
	Since Date      `json:"since,omitempty"` // from this day on, instead of From and To
	Hours [7]*Hours `json:"hours"`           // Sunday first; nil: as usual
}

// Holds reports whether a date is in the season.
func (s Season) Holds(d Date) bool {
	if len(d) < len("2026-01-01") {
		return false
	}
	if s.Since != "" {
		return d >= s.Since
	}
	day := string(d[5:])
	if s.From <= s.To {
		return s.From <= day && day <= s.To
	}
	return day >= s.From || day <= s.To
}

// HolidayChoice is how one public holiday is kept, where it is otherwise than the others.
type HolidayChoice struct {
	Name   string `json:"name"` // as the table of holidays has it
	Trades bool   `json:"trades,omitempty"`
	Hours  *Hours `json:"hours,omitempty"` // nil: as usual
}

// Place names where the shop stands for the table of holidays: its country, and the region
// where one is laid down.
func (s *Settings) Place() string {
	if s.Region == "" {
		return s.Country
	}
	return s.Country + "-" + s.Region
}

// Weekly gives the hours of a date by the week and the seasons alone. Hours from a day on
// are of the week: seasons go before them.
func (s *Settings) Weekly(d Date) Hours {
	weekday := d.Weekday()
	h := s.Hours[weekday]
	for _, lasting := range []bool{true, false} {
		for _, season := range s.Plan.Seasons {
			own := season.Hours[weekday]
			if own != nil && lasting == (season.Since != "") && season.Holds(d) {
				h = *own
			}
		}
	}
	return h
}

// Settled gives the same settings with hours from a day on as those of the week, where that
// day has come: what is changed then changes these.
func (s Settings) Settled(today Date) Settings {
	seasons := s.Plan.Seasons
	s.Plan.Seasons = nil
	for _, season := range seasons {
		if season.Since == "" || season.Since > today {
			s.Plan.Seasons = append(s.Plan.Seasons, season)
			continue
		}
		for day, h := range season.Hours {
			if h != nil {
				s.Hours[day] = *h
			}
		}
	}
	return s
}

// Usual hours of days without an end, in minutes after midnight, where none are laid down.
// Common practice, no source.
const usualFilling = 10 * 60

// Endless reports whether the shop never closes, when it prints the figures of a day and
// when the window for filling begins, in minutes after midnight.
func (s *Settings) Endless() (figures, filling int, endless bool) {
	for _, h := range s.Hours {
		if !h.Round() {
			return 0, 0, false
		}
	}
	figures, filling = s.Hours[0].Open%DayMinutes, usualFilling
	if s.Plan.Figures != nil {
		figures = *s.Plan.Figures
	}
	if s.Plan.Filling != nil {
		filling = *s.Plan.Filling
	}
	return figures, filling, true
}

// lateFrom is from when on a closing may be past midnight on the clock: in some zones the
// clocks jump ahead within the last hours of a day.
const lateFrom = DayMinutes - 2*60

// late reports whether the hours may end on the next date.
func (h Hours) late() bool { return h != (Hours{}) && (h.Close <= h.Open || h.Close > lateFrom) }

// Late reports whether a day of trading may end on the next date: by the week, or by
// anything that is laid down beside it.
func (s *Settings) Late() bool {
	if slices.ContainsFunc(s.Hours[:], Hours.late) {
		return true
	}
	for _, season := range s.Plan.Seasons {
		if slices.ContainsFunc(season.Hours[:], func(h *Hours) bool { return h != nil && h.late() }) {
			return true
		}
	}
	own := func(h HolidayChoice) bool { return h.Hours != nil && h.Hours.late() }
	return s.Plan.HolidayHours != nil && s.Plan.HolidayHours.late() ||
		slices.ContainsFunc(s.Plan.Holidays, own) ||
		slices.ContainsFunc(s.Plan.Changes, func(c Change) bool { return c.Open != nil || c.Close != nil })
}

// OpensBy is the latest minute at which a day of trading begins, by the week or by anything that
// is laid down beside it; what is changed for single days is not in it.
func (s *Settings) OpensBy() (latest int) {
	for _, h := range s.Hours {
		latest = max(latest, h.Open)
	}
	for _, season := range s.Plan.Seasons {
		for _, h := range season.Hours {
			if h != nil {
				latest = max(latest, h.Open)
			}
		}
	}
	for _, c := range s.Plan.Holidays {
		if c.Hours != nil {
			latest = max(latest, c.Hours.Open)
		}
	}
	if h := s.Plan.HolidayHours; h != nil {
		latest = max(latest, h.Open)
	}
	return latest
}

// check refuses days that are none.
func (s Season) check() error {
	if s.Since != "" {
		if _, err := ParseDate(string(s.Since)); err != nil || s.From+s.To != "" {
			return fmt.Errorf("hours from %q on, and from %q to %q", s.Since, s.From, s.To)
		}
		return nil
	}
	for _, day := range []string{s.From, s.To} {
		if _, err := time.Parse(time.DateOnly, "2024-"+day); err != nil {
			return fmt.Errorf("a season from %q to %q", s.From, s.To)
		}
	}
	return nil
}

// endsEndless reports whether hours from a day on make days without an end out of others, or
// the other way round. Those begin and end with a count, so that they are laid down on the day.
func (s *Settings) endsEndless() bool {
	for _, season := range s.Plan.Seasons {
		later := s.Settled(season.Since)
		_, _, now := s.Endless()
		if _, _, then := later.Endless(); season.Since != "" && then != now {
			return true
		}
	}
	return false
}

// checkHours refuses hours of a plan that cannot be.
func (p *Plan) checkHours() error {
	if len(p.Seasons) > maxChoices || len(p.Holidays) > maxChoices {
		return fmt.Errorf("more than %d seasons or holidays", maxChoices)
	}
	for _, season := range p.Seasons {
		if err := season.check(); err != nil {
			return err
		}
		for _, h := range season.Hours {
			if h != nil && h.check() != nil {
				return h.check()
			}
		}
	}
	for _, h := range p.Holidays {
		if h.Hours != nil && h.Hours.check() != nil {
			return h.Hours.check()
		}
	}
	if p.HolidayHours != nil {
		if err := p.HolidayHours.check(); err != nil {
			return err
		}
	}
	for _, m := range []*int{p.Figures, p.Filling} {
		if m != nil && (*m < 0 || *m >= DayMinutes) {
			return errors.New("a time of day is outside the day")
		}
	}
	return nil
}

// choice finds how a public holiday is kept.
func (p *Plan) choice(name string) (c HolidayChoice, ok bool) {
	for _, c := range p.Holidays {
		if c.Name == name {
			return c, true
		}
	}
	return c, false
}

// Chosen reports whether it was laid down how a public holiday is kept.
func (p *Plan) Chosen(name string) bool {
	_, ok := p.choice(name)
	return ok
}

// Choose gives the plan with how one public holiday is kept.
func (p Plan) Choose(c HolidayChoice) Plan {
	kept := []HolidayChoice{}
	for _, old := range p.Holidays {
		if old.Name != c.Name {
			kept = append(kept, old)
		}
	}
	p.Holidays = append(kept, c)
	return p
}

// OnHoliday says whether the shop trades on a public holiday, and when, given its usual hours.
func (p *Plan) OnHoliday(name string, usual Hours) (h Hours, trades bool) {
	c, own := p.choice(name)
	trades = p.TradesOnHolidays
	if own {
		trades = c.Trades
	}
	switch {
	case own && c.Hours != nil:
		usual = *c.Hours
	case p.HolidayHours != nil:
		usual = *p.HolidayHours
	}
	return usual, trades
}

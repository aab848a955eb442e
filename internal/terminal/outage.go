package terminal

import (
	"context"
	"errors"
	"strings"
	"time"
)

// Outage is a span of the clock in which the bot is not there. To at or before From
// is on the next day.
type Outage struct{ From, To time.Duration } // after midnight

// parseOutage reads "08:00-11:00".
func parseOutage(s string) (o Outage, err error) {
	from, to, _ := strings.Cut(s, "-")
	for text, at := range map[string]*time.Duration{from: &o.From, to: &o.To} {
		clock, bad := time.Parse("15:04", strings.TrimSpace(text))
		if bad != nil || from == to {
			return Outage{}, errors.New("write an outage as @down 08:00-11:00")
		}
		*at = time.Duration(clock.Hour())*time.Hour + time.Duration(clock.Minute())*time.Minute
	}
	return o, nil
}

// span gives the next time at which an outage is, or what is left of it now.
func (o Outage) span(now time.Time) (from, to time.Time) {
	clock := func(days int, d time.Duration) time.Time {
		y, m, day := now.Date()
		return Wall{shown: time.Date(y, m, day+days, 0, 0, 0, 0, time.UTC).Add(d)}.first(now.Location())
	}
	over := 0
	if o.To <= o.From {
		over = 1
	}
	for day := -over; ; day++ {
		from, to = clock(day, o.From), clock(day+over, o.To)
		if to.After(now) {
			return from, to
		}
	}
}

// down plays an outage: what is due before it happens at its own time, then the bot
// stops, and when it starts again it finds all that came due meanwhile at once.
func (s *Script) down(ctx context.Context, o Outage) error {
	from, to := o.span(s.Clock.Now().In(s.zone()))
	if from.After(s.Clock.Now()) {
		if err := s.until(ctx, from.Add(-time.Millisecond)); err != nil {
			return err
		}
	}
	if err := s.Talk.stop(); err != nil {
		return err
	}
	s.Clock.Set(to)
	if err := s.Talk.boot(ctx); err != nil {
		return err
	}
	return s.Talk.bot.Flush(ctx, s.Talk)
}

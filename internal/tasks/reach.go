package tasks

import (
	"slices"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// Bounds of how often and how soon somebody is spoken to. All common practice, no source.
const (
	MaxTold = 3                // messages about one task that anybody gets; later ones change the last
	Still   = 20 * time.Minute // a count that moved within it is left alone
	Recent  = 30 * time.Minute // levels that were looked at within it are known
)

// Reach is what is known of a shop's people when a reminder is due.
type Reach struct {
	Phones []chat.Phone // nil: not known, everybody is taken to be there
	Told   []chat.Told  // who was sent messages about the task
}

// Away reports whether somebody cannot be written to: has no phone here, lost it, or
// blocked the bot.
func (r Reach) Away(id shop.PersonID) bool {
	return r.Phones != nil && !slices.ContainsFunc(r.Phones, func(p chat.Phone) bool {
		return p.Person == id && !p.Frozen && !p.Gone
	})
}

// Times counts the messages somebody was sent about the task.
func (r Reach) Times(id shop.PersonID) int {
	for _, t := range r.Told {
		if t.Person == id {
			return t.Times
		}
	}
	return 0
}

// Since reports whether anybody was told after an instant.
func (r Reach) Since(at time.Time) bool {
	return slices.ContainsFunc(r.Told, func(t chat.Told) bool { return t.Last.After(at) })
}

// Folds reports whether a rung changes the message somebody has instead of sending another:
// one that reaches them a second time by another way, and any after the most there are.
func (r Reach) Folds(id shop.PersonID, to shop.Group) bool {
	n := r.Times(id)
	return n >= MaxTold || n > 0 && to != shop.List
}

// Others names those who were truly told, without the reader.
func (r Reach) Others(reader shop.PersonID) (list []shop.PersonID) {
	for _, t := range r.Told {
		if t.Person != reader && t.Times > 0 {
			list = append(list, t.Person)
		}
	}
	return list
}

// Whom gives whom a rung tells: those of its group who can act, else the next group.
func (r Reach) Whom(s *shop.Shop, n reminders.Name, to shop.Group) []shop.PersonID {
	return reminders.Reached(s, n.Date, n.Task, to, r.Away)
}

// Count is what is to be done about a reminder while somebody is at the count it is about.
type Count string

// The ways.
const (
	GoAhead Count = ""      // nobody is, or they did not answer: the ladder goes on
	Wait    Count = "wait"  // they moved just now, or were asked just now
	AskThem Count = "still" // it stands still: they are asked first
)

// Counting says what to do about a reminder given who is at the task since when, and when
// they were last asked whether they still are. again is when to look once more.
func Counting(a *chat.Activity, asked, now time.Time) (do Count, again time.Time) {
	if a == nil {
		return GoAhead, again
	}
	moved := a.Since
	if a.Moved.After(moved) {
		moved = a.Moved
	}
	switch {
	case now.Before(moved.Add(Still)):
		return Wait, moved.Add(Still)
	case asked.Before(moved):
		return AskThem, now.Add(Still)
	case now.Before(asked.Add(Still)):
		return Wait, asked.Add(Still)
	}
	return GoAhead, again
}

// Looked reports whether somebody knows the levels of the open period: it was opened,
// looked at or filled just now.
func (a At) Looked(now time.Time) bool {
	p := a.Machine.Current()
	if p == nil {
		return false
	}
	last := p.Opened
	if n := len(p.Readings); n > 0 && p.Readings[n-1].Happened.After(last) {
		last = p.Readings[n-1].Happened
	}
	return now.Before(last.Add(Recent))
}

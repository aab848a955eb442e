package hearing

import (
	"slices"

	"shopfloat/internal/wording"
)

// Act is what is to be done about what was heard.
type Act int

// The acts.
const (
	Alarm  Act = iota + 1 // a danger: its card at once
	Do                    // one clear thing: a view is shown, what records opens its card
	Offer                 // two or three things: as buttons
	Ignore                // it asks for nothing
)

// Decision is what is to be done, and what with: the best reading first, at
// most three.
type Decision struct {
	Act      Act
	Readings []Reading
	Over     bool // it says that a danger has passed; it counts only where there is one
	Never    bool // and that there was none
	Taught   bool // the shop says what is meant
	Small    bool // it is small talk for sure, and no wish that was not understood
}

// What is offered behind the first; the limits of what is done are learnt.
const (
	offerMin = 0.01 // sure enough to be listed behind the first
	listMax  = 3
	smallMin = 0.9 // sure enough to be small talk that needs no help
)

// weighed is what the rules look at.
type weighed struct {
	Limits
	best, next Reading // best that asks for something, and the one behind it
	small      float64 // how sure it is that nothing is asked for
	greeting   bool    // nothing but a greeting
}

// rule is a line of the table: the first that holds decides.
type rule struct {
	name  string
	holds func(weighed) bool
	act   Act
}

// rules say what is done. The dangers come first whatever else is meant; what is
// said by a command's own words is done; likeness has to be clear, and never begins a robbery.
var rules = []rule{
	{"a present danger comes first", func(w weighed) bool { return w.best.Kind == Danger }, Alarm},
	{"a greeting asks what is to be done now", func(w weighed) bool { return w.greeting }, Do},
	{"the words of a command are the command", func(w weighed) bool { return w.best.Word }, Do},
	{"nothing is meant", func(w weighed) bool { return w.best.Kind == 0 }, Ignore},
	{"likelier that nothing is asked for", func(w weighed) bool {
		if w.best.Kind == Guide {
			return w.best.Sure < w.Fault*w.small
		}
		return w.best.Sure < w.Small*w.small
	}, Ignore},
	{"help is meant with what to do now", func(w weighed) bool {
		return w.best.Kind == Command && w.best.ID == Now && w.next.Kind == Command && w.next.ID == "help"
	}, Do},
	{"one clear thing is done", func(w weighed) bool {
		robbed := w.best.Kind == Guide && w.best.ID == Robbery
		return !robbed && w.best.Sure >= w.Clear && w.best.Sure >= w.Lead*w.next.Sure
	}, Do},
	{"what is not clear is offered", func(weighed) bool { return true }, Offer},
}

// Decide gives what is to be done about readings, best first.
func Decide(readings []Reading, greeting bool, l Limits) Decision {
	w, list := weigh(readings, greeting)
	w.Limits = l
	for _, r := range rules {
		if !r.holds(w) {
			continue
		}
		if r.act == Ignore {
			break
		}
		n := min(len(list), listMax)
		for n > 1 && list[n-1].Sure < offerMin {
			n--
		}
		return Decision{Act: r.act, Readings: list[:n]}
	}
	return Decision{Act: Ignore, Small: w.small >= smallMin}
}

// weigh gathers what the rules look at, and the readings that ask for something.
func weigh(readings []Reading, greeting bool) (w weighed, list []Reading) {
	w.greeting = greeting
	for _, r := range readings {
		if r.Kind == Small {
			w.small = r.Sure
		} else {
			list = append(list, r)
		}
	}
	if greeting && (len(list) == 0 || list[0].Kind != Danger) {
		list = []Reading{{Kind: Command, ID: Now, Sure: 1}}
	}
	if len(list) > 0 {
		w.best = list[0]
	}
	if len(list) > 1 {
		w.next = list[1]
	}
	return w, list
}

// Understand hears a text and decides what is to be done about it, with the slots
// of what may be meant filled in. The chat and the command line ask this and
// nothing else.
func (e *Ear) Understand(text string, sit Situation) Decision {
	heard, taught := e.taught(text, sit, e.Hear(text, sit))
	d := Decide(heard, wording.Greeting(text), e.limits)
	d.Taught = taught
	d.Readings = slices.Clone(d.Readings)
	if d.Act != Alarm {
		d.Over, d.Never = e.guard.over(text)
	}
	for i, r := range d.Readings {
		if r.Kind == Command {
			d.Readings[i].Slots = fill(r.ID, text, sit)
		}
	}
	return d
}

// Names lists what the readings are called; none when there is nothing to do.
func (d Decision) Names() []string {
	if len(d.Readings) == 0 {
		return []string{None}
	}
	out := make([]string, len(d.Readings))
	for i, r := range d.Readings {
		out[i] = r.Name()
	}
	return out
}

// Counts reports whether one thing is clearly meant, and counts go with it.
func (d Decision) Counts() bool {
	return d.Act == Do && !Vague(d) && len(d.Readings[0].Slots.Counts) > 0
}

// Vague reports whether a text means no guide, and no command for sure. While a
// dialog is open its question is likelier meant.
func Vague(d Decision) bool {
	const sure = 0.7
	best := d.Readings[0]
	return best.Kind != Guide && (d.Act != Do || best.Sure < sure)
}

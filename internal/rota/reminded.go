package rota

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/incidents"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/tasks"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// DueKey names the message about a task of a day within each chat, which may be of several
// shops.
func DueKey(t *telling.Teller, n reminders.Name) string { return n.Key(t.M.ID) }

// TasksAt is what is laid down and what the books say of a machine.
func TasksAt(t *telling.Teller, m *books.Machine) tasks.At {
	return tasks.At{Shop: t.F.Shop, Machine: m, DayOf: t.DayOf}
}

// Needs reports whether a task is still to be done by the books.
func Needs(t *telling.Teller, m *books.Machine, n reminders.Name) bool {
	return TasksAt(t, m).Needed(n)
}

// News says under which task a deadline is to be told of, if it still is: its own, or that of an earlier
// day that is not closed, of which nobody was told since the program was down.
func News(t *telling.Teller, n reminders.Name) (reminders.Name, bool) {
	at := TasksAt(t, t.M)
	if at.News(n) {
		return n, true
	}
	missed, ok := at.Missed(n)
	closing := reminders.Name{Date: missed.Date, Task: reminders.Closing}
	due, _ := reminders.Due(t.F.Shop, closing.Date, closing.Task)
	due = due.Add(-time.Second) // that it is due soon was said before
	told := Reached(t, DueKey(t, closing)).Since(due) || Reached(t, DueKey(t, missed)).Since(due)
	return missed, ok && !told
}

// Reached is what is known of the people: who can be written to, and who was told under a key.
func Reached(t *telling.Teller, key string) (r tasks.Reach) {
	if t.F.Ask.Phones != nil {
		r.Phones = t.F.Ask.Phones()
	}
	if t.F.Ask.Told != nil {
		r.Told = t.F.Ask.Told(key)
	}
	return r
}

// DueLines word a reminder: the task, its day and its time, never an amount, and nothing
// about the reader.
func DueLines(
	t *telling.Teller, n reminders.Name, r reminders.Rung, to shop.Person, known tasks.Reach,
) []string {
	due, _ := reminders.Due(t.F.Shop, n.Date, n.Task)
	subject := TasksAt(t, t.M).Subject(n)
	fill := []any{"when", t.Clock(due), "day", t.V.Day(subject.Time())}
	task := Called(t, n.Task)
	if task == string(reminders.Closing) && subject < n.Date {
		task = "closing-old" // loaded on an earlier day, and not counted since
	}
	if r.Nudge {
		return []string{t.V.Say("due.soon-"+task, fill...), t.Which()}
	}
	if f := Out(t); f != nil && loads(n) {
		return []string{t.V.Say("fault-open-out", "title", t.GuideTitle(f.Topic), "when", t.Clock(f.Out)),
			t.Which(), t.V.Say(texts.Either(f.Topic == chat.Robbery, "due.out-robbery", "due.out"))}
	}
	if r.At.After(due) && known.Times(to.ID) > 0 { // in other words than before
		task += "-again"
	}
	lines := []string{t.V.Say("due."+task, append(fill, "now", t.Clock(t.Now))...), t.Which()}
	switch p := TasksAt(t, t.M).Unclosed(n.Date.Add(-1)); {
	case n.Task == reminders.Unclosed:
		lines = append(lines, t.V.Say("due.why-"+string(TasksAt(t, t.M).Told(n.Date).Status)))
	case n.Task == reminders.Opening && p != nil && p.Status == books.Open &&
		TasksAt(t, t.M).JustMissed(p, n.Date):
		lines = append(lines, t.V.Say("due.open-anyway", "day", t.V.Day(t.DayOf(p).Time())))
	}
	if names := namesOf(t, known.Others(to.ID)); r.To != shop.List && names != "" {
		lines = append(lines, t.V.Say("due.told", "who", names))
	}
	for _, a := range t.F.Others {
		if !t.Stale(a) && a.Person != to.ID {
			lines = append(lines, t.V.Say("due.busy", "who", t.Name(a.Person), "when", t.Clock(a.Since)))
		}
	}
	return append(lines, t.V.Say("due.ask"))
}

func namesOf(t *telling.Teller, ids []shop.PersonID) string {
	var names []string
	for _, id := range ids {
		names = append(names, t.Name(id))
	}
	return strings.Join(names, ", ")
}

// DoneWord says that a task is done; of a closing also when only the count is in.
func DoneWord(t *telling.Teller, n reminders.Name) string {
	for _, p := range t.M.Periods {
		if n.Task == reminders.Closing && t.DayOf(p) == n.Date && p.Status == books.Waiting {
			return t.V.Say("due.done-counted")
		}
	}
	return t.V.Say("due.done-" + Called(t, n.Task))
}

// DoneBy tells who did a task and when, as far as the books at hand tell.
func DoneBy(t *telling.Teller, n reminders.Name) string {
	for _, p := range slices.Backward(t.M.Periods) {
		switch {
		case t.DayOf(p) > n.Date && n.Task != reminders.Opening:
		case n.Task == reminders.Opening:
			return t.V.Say("due.done-by", "who", t.Name(p.By), "when", t.Clock(p.Opened))
		case n.Task == reminders.Unclosed && p.Status == books.Closed:
			return t.V.Say("due.done-by", "who", t.Name(p.EndedBy), "when", t.Clock(p.Ended))
		case n.Task == reminders.Closing && p.Status != books.Open:
			return t.V.Say("due.done-by", "who", t.Name(p.CountedBy), "when", t.Clock(p.CountedAt))
		}
	}
	return ""
}

// Out is the fault for which a machine is out of service, the newest; nil: it is in service.
func Out(t *telling.Teller) *books.Fault {
	for i := range slices.Backward(t.M.Faults) {
		f := &t.M.Faults[i]
		if !f.Out.IsZero() && f.Back.IsZero() && f.Ending != books.Mistake && f.Ending != books.Elsewhere {
			return f
		}
	}
	return nil
}

// loads reports whether a task puts notes into a machine.
func loads(n reminders.Name) bool { return n.Task == reminders.Opening || n.Task == reminders.Filling }

// Spared reports whether a rung is not told since nothing can be loaded: of a machine that is out of
// service a shop wants to hear once a day and not up the ladder; not at all would be too little,
// since it may work again and nobody said so.
func Spared(t *telling.Teller, n reminders.Name, r reminders.Rung) bool {
	return loads(n) && Out(t) != nil && r.No != 0 &&
		r.No != reminders.FirstDue(reminders.Rungs(t.F.Shop, n.Date, n.Task))
}

// Eve says the day before that a public holiday comes, and that the shop is taken to be closed.
func Eve(t *telling.Teller, n reminders.Name) chat.Reply {
	next := reminders.On(t.F.Shop, n.Date.Add(1))
	return chat.Reply{
		Body:    []chat.Block{{Text: t.V.Say("due.holiday", "what", next.Holiday)}},
		Buttons: [][]chat.Button{t.Button("usual", "o:usual:"+Compact(next.Date))},
		Key:     DueKey(t, n), Silent: true}
}

// Doubt asks how a holiday is kept that may not be one.
func Doubt(t *telling.Teller, n reminders.Name) chat.Reply {
	date := reminders.DoubtedBy(n.Date)
	ref := "." + Compact(date)
	return chat.Reply{
		Body: []chat.Block{chat.Lines(t.V.Say("due.doubt", "day", t.V.Day(date.Time()),
			"what", reminders.Doubted(t.F.Shop, date)), t.V.Say("due.doubt-else"))},
		Buttons: [][]chat.Button{t.Button("feast-closed", "o:feast:closed"+ref),
			t.Button("feast-open", "o:feast:open"+ref), t.Button("feast-hours", "o:feast:hours"+ref)},
		Key: DueKey(t, n), Silent: true}
}

// RefOf writes what a reminder's button is about, task.day.machine.
func RefOf(t *telling.Teller, n reminders.Name) string {
	return string(n.Task) + "." + Compact(n.Date) + "." + strconv.FormatInt(int64(t.M.ID), 10)
}

// StartButton begins what is due.
func StartButton(t *telling.Teller, n reminders.Name) []chat.Button {
	return t.Button("start-"+Called(t, n.Task), "o:start:"+RefOf(t, n))
}

// DueButtons start the task, put it off, or say that it is not to be done today; what is
// rarer stands behind More. What a tap may do is checked again when it comes.
func DueButtons(t *telling.Teller, n reminders.Name) [][]chat.Button {
	ref := RefOf(t, n)
	rows := [][]chat.Button{StartButton(t, n)}
	if n.Task == reminders.Unclosed {
		return rows
	}
	if f := Out(t); f != nil && loads(n) && f.Topic != chat.Robbery { // that it is over a manager says
		rows = [][]chat.Button{t.Button("fault-back", incidents.OfFault("back", f.Seq)), rows[0]}
	}
	return append(rows, t.Button("in-30", "o:later:"+ref+".30"), t.Button("not-today", "o:mute:"+ref),
		t.Button("unfold", "o:rarer:"+ref))
}

// RarerButtons stand behind More.
func RarerButtons(t *telling.Teller, n reminders.Name) [][]chat.Button {
	ref := RefOf(t, n)
	rows := [][]chat.Button{StartButton(t, n),
		slices.Concat(t.Button("in-15", "o:later:"+ref+".15"), t.Button("in-60", "o:later:"+ref+".60"))}
	if t.F.Person.Acts().Manages() && n.Task != reminders.Filling {
		rows = append(rows, t.Button("closed-today", "o:closed:"+ref))
	}
	return rows
}

package incidents

import (
	"regexp"
	"slices"
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/guides"
	"shopfloat/internal/telling"
)

// Speaker is who speaks, in words that others read.
func Speaker(t *telling.Teller) string {
	if t.F.Person.Name == "" {
		return t.V.Say("somebody")
	}
	return t.F.Person.Name
}

// look is the first line of what others are told of a danger. A locked phone shows it, so it
// does not name what it is.
func look(t *telling.Teller) chat.Block {
	return chat.Block{Text: t.V.Say("danger.look", "who", Speaker(t), "when", t.Clock(t.Now))}
}

// Robbed tells managers and owners of a robbery without a sound; no is its record, 0 where
// there is none.
func Robbed(t *telling.Teller, no int64) chat.Reply {
	r := chat.Reply{Silent: true, Body: []chat.Block{look(t), {Text: t.V.Say("robbery.told")},
		{Text: t.V.Say("robbery.do", "number", GuideSettings(t).Number(guides.Emergency))}}}
	if no != 0 {
		r.Buttons = [][]chat.Button{t.Button("robbery-over", OfFault("back", no)),
			t.Button("robbery-false", OfFault("nothing", no))}
	}
	return r
}

// Danger is what whoever spoke of another danger is told, and what managers and owners are.
func Danger(t *telling.Teller, danger string) (said string, told chat.Reply) {
	number := guides.EmergencyNumber(t.F.Shop.Country)
	return t.V.Say("danger."+danger, "number", number), chat.Reply{Silent: true,
		Body: []chat.Block{look(t), {Text: t.V.Say("danger.told-"+danger, "number", number)}}}
}

// endings are the records that the ends of guides make.
var endings = map[guides.End]books.Ending{
	guides.EndSolved: books.Solved, guides.EndCall: books.CalledHelp, guides.EndOutOfService: books.OutOfService,
}

// EndOf is the record that the end of a guide makes.
func EndOf(v guides.View) books.Ending { return endings[v.End] }

// findingGuides are those in which notes come to light.
var findingGuides = []string{"note-jam", "wrong-notes", "customer-claim"}

// Finds reports whether notes may come to light in a guide.
func Finds(guide string) bool { return slices.Contains(findingGuides, guide) }

// SeveralNotes reports whether a text is notes by kind and nothing else, which were found: 20x2.
func SeveralNotes(text string) bool { return severalNotes.MatchString(text) }

var severalNotes = regexp.MustCompile(`^\d+ ?[x×] ?\d+(?:[ ,]+\d+ ?[x×] ?\d+)*$`)

// Over tells how a guide ended, and what can be said of its incident from then on. f is the
// incident as it is now; nil where there is none here.
func Over(t *telling.Teller, w *chat.Walk, v guides.View, f *books.Fault) (chat.Block, [][]chat.Button) {
	lines := []string{t.V.Say("trouble.end-" + string(EndOf(v)))}
	if len(v.Record) > 0 {
		lines = append(lines, t.V.Say("trouble.record", "what", strings.Join(v.Record, ", ")))
	}
	var rows [][]chat.Button
	if Finds(w.Guide) {
		rows = append(rows, t.Button("guide-found", OfFault("found", w.Fault)))
	}
	if f != nil && (!f.Light || f.Unsolved()) {
		rows = append(rows, FaultButtons(t, f)...)
	}
	return chat.Lines(lines...), rows
}

// Solved tells that an incident is over, with how long the machine was out of service, or a
// button that says it was.
func Solved(t *telling.Teller, f *books.Fault) (first string, r chat.Reply) {
	first = t.V.Say("fault-solved", "title", t.GuideTitle(f.Topic), "when", t.Clock(t.Now))
	lines := []string{first}
	if !f.Out.IsZero() {
		down := f.Down(f.Out, t.Now, t.Now)
		lines = append(lines, t.V.Say("fault-down", "time", telling.HowLong(t, down)))
	} else if !f.Light {
		r.Buttons = [][]chat.Button{t.Button("fault-out", OfFault("out", f.Seq), "when", t.Clock(f.Began))}
	}
	r.Body = []chat.Block{chat.Lines(lines...)}
	return first, r
}

// StillOpen tells others that an incident is open; key is the key of its cards.
func StillOpen(t *telling.Teller, f *books.Fault, key string) chat.Reply {
	lines := []string{t.V.Say("due.fault", "title", t.GuideTitle(f.Topic), "when", t.Clock(f.Began)), t.Which()}
	if !f.Out.IsZero() {
		lines = append(lines, t.V.Say("due.fault-out"))
	}
	return chat.Reply{Body: []chat.Block{chat.Lines(lines...)}, Key: key, Retire: key,
		Buttons: [][]chat.Button{t.Button(OverButton(f), OfFault("back", f.Seq)),
			t.Button("fault-guide", OfFault("guide", f.Seq))}}
}

// Stopped tells that a guide was left before its end. f is its incident, nil where there is
// none here.
func Stopped(t *telling.Teller, guide string, f *books.Fault) chat.Reply {
	title := t.GuideTitle(guide)
	if f == nil || !f.Unsolved() {
		return chat.Reply{Body: []chat.Block{{Text: t.V.Say("trouble.stopped", "title", title)}}}
	}
	return chat.Reply{Body: []chat.Block{{Text: t.V.Say("trouble.stopped-open", "title", title)}},
		Buttons: FaultButtons(t, f)}
}

// GoesOn is the incident that goes on when its topic comes up again, so that going through
// its guide once more makes no second one; 0: there is none.
func GoesOn(faults []books.Fault, topic string) int64 {
	for _, f := range slices.Backward(faults) {
		if f.Topic == topic && f.Unsolved() && !f.Light && (topic != chat.Robbery || f.Ending == "") {
			return f.Seq
		}
	}
	return 0
}

// Left is what is put on record when somebody leaves a guide before its end; ok is false
// where it is nothing. What somebody else is at, or what is known to need help, stays as it is.
func Left(t *telling.Teller, f *books.Fault, steps []string, as books.Ending) (left books.Trouble, ok bool) {
	left.Steps = steps
	if f.Ending == "" && f.By == t.F.Person.ID {
		left.Ending = as
	}
	return left, left.Ending != "" || len(steps) > 0
}

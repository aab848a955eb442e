package dialogs

import (
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/books"
)

// optional are the properties that may stay unsaid.
var optional = map[string][]string{
	"flow":     {"part", "count", "bank", "asks", "commands", "cards", "lasts", "parting"},
	"command":  {"menu", "boxes", "answers", "plea", "offer", "guided", "flow"},
	"standing": {},
}

// unsaid names the properties of a declaration that nobody has laid down.
func unsaid(kind string, v reflect.Value) (names []string) {
	for i := range v.NumField() {
		field := v.Type().Field(i)
		switch {
		case field.Type == reflect.TypeFor[rights]():
			names = append(names, unsaid("rights", v.Field(i))...)
		case v.Field(i).IsZero() && !slices.Contains(optional[kind], field.Name):
			names = append(names, field.Name)
		}
	}
	return names
}

// Every property of every dialog, command and standing card is said.
func TestEveryPropertyIsSaid(t *testing.T) {
	if got := unsaid("flow", reflect.ValueOf(flow{name: "x"})); len(got) < 14 {
		t.Fatalf("of a dialog that says nothing only %q is missed", got)
	}
	e := spokenEngine(t)
	for _, f := range e.listed {
		if names := unsaid("flow", reflect.ValueOf(*f)); len(names) > 0 {
			t.Errorf("dialog %s says nothing of %q", f.name, names)
		}
	}
	for i := range e.commands {
		if names := unsaid("command", reflect.ValueOf(e.commands[i])); len(names) > 0 {
			t.Errorf("command %s says nothing of %q", e.commands[i].name, names)
		}
	}
	for _, s := range e.cards {
		if names := unsaid("standing", reflect.ValueOf(s)); len(names) > 0 {
			t.Errorf("card %s says nothing of %q", s.name, names)
		}
	}
	if len(e.listed) < 30 || len(e.commands) < 50 || len(e.cards) < 15 {
		t.Errorf("%d dialogs, %d commands, %d cards", len(e.listed), len(e.commands), len(e.cards))
	}
}

// inCatalogue reports whether the catalogue has a sentence.
func inCatalogue(e *Engine, id string) bool { return e.texts.In("en", "", "").Say(id) != id }

// What a dialog declares fits together.
func TestDialogsFit(t *testing.T) {
	e := spokenEngine(t)
	seen, parts, blinds := map[string]bool{}, map[int]string{}, 0
	for _, f := range e.listed {
		if seen[f.name] {
			t.Errorf("two dialogs are called %s", f.name)
		}
		seen[f.name] = true
		if !inCatalogue(e, "title."+f.title) || !inCatalogue(e, "flow."+f.title) {
			t.Errorf("%s: the catalogue has no title %q", f.name, f.title)
		}
		if onForm := f.paper == thatDay || f.paper == anyDay; onForm != (f.part > 0) {
			t.Errorf("%s: paper %d and part %d", f.name, f.paper, f.part)
		}
		if other := parts[f.part]; f.part > 0 && other != "" {
			t.Errorf("%s and %s are both part %d of the paper form", f.name, other, f.part)
		}
		parts[f.part] = f.name
		if f.part > 0 && !inCatalogue(e, "button.earlier-"+f.name) {
			t.Errorf("%s has no button at something from earlier", f.name)
		}
		for step, s := range f.screens {
			if s.blind {
				blinds++
			}
			if s.blind && f.presence != atWork {
				t.Errorf("%s/%s: nobody is told of a count by somebody who is in nobody's way", f.name, step)
			}
			if s.finds && !s.blind {
				t.Errorf("%s/%s is part of a count and not blind", f.name, step)
			}
		}
	}
	if blinds < 30 {
		t.Errorf("only %d blind screens", blinds)
	}
}

// Each question of a dialog is a screen of it, and each screen that is a
// question is listed.
func TestQuestionsAreScreens(t *testing.T) {
	e, n := spokenEngine(t), 0
	for _, f := range e.listed {
		var names []string
		for _, q := range f.asks {
			n++
			names = append(names, q.Called())
			if _, ok := f.screens[q.Called()]; !ok {
				t.Errorf("%s asks %s, which is no screen of it", f.name, q.Called())
			}
			asked := inCatalogue(e, "ask."+q.Called()) || inCatalogue(e, "ask-all."+q.Called())
			if !asked || !inCatalogue(e, "part."+q.Called()) {
				t.Errorf("%s: the catalogue has no words for %s", f.name, q.Called())
			}
		}
		for step, s := range f.screens {
			if s.taps["no-kind"] != nil && !slices.Contains(names, step) { // which questions alone have
				t.Errorf("%s: the question %s is not among what it asks", f.name, step)
			}
		}
	}
	if n < 40 {
		t.Errorf("only %d questions", n)
	}
}

// Each command has words of its own, a sentence where it is shown or offered,
// and one place in the platform's menu.
func TestCommandsFit(t *testing.T) {
	e := spokenEngine(t)
	v := e.texts.In("en", "", "")
	words, names, places := map[string]string{}, map[string]bool{}, map[int]string{}
	for i := range e.commands {
		cmd := &e.commands[i]
		if names[cmd.name] {
			t.Errorf("two commands are called %s", cmd.name)
		}
		names[cmd.name] = true
		if !inCatalogue(e, "words."+cmd.name) {
			t.Errorf("%s: there is no word for it", cmd.name)
		}
		for _, w := range v.List("words." + cmd.name) {
			if other := words[w]; other != "" {
				t.Errorf("%q means %s and %s", w, other, cmd.name)
			}
			words[w] = cmd.name
		}
		said := cmd.help != helpNever || cmd.menu > 0 || cmd.does == startsDialog // by "leave", too
		if said && !inCatalogue(e, "help."+cmd.name) {
			t.Errorf("%s: there is no sentence for it", cmd.name)
		}
		if cmd.offer != "" && (!inCatalogue(e, "button."+cmd.offer) || !cmd.guided) {
			t.Errorf("%s is offered by %q and cannot be begun by it", cmd.name, cmd.offer)
		}
		if other := places[cmd.menu]; cmd.menu > 0 && other != "" {
			t.Errorf("%s and %s have one place in the menu", cmd.name, other)
		}
		places[cmd.menu] = cmd.name
		if cmd.menu > 0 && !regexp.MustCompile(`^[a-z0-9]+$`).MatchString(cmd.name) {
			t.Errorf("the platform takes no %q", cmd.name)
		}
		if f := e.flows[cmd.flow]; cmd.flow != "" && f == nil {
			t.Errorf("%s begins %s, which is no dialog", cmd.name, cmd.flow)
		}
	}
	for n := 1; n < len(places); n++ {
		if places[n] == "" {
			t.Errorf("the menu has nothing at place %d of %d", n, len(places)-1)
		}
	}
}

// A dialog that is given up says something, at each of its screens; what it
// says has no hole.
func TestStoppedSaysSomething(t *testing.T) {
	e := spokenEngine(t)
	for _, f := range e.listed {
		for step := range f.screens {
			c := talkAt(t, "2026-11-26 09:00")
			c.e, c.State = e, State{Flow: f.name, Step: step}
			c.m = books.New(1)
			if got := f.stopped(c); got == "" || strings.Contains(got, "{{") || !strings.Contains(got, " ") {
				t.Errorf("%s/%s says %q", f.name, step, got)
			}
		}
	}
}

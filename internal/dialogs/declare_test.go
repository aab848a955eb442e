package dialogs_test

import (
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
)

// optional are the properties that may stay unsaid.
var optional = map[string][]string{
	"flow": {"Part", "Second", "Bank", "Owing", "Asks", "Commands", "Cards", "Lasts", "Parting", "Draft",
		"Recall", "Of", "View", "Holds", "Late", "Settles", "Passes", "Read"},
	"command": {"Menu", "Dated", "Boxes", "Answers", "Finds", "Plea", "Guided", "Hours", "Printed",
		"flow"},
	"standing": {"Typed"},
}

// unsaid names the properties of a declaration that nobody has laid down.
func unsaid(kind string, v reflect.Value) (names []string) {
	for i := range v.NumField() {
		field := v.Type().Field(i)
		switch {
		case field.Type == reflect.TypeFor[engine.Rights]():
			names = append(names, unsaid("rights", v.Field(i))...)
		case v.Field(i).IsZero() && !slices.Contains(optional[kind], field.Name):
			names = append(names, field.Name)
		}
	}
	return names
}

// Every property of every dialog, command and standing card is said.
func TestEveryPropertyIsSaid(t *testing.T) {
	if got := unsaid("flow", reflect.ValueOf(engine.Flow{Name: "x"})); len(got) < 14 {
		t.Fatalf("of a dialog that says nothing only %q is missed", got)
	}
	e := theEngine(t)
	for _, f := range e.Listed {
		if names := unsaid("flow", reflect.ValueOf(*f)); len(names) > 0 {
			t.Errorf("dialog %s says nothing of %q", f.Name, names)
		}
	}
	for _, cmd := range e.Commands() {
		if names := unsaid("command", reflect.ValueOf(cmd)); len(names) > 0 {
			t.Errorf("command %s says nothing of %q", cmd.Name, names)
		}
	}
	for _, s := range e.Cards() {
		if names := unsaid("standing", reflect.ValueOf(s)); len(names) > 0 {
			t.Errorf("card %s says nothing of %q", s.Name, names)
		}
	}
	if len(e.Listed) < 30 || len(e.Commands()) < 50 || len(e.Cards()) < 15 {
		t.Errorf("%d dialogs, %d commands, %d cards", len(e.Listed), len(e.Commands()), len(e.Cards()))
	}
}

// inCatalogue reports whether the catalogue has a sentence.
func inCatalogue(e *engine.Engine, id string) bool { return e.Texts.In("en", "", "").Say(id) != id }

// What a dialog declares fits together.
func TestDialogsFit(t *testing.T) {
	e := theEngine(t)
	seen, parts, blinds := map[string]bool{}, map[int]string{}, 0
	for _, f := range e.Listed {
		if seen[f.Name] {
			t.Errorf("two dialogs are called %s", f.Name)
		}
		seen[f.Name] = true
		if !inCatalogue(e, "title."+f.Title) || !inCatalogue(e, "flow."+f.Title) {
			t.Errorf("%s: the catalogue has no title %q", f.Name, f.Title)
		}
		if onForm := f.Paper == engine.ThatDay || f.Paper == engine.AnyDay; onForm != (f.Part > 0) {
			t.Errorf("%s: paper %q and part %d", f.Name, f.Paper, f.Part)
		}
		if other := parts[f.Part]; f.Part > 0 && other != "" {
			t.Errorf("%s and %s are both part %d of the paper form", f.Name, other, f.Part)
		}
		parts[f.Part] = f.Name
		if f.Part > 0 && !inCatalogue(e, "button.earlier-"+f.Name) {
			t.Errorf("%s has no button at something from earlier", f.Name)
		}
		for step, s := range f.Screens {
			if s.Blind {
				blinds++
			}
			if s.Blind && f.Presence != engine.AtWork {
				t.Errorf("%s/%s: nobody is told of a count by somebody who is in nobody's way", f.Name, step)
			}
			if s.Finds && !s.Blind {
				t.Errorf("%s/%s is part of a count and not blind", f.Name, step)
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
	e, n := theEngine(t), 0
	for _, f := range e.Listed {
		var names []string
		for _, q := range f.Asks {
			n++
			names = append(names, q.Called())
			if _, ok := f.Screens[q.Called()]; !ok {
				t.Errorf("%s asks %s, which is no screen of it", f.Name, q.Called())
			}
			asked := inCatalogue(e, "ask."+q.Called()) || inCatalogue(e, "ask-all."+q.Called())
			if !asked || !inCatalogue(e, "part."+q.Called()) {
				t.Errorf("%s: the catalogue has no words for %s", f.Name, q.Called())
			}
		}
		for step, s := range f.Screens {
			if s.Taps["no-kind"] != nil && !slices.Contains(names, step) { // which questions alone have
				t.Errorf("%s: the question %s is not among what it asks", f.Name, step)
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
	e := theEngine(t)
	v := e.Texts.In("en", "", "")
	words, names, places := map[string]string{}, map[string]bool{}, map[int]string{}
	for _, cmd := range e.Commands() {
		if names[cmd.Name] {
			t.Errorf("two commands are called %s", cmd.Name)
		}
		names[cmd.Name] = true
		if !inCatalogue(e, "words."+cmd.Name) {
			t.Errorf("%s: there is no word for it", cmd.Name)
		}
		for _, w := range v.List("words." + cmd.Name) {
			if other := words[w]; other != "" {
				t.Errorf("%q means %s and %s", w, other, cmd.Name)
			}
			words[w] = cmd.Name
		}
		said := cmd.Help != engine.HelpNever || cmd.Menu > 0 || cmd.Does == engine.StartsDialog // by "leave", too
		if said && !inCatalogue(e, "help."+cmd.Name) {
			t.Errorf("%s: there is no sentence for it", cmd.Name)
		}
		if other := places[cmd.Menu]; cmd.Menu > 0 && other != "" {
			t.Errorf("%s and %s have one place in the menu", cmd.Name, other)
		}
		places[cmd.Menu] = cmd.Name
		if cmd.Menu > 0 && !regexp.MustCompile(`^[a-z0-9]+$`).MatchString(cmd.Name) {
			t.Errorf("the platform takes no %q", cmd.Name)
		}
		begins := reflect.ValueOf(cmd).FieldByName("flow").String()
		if begins != "" && e.Flows[begins] == nil {
			t.Errorf("%s begins %s, which is no dialog", cmd.Name, begins)
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
	e := theEngine(t)
	for _, f := range e.Listed {
		for step := range f.Screens {
			c := floor.Talk(t, "2026-11-26 09:00")
			c.E, c.State = e, chat.State{Flow: f.Name, Step: step}
			c.M = books.New(1)
			if got := f.Stopped(c); got == "" || strings.Contains(got, "{{") || !strings.Contains(got, " ") {
				t.Errorf("%s/%s says %q", f.Name, step, got)
			}
		}
	}
}

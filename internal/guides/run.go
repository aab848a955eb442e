package guides

import (
	"fmt"
	"strings"
)

// Run is where a person stands in a guide. It is a value without behaviour of
// its own, so that it can be kept with the chat and go on after a restart.
type Run struct {
	Guide string
	Step  string
	Taken []string // words of the choices so far, oldest first
}

// View is a step as one shop sees it.
type View struct {
	Title    string
	Number   int    // of this step in the run, from 1
	Of       int    // most steps this run can come to
	Own      string // the provider's own instruction, on the first step only; it wins
	Cautions []string
	Text     string
	Choices  []string
	Call     []Call
	End      End
	Record   []string // at an end only
}

// Call is somebody to ring; Number is "" when the shop has not entered one.
type Call struct {
	Contact Contact
	Number  string
}

// Start begins a guide. It fails when the library has no guide of that name.
func (l Library) Start(id string) (Run, error) {
	if _, ok := l.Guide(id); !ok {
		return Run{}, fmt.Errorf("there is no guide called %q", id)
	}
	return Run{Guide: id, Step: StartStep}, nil
}

// Choose takes the choice of that index, from 0, among those View showed for
// the same settings. At an end, or with an index out of range, it fails and
// the run stays as it was.
func (l Library) Choose(r Run, set Settings, index int) (Run, error) {
	_, s, err := l.at(r)
	if err != nil {
		return r, err
	}
	choices := fitting(s.Choices, set)
	if index < 0 || index >= len(choices) {
		return r, fmt.Errorf("guide %s, step %s: there is no choice %d", r.Guide, r.Step, index+1)
	}
	ch := choices[index]
	taken := append(append([]string(nil), r.Taken...), ch.Text)
	return Run{Guide: r.Guide, Step: ch.To, Taken: taken}, nil
}

// View shows where a run stands. It fails when the guide was replaced by one
// without that step since the run began; begin again then.
func (l Library) View(r Run, set Settings) (View, error) {
	g, s, err := l.at(r)
	if err != nil {
		return View{}, err
	}
	v := View{
		Title:  g.Title,
		Number: len(r.Taken) + 1,
		Of:     len(r.Taken) + g.longest(s.Name, set),
		Text:   bodyText(s, set),
		End:    s.End,
	}
	for _, c := range s.Cautions {
		v.Cautions = append(v.Cautions, set.fill(c.Text))
	}
	for _, ch := range fitting(s.Choices, set) {
		v.Choices = append(v.Choices, ch.Text)
	}
	v.Call = set.calls(s.Call)
	if s.End != EndNone {
		v.Record = g.Record
	}
	if s.Name == StartStep {
		v.Own = set.Provider[g.ID]
	}
	return v, nil
}

func (l Library) at(r Run) (Guide, Step, error) {
	g, ok := l.Guide(r.Guide)
	if !ok {
		return Guide{}, Step{}, fmt.Errorf("there is no guide called %q", r.Guide)
	}
	s, ok := g.Step(r.Step)
	if !ok {
		return Guide{}, Step{}, fmt.Errorf("guide %s has no step %q", r.Guide, r.Step)
	}
	return g, s, nil
}

func fitting(choices []Choice, set Settings) []Choice {
	var out []Choice
	for _, ch := range choices {
		if ch.When.Fits(set) {
			out = append(out, ch)
		}
	}
	return out
}

// stepText is all of a step as a shop reads it: cautions, then the text.
func stepText(s Step, set Settings) string {
	var parts []string
	for _, c := range s.Cautions {
		parts = append(parts, set.fill(c.Text))
	}
	if body := bodyText(s, set); body != "" {
		parts = append(parts, body)
	}
	return strings.Join(parts, "\n")
}

// bodyText picks the lines that fit; of a run of conditional lines the first.
func bodyText(s Step, set Settings) string {
	var parts []string
	taken := false
	for _, l := range s.Lines {
		if l.When.Setting == "" {
			taken = false
			parts = append(parts, set.fill(l.Text))
			continue
		}
		if !taken && l.When.Fits(set) {
			taken = true
			parts = append(parts, set.fill(l.Text))
		}
	}
	return strings.Join(parts, "\n")
}

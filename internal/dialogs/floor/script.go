package floor

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"shopfloat/internal/chat"
)

// Step takes an input of somebody, which the transcript shows as a line, and
// gives what came back, as a transcript shows it.
func (f *Floor) Step(name string, in chat.Input, line string) string {
	f.T.Helper()
	fmt.Fprintln(&f.Out, line)
	res := f.Does(name, in)
	var back strings.Builder
	if res.Notice != "" {
		fmt.Fprintln(&back, "bot!> "+res.Notice)
	}
	for _, r := range res.Replies {
		if f.Check != nil {
			f.Check(r)
		}
		f.show(&back, name, r)
	}
	f.Out.WriteString(back.String())
	return back.String()
}

// Says sends a message as somebody and gives what came back to them.
func (f *Floor) Says(name, text string) string {
	f.T.Helper()
	return f.Step(name, chat.Input{Kind: chat.Text, Text: text}, name+"> "+text)
}

// Taps taps the newest button whose label begins so, whatever the letters' case.
func (f *Floor) Taps(name, label string) string {
	f.T.Helper()
	b, ok := f.Button(name, label)
	if !ok {
		f.T.Fatalf("%s has no button %q:\n%s", name, label, f.Out.String())
	}
	return f.Press(name, b)
}

// Press taps a button, which need not be among those that were sent.
func (f *Floor) Press(name string, b chat.Button) string {
	f.T.Helper()
	return f.Step(name, chat.Input{Kind: chat.Press, Tap: b.Data}, name+"> ["+b.Label+"]")
}

// Button finds the newest button whose label begins so, whatever the letters' case.
func (f *Floor) Button(name, label string) (b chat.Button, ok bool) {
	for _, b := range f.Live[ChatOf(name)] {
		if strings.HasPrefix(strings.ToLower(b.Label), strings.ToLower(label)) {
			return b, true
		}
	}
	return b, false
}

func (f *Floor) show(b *strings.Builder, name string, r chat.Reply) {
	head := "bot> "
	if r.Edit != "" {
		head = "bot*> "
	}
	if r.To != (chat.Audience{}) {
		head = "bot@others> "
	}
	var lines []string
	for _, k := range r.Body {
		lines = append(lines, k.Text)
	}
	if r.File != nil {
		lines = append(lines, r.File.Name, string(r.File.Data))
	}
	b.WriteString(head + strings.ReplaceAll(strings.Join(lines, "\n"), "\n", "\n  ") + "\n")
	var live []chat.Button
	for _, row := range r.Buttons {
		for _, btn := range row {
			b.WriteString("  [" + btn.Label + "]\n")
			live = append(live, btn)
		}
	}
	if r.To == (chat.Audience{}) {
		f.card[ChatOf(name)] = live
		f.Live[ChatOf(name)] = append(live, f.Live[ChatOf(name)]...)
		if had := f.Live[ChatOf(name)]; f.Long && len(had) > mostLive {
			f.Live[ChatOf(name)] = had[:mostLive]
		}
	}
}

// mostLive is how many buttons are kept where months are played.
const mostLive = 100

// Expect looks for pieces in what was said, as the function of this name does, and
// shows the transcript when one is missing or should not stand there.
func (f *Floor) Expect(said, want, not string) {
	f.T.Helper()
	if !Expect(f.T, said, want, not) {
		f.T.Logf("after\n%s", f.Out.String())
	}
}

// Expect fails the test unless every wanted piece, set apart by bars, was said, and
// none of the others. It reports whether it was so.
func Expect(t testing.TB, said, want, not string) bool {
	t.Helper()
	ok := true
	for piece := range strings.SplitSeq(want, "|") {
		if !strings.Contains(said, piece) {
			ok = false
			t.Errorf("%q is missing in\n%s", piece, said)
		}
	}
	for piece := range strings.SplitSeq(not, "|") {
		if piece != "" && strings.Contains(said, piece) {
			ok = false
			t.Errorf("%q should not stand in\n%s", piece, said)
		}
	}
	return ok
}

// Choices are what the buttons of somebody's newest message choose, in order.
func (f *Floor) Choices(name string) (list []string) {
	for _, b := range f.card[ChatOf(name)] {
		tap, _ := chat.ParseTap(b.Data)
		list = append(list, tap.Choice)
	}
	return list
}

// Chooses taps on the newest card of the dialog under way, whether or not it has such a button.
func (f *Floor) Chooses(name, choice string) string {
	f.T.Helper()
	return f.Press(name, chat.Button{Label: choice, Data: "d:" + strconv.Itoa(f.State(name).Rev) + ":" + choice})
}

// Play runs lines like "staff1: open 40 150 200; [Confirm]" and "@2026-11-25 21:05",
// and gives what the last step led to.
func (f *Floor) Play(script string) string {
	f.T.Helper()
	var last string
	for line := range strings.Lines(script) {
		line = strings.TrimSpace(line)
		if line == "" {
			continue
		}
		if at, ok := strings.CutPrefix(line, "@"); ok {
			f.At(at)
			continue
		}
		name, steps, _ := strings.Cut(line, ": ")
		for step := range strings.SplitSeq(steps, "; ") {
			if label, ok := strings.CutPrefix(step, "["); ok {
				last = f.Taps(name, strings.TrimSuffix(label, "]"))
			} else {
				last = f.Says(name, step)
			}
		}
	}
	return last
}

package telling

import "strings"

// Part is what was answered of one question.
type Part struct {
	Name  string
	Lines []string // those that are answered, like "20s 150"
	None  bool     // each of them is none
}

// SoFar says what has been answered so far, each part under its name once there are
// several.
func SoFar(t *Teller, parts []Part) string {
	var all, only []string
	for _, p := range parts {
		if len(p.Lines) == 0 {
			continue
		}
		if only = p.Lines; p.None {
			p.Lines = []string{t.V.Say("part-none")}
		}
		all = append(all, t.V.Say("part."+p.Name)+": "+strings.Join(p.Lines, ", "))
	}
	switch len(all) {
	case 0:
		return t.V.Say("nothing-so-far")
	case 1:
		return t.V.Say("so-far", "counts", strings.Join(only, ", "))
	}
	return t.V.Say("parts-so-far") + "\n" + strings.Join(all, "\n")
}

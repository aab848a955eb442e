package telling

import (
	"slices"
	"strings"
)

// Part is what was answered of one question.
type Part struct {
	Name  string
	Lines []string // those that are answered, like "20s 150"
	None  bool     // each of them is none
	Kept  bool     // they stand in a record by now
	Again string   // the answers as they could be typed again; empty where nothing is to be typed
}

// SoFar says what has been answered so far, each part under its name once there are
// several. Parts of which there is nothing, one behind another, share a line.
func SoFar(t *Teller, parts []Part) string {
	var all, none, only []string
	several := 0
	say := func() { // of what there is nothing
		if len(none) > 0 {
			all, none = append(all, strings.Join(none, ", ")+": "+t.V.Say("part-none")), nil
		}
	}
	for _, p := range parts {
		if len(p.Lines) == 0 {
			continue
		}
		several++
		name := t.V.Say("part." + p.Name)
		if only = p.Lines; !p.None {
			say()
			all = append(all, name+": "+strings.Join(p.Lines, ", "))
			continue
		}
		if len(none) > 0 {
			name = strings.ToLower(name[:1]) + name[1:] // within a line
		}
		none = append(none, name)
	}
	say()
	switch several {
	case 0:
		return t.V.Say("nothing-so-far")
	case 1:
		return t.V.Say("so-far", "counts", strings.Join(only, ", "))
	}
	return t.V.Say("parts-so-far") + "\n" + strings.Join(all, "\n")
}

// TypedBefore gives what was typed and is in no record: in words, and by question as it could
// be typed again.
func TypedBefore(t *Teller, parts []Part) (told string, again map[string]string) {
	var all []string
	for _, p := range parts {
		if len(p.Lines) == 0 || p.Kept {
			continue
		}
		told = strings.Join(p.Lines, ", ")
		if p.None {
			told = t.V.Say("part-none")
		}
		all = append(all, t.V.Say("part."+p.Name)+": "+told)
		if p.Again != "" {
			if again == nil {
				again = map[string]string{}
			}
			again[p.Name] = p.Again
		}
	}
	if len(all) > 1 {
		told = strings.Join(all, "; ")
	}
	return told, again
}

// SomeKept reports whether something that was answered stands in a record by now.
func SomeKept(parts []Part) bool {
	return slices.ContainsFunc(parts, func(p Part) bool { return len(p.Lines) > 0 && p.Kept })
}

// Unrecorded is SoFar of what is in no record; empty where all that was answered is in one.
func Unrecorded(t *Teller, parts []Part) string {
	rest := slices.DeleteFunc(slices.Clone(parts), func(p Part) bool { return p.Kept || len(p.Lines) == 0 })
	if len(rest) == 0 && SomeKept(parts) {
		return ""
	}
	return SoFar(t, rest)
}

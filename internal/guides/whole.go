package guides

import (
	"fmt"
	"slices"
	"strings"
)

// Whole writes out a guide from first step to last for reading on paper: every
// variant with the shops it is for, every choice with the number of its step.
func (g Guide) Whole(set Settings) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n", g.ID, g.Title)
	if own := set.Provider[g.ID]; own != "" {
		fmt.Fprintf(&b, "\nYour provider says, and it comes first: %s\n", own)
	}
	for i, s := range g.Steps {
		fmt.Fprintf(&b, "\n%d. %s\n", i+1, s.Name)
		g.writeStep(&b, s, set)
	}
	b.WriteString("\nWrite down:\n")
	for _, r := range g.Record {
		fmt.Fprintf(&b, "  - %s\n", r)
	}
	return b.String()
}

func (g Guide) writeStep(b *strings.Builder, s Step, set Settings) {
	for _, c := range s.Cautions {
		fmt.Fprintf(b, "   Caution: %s\n", set.fill(c.Text))
	}
	for _, l := range s.Lines {
		fmt.Fprintf(b, "   %s%s\n", l.When.words(), set.fill(l.Text))
	}
	for _, ch := range s.Choices {
		to := slices.IndexFunc(g.Steps, func(x Step) bool { return x.Name == ch.To })
		fmt.Fprintf(b, "   - %s%s: step %d\n", ch.When.words(), ch.Text, to+1)
	}
	for _, c := range set.calls(s.Call) {
		fmt.Fprintf(b, "   Call: %s\n", c)
	}
	if s.End != EndNone {
		fmt.Fprintf(b, "   End: %s.\n", s.End)
	}
}

// String names the contact with its number, or says who enters it.
func (c Call) String() string {
	if c.Number == "" {
		return string(c.Contact) + " (the manager has not entered a number)"
	}
	return string(c.Contact) + ", " + c.Number
}

// words puts a condition in front of a text as a person would say it.
func (c Condition) words() string {
	switch c.Setting {
	case "":
		return ""
	case elseSetting:
		return "(all others) "
	case "lock":
		return "(" + strings.Join(c.Values, " or ") + " lock) "
	case "test":
		if slices.Contains(c.Values, "yes") {
			return "(with test payout) "
		}
		return "(without test payout) "
	case "prints":
		return "(slip shows " + strings.Join(c.Values, " or ") + ") "
	}
	return "(" + strings.Join(c.Values, ", ") + ") "
}

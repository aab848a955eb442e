package hearing

import (
	"strings"
	"testing"
)

// The table of rules, a line for each of them.
func TestDecide(t *testing.T) {
	day, month := Reading{Kind: Command, ID: "day", Sure: 0.7}, Reading{Kind: Command, ID: "month", Sure: 0.2}
	jam, small := Reading{Kind: Guide, ID: "note-jam", Sure: 0.05}, Reading{Kind: Small, Sure: 0.1}
	fire := Reading{Kind: Danger, ID: Fire, Sure: 1}
	said := Reading{Kind: Command, ID: "open", Sure: 1, Word: true}
	likelySmall, close := Reading{Kind: Small, Sure: 0.6}, Reading{Kind: Command, ID: "history", Sure: 0.45}
	for _, c := range []struct {
		rule     string
		readings []Reading
		greeting bool
		act      Act
		names    string
	}{
		{"a present danger comes first", []Reading{fire, day, jam}, true, Alarm, "danger:fire do:day note-jam"},
		{"a greeting asks what is to be done now", []Reading{small, jam}, true, Do, "do:now"},
		{"the words of a command are the command", []Reading{said, likelySmall}, false, Do, "do:open"},
		{"nothing is meant", nil, false, Ignore, "none"},
		{"likelier that nothing is asked for", []Reading{likelySmall, jam}, false, Ignore, "none"},
		{"help is meant with what to do now", []Reading{{Kind: Command, ID: Now, Sure: 0.45},
			{Kind: Command, ID: "help", Sure: 0.4}, small}, false, Do, "do:now do:help"},
		{"one clear thing is done", []Reading{day, month, small}, false, Do, "do:day do:month"},
		{"what is not clear is offered", []Reading{close, {Kind: Guide, ID: "power", Sure: 0.4}, small, jam}, false,
			Offer, "do:history power note-jam"},
		{"what is not clear is offered", []Reading{month, jam, small}, false, Offer, "do:month note-jam"},
	} {
		d := Decide(c.readings, c.greeting, tried)
		if got := strings.Join(d.Names(), " "); d.Act != c.act || got != c.names {
			t.Errorf("%s: got %d of %s, want %d of %s", c.rule, d.Act, got, c.act, c.names)
		}
		if by := decidedBy(c.readings, c.greeting); by != c.rule {
			t.Errorf("decided by %q, not by %q", by, c.rule)
		}
	}
}

// tried are the limits of the table, whichever are learnt.
var tried = Limits{Clear: 0.5, Lead: 1.6, Small: 1.2, Fault: 1.2}

func decidedBy(readings []Reading, greeting bool) string {
	w, _ := weigh(readings, greeting)
	w.Limits = tried
	for _, r := range rules {
		if r.holds(w) {
			return r.name
		}
	}
	return ""
}

func TestEveryRuleIsTried(t *testing.T) {
	if len(rules) != 8 {
		t.Errorf("%d rules, eight of them stand in the test", len(rules))
	}
}

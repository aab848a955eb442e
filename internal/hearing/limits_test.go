package hearing

import (
	"testing"

	"shopfloat/internal/guides/search"
	"shopfloat/internal/hearing/phrases"
)

// The limits are those by which most is heard right: here a voice is sure of what it says
// from 0.6 on, and chatter is never twice as likely as what it hides.
func TestBestLimits(t *testing.T) {
	command := func(sure, small float64) []Reading {
		return []Reading{{Kind: Command, ID: "day", Sure: sure}, {Kind: Small, Sure: small}}
	}
	heard := []unheard{
		{"do:day", command(0.9, 0.05)}, {"do:day", command(0.6, 0.3)}, {"do:month", command(0.45, 0.1)},
		{"do:month", command(0.4, 0.1)}, {None, command(0.4, 0.35)}, {None, command(0.2, 0.7)},
	}
	l := best(heard)
	if l.Clear <= 0.45 || l.Clear > 0.6 {
		t.Errorf("clear from %v on: what is sure and wrong is below 0.5, what is right from 0.6 on", l.Clear)
	}
	if l.Small <= 0.4/0.35 || l.Small >= 2 {
		t.Errorf("small %v: chatter is told apart between 1.14 and 2", l.Small)
	}
	if got := (Limits{Clear: 0.3, Lead: 1.2, Small: 0.6}).worth(heard); got >= l.worth(heard) {
		t.Errorf("bad limits are worth %v, the best %v", got, l.worth(heard))
	}
}

// Each voice is left out once, with all it says and nothing else.
func TestVoicesLeftOut(t *testing.T) {
	all := []phrases.Said{
		{ID: "day", Phrases: []phrases.Phrase{{Voice: "older", Text: "a"}, {Voice: "terse", Text: "b"}}},
		{ID: phrases.Chatter, Phrases: []phrases.Phrase{{Voice: "older", Text: "c"}}},
		{ID: "danger:fire", Phrases: []phrases.Phrase{{Voice: "older", Text: "d"}}},
	}
	if got := voicesOf(all); len(got) != 2 {
		t.Fatalf("voices %v", got)
	}
	rest, out := without(all, "older")
	if len(rest) != 3 || len(rest[0].Phrases) != 1 || len(rest[1].Phrases) != 0 {
		t.Errorf("the rest is %+v", rest)
	}
	if len(out) != 3 || classOf(out[0]) != "do:day" || classOf(out[1]) != None ||
		classOf(out[2]) != "danger:fire" {
		t.Errorf("left out are %+v", out)
	}
}

// The limit of alarms is where most dangers are told, and least that only sounds like one.
func TestBestAlarm(t *testing.T) {
	all := []feared{
		{want: Fire, danger: Fire, sure: 0.9}, {want: Fire, danger: Fire, sure: 0.52},
		{want: Hurt, danger: Hurt, sure: 0.51}, {want: Fire, danger: Fire, sure: 0.3, proven: Fire},
		{danger: Fire, sure: 0.47}, {danger: Hurt, sure: 0.12, proven: Hurt, beside: true},
		{danger: Fire, sure: 0.48, talk: true},
	}
	if d, p := bestAlarm(all); d <= 0.48 || d > 0.51 || p <= 0.12 || p > 0.3 {
		t.Errorf("%v, %v: what is none has 0.48 at most and 0.12 with a proof, dangers 0.51 and 0.3", d, p)
	}
}

// What is said for guides is left out in turn, each phrase once.
func TestParted(t *testing.T) {
	topics := []search.Topic{{ID: "power", Asked: []string{"a", "b", "c", "d", "e"}}}
	left := map[string]int{}
	for at := range 2 {
		a := parted(topics, at, 2)
		if len(a.rest[0].Asked)+len(a.out[0].Asked) != 5 || a.rest[0].ID != "power" {
			t.Errorf("%+v", a)
		}
		for _, text := range a.out[0].Asked {
			left[text]++
		}
	}
	if len(left) != 5 || left["a"] != 1 {
		t.Errorf("left out: %v", left)
	}
}

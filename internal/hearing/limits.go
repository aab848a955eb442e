package hearing

import (
	"slices"
	"strings"
	"sync"

	"shopfloat/internal/guides/search"
	"shopfloat/internal/hearing/phrases"
)

// Limits say how sure is sure enough. They are chosen by leaving voices out: what a voice
// says is heard by a model that has learnt from the others only.
type Limits struct {
	Clear  float64 // sure enough to be done without asking back
	Lead   float64 // and so much surer than the next
	Small  float64 // how much surer than that nothing is asked for
	Fault  float64 // and how much, where a guide is likeliest
	Danger float64 // how likely a present danger must be
	Proven float64 // and where words of it are a proof
}

// The limits that are tried. A danger that is no likelier than not is none: "its stopped now" would be one.
var (
	clearTried  = []float64{0.3, 0.4, 0.5, 0.6, 0.7, 0.8}
	leadTried   = []float64{1.2, 1.4, 1.6, 2, 2.5, 3, 4}
	smallTried  = []float64{0.4, 0.5, 0.6, 0.7, 0.78, 0.85, 0.92, 1, 1.1, 1.2, 1.4, 1.7, 2, 2.5, 3, 4}
	provenTried = []float64{0.02, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5}
	dangerTried = []float64{0.5, 0.55, 0.6, 0.65, 0.7, 0.75, 0.8, 0.85}
)

// The shares that are wanted: of what asks for something, heard right at first or within
// what is listed; of wrong things started, and of chatter that is answered.
const (
	wrongMost   = 0.03
	chatterMost = 0.03
)

// wanted are those of commands and of guides: a sentence for a guide has fewer to go to.
var wanted = map[Kind]struct{ right, listed float64 }{Command: {0.90, 0.97}, Guide: {0.95, 0.99}}

// unheard is what a voice said that a model has not learnt from, and how that hears it.
type unheard struct {
	want     string
	readings []Reading
}

// feared is what a voice said that is a danger, or only sounds like one, and what a model made
// of it that has not learnt from that voice.
type feared struct {
	want, danger string
	sure         float64
	proven       string
	beside, talk bool // it was not written with dangers in mind, and asks for something, or for nothing
}

// leftOut is what one voice says, heard by a model that learnt from the others.
type leftOut struct {
	heard  []unheard
	alarms []feared
	err    error
}

// asked are what is said for guides, parted: what is learnt from, and what is left out. It has no voices.
type asked struct{ rest, out []search.Topic }

// parted leaves out every so manieth of what is said for a guide.
func parted(topics []search.Topic, at, parts int) (a asked) {
	for _, t := range topics {
		rest, out := search.Topic{ID: t.ID}, search.Topic{ID: t.ID}
		for i, text := range t.Asked {
			if i%parts == at {
				out.Asked = append(out.Asked, text)
			} else {
				rest.Asked = append(rest.Asked, text)
			}
		}
		a.rest, a.out = append(a.rest, rest), append(a.out, out)
	}
	return a
}

// chooseLimits leaves out one voice after the other, and with each a part of what is said for guides.
func chooseLimits(all []phrases.Said, topics []search.Topic) (Limits, error) {
	voices := voicesOf(all)
	parts := make([]leftOut, len(voices))
	var each sync.WaitGroup
	for i, voice := range voices {
		each.Go(func() { parts[i] = leaveOut(voice, all, parted(topics, i, len(voices))) })
	}
	each.Wait()
	var heard []unheard
	var alarms []feared
	for _, p := range parts {
		if p.err != nil {
			return Limits{}, p.err
		}
		heard, alarms = append(heard, p.heard...), append(alarms, p.alarms...)
	}
	l := best(heard)
	l.Danger, l.Proven = bestAlarm(alarms)
	return l, nil
}

func leaveOut(voice string, all []phrases.Said, guides asked) leftOut {
	var out leftOut
	rest, mine := without(all, voice)
	find, err := search.New(guides.rest)
	if err != nil {
		return leftOut{err: err}
	}
	e, _, err := learnFrom(rest, guides.rest, find)
	if err != nil {
		return leftOut{err: err}
	}
	hear := func(class, text string) {
		out.heard = append(out.heard, unheard{class, short(slices.DeleteFunc(e.heard(text), isDanger))})
	}
	for _, t := range guides.out {
		if t.ID == Robbery || t.ID == Caller { // what is said for these may be a danger
			continue
		}
		for _, text := range t.Asked {
			hear(t.ID, text)
		}
	}
	for _, s := range mine {
		class := classOf(s)
		danger, is := strings.CutPrefix(class, dangerID)
		for _, p := range s.Phrases {
			got, sure := e.warned(p.Text, nil)
			f := feared{danger: got, sure: sure, proven: e.proven(p.Text, nil)}
			f.talk = s.ID == phrases.Chatter
			f.beside = !is && !f.talk && s.ID != phrases.Near && s.ID != phrases.Calm
			if is {
				f.want = danger
			}
			if !p.Meant {
				out.alarms = append(out.alarms, f)
			}
			if !is && s.ID != phrases.Near && !p.Alarming {
				hear(class, p.Text)
			}
		}
	}
	return out
}

// How many may alarm: of what only sounds like a danger, and of what is said every day. With fewer,
// dangers were missed.
const (
	calmAlarms = 0.07
	talkAlarms = 0.006
)

// bestAlarm are the limits at which most dangers are told right, while no more of the rest raise an alarm
// than may. Of limits as good the higher ones are taken.
func bestAlarm(all []feared) (danger, proven float64) {
	most := -1e9
	for _, d := range dangerTried {
		for _, p := range provenTried {
			l := Limits{Danger: d, Proven: min(p, d)}
			if worth := l.guards(all); worth >= most {
				most, danger, proven = worth, l.Danger, l.Proven
			}
		}
	}
	return danger, proven
}

func (l Limits) guards(all []feared) float64 {
	var dangers, calm, talk, beside ratio
	for _, f := range all {
		got := l.alarm(f.danger, f.proven, f.sure)
		switch {
		case f.want != "":
			dangers.add(got == f.want)
		case f.talk:
			talk.add(got != "")
		case f.beside:
			beside.add(got != "")
		default:
			calm.add(got != "")
		}
	}
	const dear = 100 // more than all dangers are worth
	return dangers.share() - dear*(max(0, calm.share()-calmAlarms)+max(0, talk.share()-talkAlarms)+
		max(0, beside.share()-talkAlarms))
}

// ratio is how many of all are so.
type ratio struct{ so, all float64 }

func (r *ratio) add(so bool) {
	if r.all++; so {
		r.so++
	}
}

func (r ratio) share() float64 { return r.so / max(r.all, 1) }

// alarm is the danger that is taken for present: the likeliest, or the one that is proved where it
// is no more than likely enough for that.
func (l Limits) alarm(likeliest, proven string, sure float64) string {
	switch {
	case sure >= l.Danger:
		return likeliest
	case proven != "" && sure >= l.Proven:
		return proven
	}
	return ""
}

func voicesOf(all []phrases.Said) (out []string) {
	for _, s := range all {
		for _, p := range s.Phrases {
			if !slices.Contains(out, p.Voice) {
				out = append(out, p.Voice)
			}
		}
	}
	slices.Sort(out)
	return out
}

// without parts what one voice says from what the others say.
func without(all []phrases.Said, voice string) (rest, out []phrases.Said) {
	for _, s := range all {
		mine, others := s, s
		mine.Phrases, others.Phrases = nil, nil
		for _, p := range s.Phrases {
			if p.Voice == voice {
				mine.Phrases = append(mine.Phrases, p)
			} else {
				others.Phrases = append(others.Phrases, p)
			}
		}
		rest = append(rest, others)
		if len(mine.Phrases) > 0 {
			out = append(out, mine)
		}
	}
	return rest, out
}

// class is the name of what is said.
func classOf(s phrases.Said) string {
	switch kind, _ := kindOf(s.ID); {
	case s.ID == phrases.Chatter, s.ID == phrases.Calm:
		return None
	case s.Guide || kind == Danger:
		return s.ID
	}
	return commandID + s.ID
}

// short keeps the readings that the rules look at.
func short(list []Reading) (out []Reading) {
	asked := 0
	for _, r := range list {
		if r.Kind != Small {
			if asked++; asked > listMax {
				continue
			}
		}
		out = append(out, r)
	}
	return out
}

// best are the limits that come closest to the shares that are wanted, taken together: first how what is
// asked for is told from chatter, then when it is done.
func best(heard []unheard) Limits {
	var out Limits
	most := -1e9
	better := func(l Limits) {
		if worth := l.worth(heard); worth > most {
			most, out = worth, l
		}
	}
	for _, small := range smallTried {
		for _, fault := range smallTried {
			better(Limits{Clear: 1, Lead: 1, Small: small, Fault: fault})
		}
	}
	small, fault := out.Small, out.Fault
	most = -1e9
	for _, clearMin := range clearTried {
		for _, lead := range leadTried {
			better(Limits{Clear: clearMin, Lead: lead, Small: small, Fault: fault})
		}
	}
	return out
}

// tallied is how much of what is asked for was heard right.
type tallied struct{ asked, right, listed, done, wrong float64 }

// worth is below nothing by as much as the shares fall short of those that are wanted. What is taken
// for chatter is neither right nor listed, and that of two kinds, so chatter that is answered counts
// more than once, too. Where that is even, asking back is a tap, and done is better.
func (l Limits) worth(heard []unheard) float64 {
	const doneWorth, chatterCounts = 0.1, 2.75
	of := map[Kind]*tallied{Command: {}, Guide: {}}
	var chatter, answered float64
	for _, h := range heard {
		d := Decide(h.readings, false, l)
		names := d.Names()
		if h.want == None {
			if chatter++; names[0] != None {
				answered++
			}
			continue
		}
		kind, _ := kindOf(h.want)
		of[kind].add(names, h.want, d.Act)
	}
	worth := -chatterCounts * max(0, answered/chatter-chatterMost)
	for _, kind := range []Kind{Command, Guide} { // in order: a sum of fractions depends on it
		if t := of[kind]; t.asked > 0 {
			worth += doneWorth*t.done/t.asked - max(0, wanted[kind].right-t.right/t.asked) -
				max(0, wanted[kind].listed-t.listed/t.asked) - max(0, t.wrong/t.asked-wrongMost)
		}
	}
	return worth
}

func (t *tallied) add(names []string, want string, act Act) {
	t.asked++
	if slices.Contains(names, want) {
		t.listed++
	}
	switch {
	case names[0] == want && act == Do:
		t.right, t.done = t.right+1, t.done+1
	case names[0] == want:
		t.right++
	case act == Do:
		t.wrong++
	}
}

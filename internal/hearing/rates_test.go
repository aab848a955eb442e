package hearing

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"shopfloat/internal/guides"
	"shopfloat/internal/guides/search"
	"shopfloat/internal/hearing/phrases"
	"shopfloat/internal/learn"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
	"shopfloat/internal/when"
)

// ear hears with the guides and words that the program comes with.
func ear(t testing.TB) *Ear {
	t.Helper()
	e, err := builtin()
	if err != nil {
		t.Fatal(err)
	}
	return e
}

var builtin = sync.OnceValues(func() (*Ear, error) {
	lib, err := guides.Builtin()
	if err != nil {
		return nil, err
	}
	find, err := search.New(lib.Topics())
	if err != nil {
		return nil, err
	}
	catalogue, err := texts.Load()
	if err != nil {
		return nil, err
	}
	return New(find, WordsOf(catalogue.In("en", "IE", "EUR").List))
})

func english(t testing.TB) func(string) []string {
	t.Helper()
	catalogue, err := texts.Load()
	if err != nil {
		t.Fatal(err)
	}
	return catalogue.In("en", "IE", "EUR").List
}

// closed is the example shop, closed, on a Sunday.
func closed(t testing.TB) Situation {
	t.Helper()
	example := shop.Example()
	return At(&example, &example.Machines[0], when.WordsOf(english(t)), "2026-11-15")
}

// sentence is a labelled one.
type sentence struct {
	want        []string
	voice, text string
	slots       string
}

// heldSet reads sentences that are never learnt from.
func heldSet(t testing.TB, name string) (out []sentence) {
	t.Helper()
	return readSet(t, "held", name)
}

// linesOf reads the lines of a file that are no comments, cut at tabs.
func linesOf(t testing.TB, file string) (out [][]string) {
	t.Helper()
	src, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(src)) {
		if !strings.HasPrefix(line, "#") {
			out = append(out, strings.Split(strings.TrimRight(line, "\n"), "\t"))
		}
	}
	return out
}

func readSet(t testing.TB, folder, name string) (out []sentence) {
	t.Helper()
	for _, f := range linesOf(t, filepath.Join("testdata", folder, name+".tsv")) {
		if len(f) < 3 {
			continue
		}
		s := sentence{want: strings.Split(f[0], ","), voice: f[1], text: f[2]}
		if len(f) > 4 {
			s.slots = f[4]
		}
		out = append(out, s)
	}
	if len(out) < 80 {
		t.Fatalf("%s: only %d sentences", name, len(out))
	}
	return out
}

// questions reads those about guides.
func questions(t testing.TB, name string) (out []sentence) {
	t.Helper()
	src, err := os.ReadFile(filepath.Join("..", "..", "testdata", "questions", name+".tsv"))
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(src)) {
		want, text, _ := strings.Cut(strings.TrimRight(line, "\n"), "\t")
		s := sentence{want: []string{want}, text: text}
		switch want { // a present danger has a name of its own
		case "robbery":
			s.want = append(s.want, "danger:robbery")
		case "power":
			s.want = append(s.want, "danger:fire")
		case "contact":
			s.want = append(s.want, "danger:hurt")
		}
		out = append(out, s)
	}
	return out
}

// rates are shares of a set, from 0 to 1.
type rates struct {
	top1, top3 float64
	answered   float64 // anything but none
	started    float64 // done without asking back, and wrong
}

func measure(e *Ear, sit Situation, set []sentence) (r rates) {
	n := float64(len(set))
	for _, s := range set {
		d := e.Understand(s.text, sit)
		got := d.Names()
		first := slices.Contains(s.want, got[0])
		any := slices.ContainsFunc(got, func(id string) bool { return slices.Contains(s.want, id) })
		r.top1 += share(first, n)
		r.top3 += share(any, n)
		r.answered += share(got[0] != None, n)
		r.started += share(d.Act == Do && !first, n)
	}
	return r
}

func share(is bool, n float64) float64 {
	if is {
		return 1 / n
	}
	return 0
}

// The floors are a little below what was measured, so that a change that makes
// it hear worse is seen; HEARING.md has the figures beside the goals.
func TestRates(t *testing.T) {
	e, sit := ear(t), closed(t)
	for _, c := range []struct {
		name       string
		set        []sentence
		top1, top3 float64
		answered   float64 // at most
	}{
		{"commands", heldSet(t, "commands"), 0.925, 0.975, 1},
		{"guides", heldSet(t, "guides"), 0.925, 0.97, 1},
		{"chatter", heldSet(t, "chatter"), 0.93, 0.93, 0.07},
		{"danger", heldSet(t, "danger"), 0.96, 0.96, 1},
		{"questions dev", topical(questions(t, "dev")), 0.945, 0.985, 1},
		{"questions held", topical(questions(t, "held")), 0.925, 0.975, 1},
	} {
		r := measure(e, sit, c.set)
		t.Logf("%-15s %4d: top-1 %.1f %%, top-3 %.1f %%, answered %.1f %%, wrong thing started %.1f %%", c.name,
			len(c.set), 100*r.top1, 100*r.top3, 100*r.answered, 100*r.started)
		if r.top1 < c.top1 || r.top3 < c.top3 || r.answered > c.answered {
			t.Errorf("%s: it heard better once", c.name)
		}
	}
}

// The voices of these sets are in no phrase, so that this says what it hears of people whose way to talk
// it does not know. Only rates are read of it, at most once a round of learning.
func TestFreshVoices(t *testing.T) {
	e, sit := ear(t), closed(t)
	for _, c := range []struct {
		name       string
		top1, top3 float64
		answered   float64 // at most
	}{{"commands", 0.9, 0.93, 1}, {"guides", 0.915, 0.935, 1}, {"chatter", 0.975, 0.975, 0.025}} {
		set := readSet(t, "fresh", c.name)
		r := measure(e, sit, set)
		t.Logf("%-10s %4d: top-1 %.1f %%, top-3 %.1f %%, answered %.1f %%, wrong thing started %.1f %%", c.name,
			len(set), 100*r.top1, 100*r.top3, 100*r.answered, 100*r.started)
		if r.top1 < c.top1 || r.top3 < c.top3 || r.answered > c.answered {
			t.Errorf("%s: it heard better once", c.name)
		}
	}
	if right, alarms := frightened(t, e, sit, "fresh"); right < 0.94 || alarms > 0.095 {
		t.Error("dangers: it heard better once")
	}
}

// frightened gives which share of the dangers of a folder is told right, and of what is none alarms.
func frightened(t *testing.T, e *Ear, sit Situation, folder string) (right, alarms float64) {
	t.Helper()
	var told, calm ratio
	for _, s := range readSet(t, folder, "danger") {
		d := e.Understand(s.text, sit)
		if s.want[0] == None {
			calm.add(d.Act == Alarm)
		} else {
			told.add(d.Names()[0] == s.want[0])
		}
	}
	t.Logf("dangers %.0f: right %.1f %%; harmless %.0f: alarms %.1f %%", told.all, 100*told.share(), calm.all,
		100*calm.share())
	return told.share(), calm.share()
}

// What was set apart when the latest phrases were written, of other topics: only rates are read of it.
func TestSetApart(t *testing.T) {
	e, sit := ear(t), closed(t)
	r := measure(e, sit, readSet(t, "apart", "chatter"))
	t.Logf("chatter: answered %.1f %%, wrong thing started %.1f %%", 100*r.answered, 100*r.started)
	if r.answered > 0.05 {
		t.Error("chatter: it heard better once")
	}
	if right, alarms := frightened(t, e, sit, "apart"); right < 0.86 || alarms > 0.1 {
		t.Error("dangers: it heard better once")
	}
}

// Seven people whose sentences were written before the latest phrases, and whose misses nobody looked at; and
// seven more, whose misses said where to learn.
func TestJudges(t *testing.T) {
	e, sit := ear(t), closed(t)
	for _, c := range []struct {
		folder           string
		top1, top3, talk float64 // of commands, and of chatter that is answered
		right, alarms    float64
	}{{"judge", 0.95, 0.975, 0.05, 0.935, 0.025}, {"dev", 0.82, 0.92, 0.07, 0.93, 0.02}} {
		commands := measure(e, sit, readSet(t, c.folder, "commands"))
		chatter := measure(e, sit, readSet(t, c.folder, "chatter"))
		t.Logf("%s: commands top-1 %.1f %%, top-3 %.1f %%, wrong thing started %.1f %%; chatter answered %.1f %%, "+
			"wrong thing started %.1f %%", c.folder, 100*commands.top1, 100*commands.top3, 100*commands.started,
			100*chatter.answered, 100*chatter.started)
		right, alarms := frightened(t, e, sit, c.folder)
		if commands.top1 < c.top1 || commands.top3 < c.top3 || chatter.answered > c.talk || right < c.right ||
			alarms > c.alarms {
			t.Errorf("%s: it heard better once", c.folder)
		}
	}
}

// Ten people more, who say all sorts of things. Their misses were looked at once, and kinds of faults mended.
func TestTenVoices(t *testing.T) {
	e, sit := ear(t), closed(t)
	all := readSet(t, "fresh3", "everyday")
	for _, c := range []struct {
		name       string
		is         func(want string) bool
		top1, top3 float64
	}{
		{"commands", func(w string) bool { return strings.HasPrefix(w, commandID) }, 0.82, 0.9},
		{"guides", func(w string) bool { return !strings.Contains(w, ":") && w != None }, 0.94, 0.96},
		{"nothing", func(w string) bool { return w == None }, 0.98, 0.98},
		{"dangers", func(w string) bool { return strings.HasPrefix(w, dangerID) }, 0.95, 0.95},
	} {
		var set []sentence
		for _, s := range all {
			if c.is(s.want[0]) {
				set = append(set, s)
			}
		}
		r := measure(e, sit, set)
		t.Logf("%-10s %4d: top-1 %.1f %%, top-3 %.1f %%, answered %.1f %%, wrong thing started %.1f %%", c.name,
			len(set), 100*r.top1, 100*r.top3, 100*r.answered, 100*r.started)
		if len(set) == 0 || r.top1 < c.top1 || r.top3 < c.top3 {
			t.Errorf("%s: it heard better once", c.name)
		}
	}
}

// Names of shops, streets and people, goods, colours and everyday words of other languages are no dangers;
// where a name is asked for, no name is one.
func TestHarmlessWords(t *testing.T) {
	e, sit := ear(t), closed(t)
	asked := sit
	asked.Naming = true
	alarms, n := 0.0, 0.0
	for _, cut := range linesOf(t, filepath.Join("testdata", "fresh3", "harmless.tsv")) {
		kind, text := cut[0], cut[1]
		if kind == "shop" || kind == "person" || kind == "street" {
			if d := e.Understand(text, asked); d.Act == Alarm {
				t.Errorf("%s %q where a name is asked: %v", kind, text, d.Names())
			}
		}
		n++
		if d := e.Understand(text, sit); d.Act == Alarm {
			alarms++
		}
	}
	t.Logf("%.1f %% of %.0f raise an alarm where nothing is asked", 100*alarms/n, n)
	if n < 180 || alarms/n > 0.06 {
		t.Error("too many")
	}
}

// topical leaves out chatter: some of what was chatter before anything but guides
// was known is asked for now.
func topical(set []sentence) []sentence {
	return slices.DeleteFunc(set, func(s sentence) bool {
		return s.want[0] == None || s.want[0] == "caller" // a present danger here: the set of dangers has its own
	})
}

// What shares words with a danger is none.
func TestNoDanger(t *testing.T) {
	e, sit := ear(t), closed(t)
	alarms := 0.0
	set := heldSet(t, "notdanger")
	for _, s := range set {
		if d := e.Understand(s.text, sit); d.Act == Alarm {
			alarms++
		}
	}
	t.Logf("%.1f %% of %d raise an alarm", 100*alarms/float64(len(set)), len(set))
	if alarms/float64(len(set)) > 0.025 {
		t.Error("too many")
	}
}

// A greeting or an excuse in front changes nothing.
func TestCourtesyChangesNothing(t *testing.T) {
	e, sit := ear(t), closed(t)
	set := heldSet(t, "commands")
	bare := measure(e, sit, set)
	for _, front := range []string{"sorry to bother you, ", "Good morning! "} {
		var polite []sentence
		for _, s := range set {
			s.text = front + s.text
			polite = append(polite, s)
		}
		if r := measure(e, sit, polite); r.top1 < bare.top1-0.015 || r.top3 < bare.top3-0.015 {
			t.Errorf("%q in front: top-1 %.3f instead of %.3f, top-3 %.3f instead of %.3f", front, r.top1, bare.top1,
				r.top3, bare.top3)
		}
	}
}

func TestSlots(t *testing.T) {
	sit := closed(t)
	right, set := 0.0, heldSet(t, "slots")
	for _, s := range set {
		got := fill(strings.TrimPrefix(s.want[0], commandID), s.text, sit).JSON()
		if want := canonical(t, s.slots); got != want {
			t.Logf("%s %q: got %s, want %s", s.want[0], s.text, got, want)
			continue
		}
		right++
	}
	if right/float64(len(set)) < 0.97 {
		t.Errorf("%.0f of %d", right, len(set))
	}
}

func canonical(t testing.TB, s string) string {
	t.Helper()
	var m map[string]any
	if err := json.Unmarshal([]byte(s), &m); err != nil {
		t.Fatal(err)
	}
	out, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// What was learnt is of the phrases as they stand.
func TestLearntIsFresh(t *testing.T) {
	var of learntOf
	plain, err := learn.Unpack(learntFile)
	if err != nil {
		t.Fatal(err)
	}
	head, _, _ := strings.Cut(string(plain), "\n")
	if err := json.Unmarshal([]byte(head), &of); err != nil {
		t.Fatal(err)
	}
	want, err := digest()
	if err != nil {
		t.Fatal(err)
	}
	if of.Files != want {
		t.Error("data/learnt.bin is of other phrases; run go generate in internal/hearing")
	}
}

// Every name has phrases, slots or words only for names there are.
func TestNamesAreKnown(t *testing.T) {
	all, err := phrases.Read()
	if err != nil {
		t.Fatal(err)
	}
	for _, id := range Names {
		at := slices.IndexFunc(all, func(s phrases.Said) bool { return s.ID == id && !s.Guide })
		if at < 0 || len(all[at].Phrases) < 40 {
			t.Errorf("%s has too few phrases", id)
		}
	}
	for id := range slotted {
		if !slices.Contains(Names, id) {
			t.Errorf("%s has slots and is no name", id)
		}
	}
	for _, id := range worded {
		if !slices.Contains(Names, id) {
			t.Errorf("%s has words and is no name", id)
		}
	}
}

func BenchmarkUnderstand(b *testing.B) {
	e, sit := ear(b), closed(b)
	set := heldSet(b, "commands")
	for i := 0; b.Loop(); i++ {
		e.Understand(set[i%len(set)].text, sit)
	}
}

func FuzzUnderstand(f *testing.F) {
	e, sit := ear(f), closed(f)
	for _, s := range []string{"", "hi", "open 40 150 200", "fire!", "\xff", "бомба 炸弹", "24/12/2026-3",
		"half past 99"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d := e.Understand(text, sit)
		if len(d.Readings) > listMax || (d.Act == Ignore) != (len(d.Readings) == 0) {
			t.Errorf("%q: %+v", text, d)
		}
	})
}

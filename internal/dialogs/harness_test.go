package dialogs_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/guides"
	"shopfloat/internal/guides/search"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// floor is a shop floor in memory: people with phones, one machine's books,
// and the engine. It does what a desk does, without a disk.
type floor struct {
	t       testing.TB
	engine  *engine.Engine
	shop    *shop.Shop
	entries []books.Entry
	machine *books.Machine
	states  map[chat.Chat]chat.State
	now     time.Time
	live    map[chat.Chat][]chat.Button // newest first
	out     strings.Builder
	due     []chat.Deadline
	check   func(chat.Reply) // looks at every reply
}

// learnt is the question search over the guides the program comes with; to
// learn takes a quarter of a second, so all tests share it.
var learnt = sync.OnceValues(func() (engine.Guiding, error) {
	lib, err := guides.Builtin()
	if err != nil {
		return engine.Guiding{}, err
	}
	ix, err := search.New(lib.Topics())
	if err != nil {
		return engine.Guiding{}, err
	}
	return engine.Guiding{Library: lib, Find: ix.Search}, nil
})

// spoken is the program's texts, read once: a property test opens many floors.
var spoken = sync.OnceValues(texts.Load)

func guiding(t testing.TB) engine.Guiding {
	t.Helper()
	g, err := learnt()
	if err != nil {
		t.Fatal(err)
	}
	return g
}

var people = map[string]shop.PersonID{"owner": 1, "staff1": 2, "staff2": 3}

func newFloor(t testing.TB) *floor {
	t.Helper()
	cat, err := spoken()
	if err != nil {
		t.Fatal(err)
	}
	s, err := shop.New(1, 1, shop.Example())
	if err != nil {
		t.Fatal(err)
	}
	return &floor{
		t: t, engine: dialogs.New(cat).Guide(guiding(t)), shop: s, machine: books.New(1), states: map[chat.Chat]chat.State{},
		live: map[chat.Chat][]chat.Button{}, now: time.Date(2026, 11, 25, 6, 40, 0, 0, s.Location),
	}
}

func (f *floor) at(clock string) {
	t, err := time.ParseInLocation("2006-01-02 15:04", clock, f.shop.Location)
	if err != nil {
		f.t.Fatal(err)
	}
	f.now = t
}

// says sends a message as somebody and gives what came back to them.
func (f *floor) says(name, text string) string {
	return f.step(name, chat.Input{Kind: chat.Text, Text: text}, name+"> "+text)
}

// taps taps the newest button whose label begins so.
func (f *floor) taps(name, label string) string {
	f.t.Helper()
	for _, b := range f.live[chatOf(name)] {
		if strings.HasPrefix(strings.ToLower(b.Label), strings.ToLower(label)) {
			return f.step(name, chat.Input{Kind: chat.Press, Tap: b.Data}, name+"> ["+b.Label+"]")
		}
	}
	f.t.Fatalf("%s has no button %q:\n%s", name, label, f.out.String())
	return ""
}

func chatOf(name string) chat.Chat { return chat.Chat("term:" + name) }

func (f *floor) facts(name string) chat.Facts {
	facts := chat.Facts{Lang: "en"}
	id, ok := people[name]
	if !ok {
		return facts
	}
	facts.Shop, facts.Machine = f.shop, f.machine
	facts.Ask.Entries = func() []books.Entry { return f.entries }
	facts.Person, _ = f.shop.Person(id)
	site := chat.Site{Shop: f.shop, Person: facts.Person, Machine: f.machine}
	facts.Ask.Sites = func() []chat.Site { return []chat.Site{site} }
	for _, where := range slices.Sorted(maps.Keys(f.states)) {
		st, other := f.states[where], strings.TrimPrefix(string(where), "term:")
		if a, ok := st.Under(where, people[other]); ok && other != name {
			facts.Others = append(facts.Others, a)
			site.Blind = site.Blind || a.Blind
		}
	}
	return facts
}

func (f *floor) step(name string, in chat.Input, line string) string {
	in.Chat, in.At = chatOf(name), f.now
	before := f.frozen(in.Chat)
	res := f.engine.Step(f.states[in.Chat], in, f.facts(name))
	if after := f.frozen(in.Chat); after != before {
		f.t.Fatalf("a step changed what it was given:\n%s\n%s", before, after)
	}
	f.states[in.Chat] = res.State
	if st, ok := f.states[res.TakeOver]; ok && res.TakeOver != "" {
		f.states[res.TakeOver] = chat.State{V: chat.StateFormat, Rev: st.Rev + 1}
	}
	for _, r := range res.Records {
		f.record(people[name], r)
	}
	f.due = append(f.due, res.Deadlines...)
	var back strings.Builder
	fmt.Fprintln(&f.out, line)
	if res.Notice != "" {
		fmt.Fprintln(&back, "bot!> "+res.Notice)
	}
	for _, r := range res.Replies {
		if f.check != nil {
			f.check(r)
		}
		f.show(&back, name, r)
	}
	f.out.WriteString(back.String())
	return back.String()
}

// frozen is what a step is given and must not change: the desk keeps it at hand.
func (f *floor) frozen(where chat.Chat) string {
	data, err := json.Marshal([]any{f.states[where], f.machine})
	if err != nil {
		f.t.Fatal(err)
	}
	return string(data)
}

func (f *floor) record(by shop.PersonID, r books.Record) {
	f.t.Helper()
	if now := books.Ruled(r); !reflect.DeepEqual(r, now) {
		f.t.Fatalf("a record of kind %s is not by the rule of now: %+v\n%s", r.Kind, r, f.out.String())
	}
	e := books.Entry{
		Record:   r,
		Machine:  1,
		Seq:      int64(len(f.entries)) + 1,
		By:       by,
		Settings: 1,
		Recorded: f.now.UTC(),
	}
	f.entries = append(f.entries, e)
	m, err := books.Fold(1, f.entries)
	if err != nil {
		f.t.Fatalf("entry %d: %v\n%s", e.Seq, err, f.out.String())
	}
	f.machine = m
}

func (f *floor) show(b *strings.Builder, name string, r chat.Reply) {
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
		f.live[chatOf(name)] = append(live, f.live[chatOf(name)]...)
	}
}

// play runs lines like "staff1: open 40 150 200", "staff1: [Confirm]", "@2026-11-25 21:05".
func (f *floor) play(script string) string {
	f.t.Helper()
	var last string
	for line := range strings.Lines(script) {
		line = strings.TrimSpace(line)
		if line == "" {
			continue
		}
		if at, ok := strings.CutPrefix(line, "@"); ok {
			f.at(at)
			continue
		}
		name, what, _ := strings.Cut(line, ": ")
		if label, ok := strings.CutPrefix(what, "["); ok {
			last = f.taps(name, strings.TrimSuffix(label, "]"))
		} else {
			last = f.says(name, what)
		}
	}
	return last
}

package dialogs_test

import (
	"cmp"
	"fmt"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"pgregory.net/rapid"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/checks"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// What is booked is what stood on the card that was tapped, figure by figure and
// face, day and person included, and that card was the last one of its chat. The
// reader of cards here knows the words that people see and nothing of the program.

// seen is a card as somebody saw it.
type seen struct {
	text    string
	buttons []chat.Button
	at      time.Time
	machine shop.MachineID // whose books were at hand
	seq     int            // how many records these had
}

// phone is what somebody has on the screen: cards by the key they are edited under.
type phone struct {
	cards map[string]seen
	last  string          // key of the newest card with buttons
	talk  string          // key of the newest one of a dialog; a guide's stands beside it
	from  map[string]seen // by payload: the card a button was printed on
	all   []chat.Button   // every button that was ever there
}

// shown puts a reply on the screen.
func (p *phone) shown(r chat.Reply, f *floor.Floor) {
	var text []string
	if r.Place != "" {
		text = append(text, r.Place)
	}
	for _, b := range r.Body {
		text = append(text, b.Text)
	}
	card := seen{text: strings.Join(text, "\n"), buttons: slices.Concat(r.Buttons...), at: f.Now,
		machine: f.Machine.ID, seq: len(f.Entries)}
	if len(card.buttons) == 0 {
		return
	}
	key := r.Key
	if key == "" {
		key = strconv.Itoa(len(p.all))
	}
	p.cards[key], p.last = card, key
	for _, b := range card.buttons {
		if strings.HasPrefix(b.Data, "d:") {
			p.talk = key
		}
		p.from[b.Data] = card
		p.all = append(p.all, b)
	}
}

// A mutant is a fault of the program as it could be: what it does to an input
// before the program sees it, or to a card before a person does.
type mutant struct {
	name string
	tap  func(f *floor.Floor, name string, b chat.Button) chat.Button
	day  bool // a card of another day is not shown again
	rest bool // a card is taken for one that was just answered
	text bool // of a card that is changed in place only the buttons are delivered
	used bool // a tap books at the machine that was used last
	over bool // a card is taken for one that nobody has overtaken
	card func(string) string
}

// before does to what is kept of a chat what the fault comes from.
func (m mutant) before(f *floor.Floor, name string, used *books.Machine) {
	if st := f.State(name); m.day && st.Draft.Head != "" {
		head, _, _ := strings.Cut(st.Draft.Head, " of ")
		st.Draft.Head, st.Draft.Holds = head+" of "+f.Now.Format("Mon 2 Jan"), chat.Holding{}
		f.States[floor.ChatOf(name)] = st
	}
	if st := f.State(name); m.rest || m.day {
		st.Draft.At = f.Now
		f.States[floor.ChatOf(name)] = st
	}
	if st := f.State(name); m.over && st.Machine == f.Machine.ID {
		st.Draft.Seq = f.Machine.Seq
		f.States[floor.ChatOf(name)] = st
	}
	if m.used {
		atLast(f, name, used)
	}
}

// placeless is a card that does not say where.
func placeless(text string) string {
	for _, place := range []string{"Example corner shop, Cash machine", "Example corner shop, Back machine"} {
		text = strings.NewReplacer(", "+place, "", place+"\n", "").Replace(text)
	}
	return text
}

// atLast turns a dialog to the machine that was booked at last, as if its card had said so.
func atLast(f *floor.Floor, name string, used *books.Machine) {
	st := f.State(name)
	if used == nil || len(f.Shop.Machines) == 1 || st.Draft.Head == "" {
		return
	}
	what, _, _ := strings.Cut(st.Draft.Head, ", ")
	st.Machine, st.Draft.Holds, st.Draft.Seq = used.ID, chat.Holding{}, used.Seq
	st.Draft.Head = what + ", " + f.Shop.Name + ", " + f.Shop.Machine(used.ID).Name
	f.States[floor.ChatOf(name)] = st
}

// alive makes an old button act on the card that is there now.
func alive(f *floor.Floor, name string, b chat.Button) chat.Button {
	if t, ok := chat.ParseTap(b.Data); ok && t.Dialog {
		b.Data = fmt.Sprintf("d:%d:%s", f.State(name).Rev, t.Choice)
	}
	return b
}

// elsewhere lets a person's tap act on the card of the other phone.
func elsewhere(f *floor.Floor, name string, b chat.Button) chat.Button {
	other := map[string]string{"staff1": "staff2", "staff2": "staff1"}[name]
	if st := f.State(other); st.Flow != "" && st.Step == f.State(name).Step {
		f.States[floor.ChatOf(name)] = st
	}
	return alive(f, name, b)
}

// turned exchanges the figures of the first two boxes on a card.
func turned(text string) string {
	m := rows.FindAllStringSubmatchIndex(text, 2)
	if len(m) < 2 {
		return text
	}
	a, b := text[m[0][6]:m[0][7]], text[m[1][6]:m[1][7]]
	return text[:m[0][6]] + b + text[m[0][7]:m[1][6]] + a + text[m[1][7]:]
}

// sentence is what somebody types, with figures of their own; with nothing under way it mostly
// begins something.
func sentence(rt *rapid.T, boxes []shop.Box, idle bool) string {
	n := func(most int) int { return rapid.IntRange(0, most).Draw(rt, "notes") }
	of := func(box, most int) string { return fmt.Sprintf("%ss %d", boxes[box].Face, n(most)) }
	counts := fmt.Sprintf("%d %d %d", n(60), n(180), n(200))
	begins := []string{"open " + counts, "open", "top up " + of(1, 60), "top up", "settle " + counts,
		"close " + counts, "close", "test 1 1 1", "level " + counts, "finish", "status"}
	if idle && rapid.IntRange(0, 4).Draw(rt, "begins") > 0 {
		return rapid.SampledFrom(begins).Draw(rt, "text")
	}
	return rapid.SampledFrom(append(begins, counts, of(2, 40), of(0, 6), strconv.Itoa(n(150)), "it did",
		"none", "cancel", "back")).Draw(rt, "text")
}

// handy are the buttons that lead somewhere, and are tapped more often than others.
var handy = []string{"Confirm", "Book them", "I looked", "All done", "Not looked", "With a device", "Back in",
	"It really is", "It did", "Just now", "Go on",
	"Change", "Leave", "Take over", "More", "No slip", "Skip", "No, none"}

// A move is what somebody does next: they type, or tap the newest button that begins so.
type move struct{ name, text, label string }

// taps is the button somebody taps next: the one that they are to tap, if it is there.
func (m move) taps(rt *rapid.T, p *phone) (b chat.Button, ok bool) {
	if m.label == "" && m.text == "" {
		return chosen(rt, p)
	}
	list := p.cards[p.last].buttons
	if i := button(list, m.label); m.label != "" && i >= 0 {
		return list[i], true
	}
	return b, false
}

// race has one phone record something while the other holds a card that can be confirmed, and
// the other tap it after that: what it was shown with is no longer so.
func race(rt *rapid.T, f *floor.Floor, phones map[string]*phone) []move {
	for i, name := range staff {
		p, other := phones[name], staff[1-i]
		if f.State(name).Flow == "" || f.State(other).Flow != "" || button(p.cards[p.last].buttons, "Confirm") < 0 {
			continue
		}
		if rapid.IntRange(0, 3).Draw(rt, "race") == 0 {
			level := fmt.Sprintf("level %d 70 56", rapid.IntRange(1, 40).Draw(rt, "notes"))
			return []move{{other, level, ""}, {other, "", "Confirm"}, {name, "", "Confirm"}}
		}
	}
	return nil
}

// staff have a phone each.
var staff = []string{"staff1", "staff2"}

// button finds the one that begins so; -1 for none.
func button(list []chat.Button, label string) int {
	return slices.IndexFunc(list, func(b chat.Button) bool { return strings.HasPrefix(b.Label, label) })
}

// play has two people talk with the machine's dialogs side by side, hours between
// them now and then. It gives the first record that is not what its card said.
func play(rt *rapid.T, t *testing.T, m mutant, look func(seen)) string {
	f := floor.With(t, sharedEngine(t))
	used := placed(rt, f)
	f.Trusts = rapid.IntRange(0, 19).Draw(rt, "looked at") > 0
	phones := map[string]*phone{}
	for _, name := range staff {
		phones[name] = &phone{cards: map[string]seen{}, from: map[string]seen{}}
	}
	var log []string
	var next []move
	told := func(why string) string { return why + "\n" + strings.Join(log, "\n") }
	for range rapid.IntRange(8, 40).Draw(rt, "steps") {
		if len(next) == 0 {
			next = race(rt, f, phones)
		}
		does := move{}
		if len(next) > 0 {
			does, next = next[0], next[1:]
		} else {
			does.name = rapid.SampledFrom(staff).Draw(rt, "who")
			minutes := rapid.SampledFrom([]int{0, 0, 1, 1, 5, 25, 200, 840}).Draw(rt, "minutes")
			f.Now = f.Now.Add(time.Duration(minutes) * time.Minute)
		}
		name, p := does.name, phones[does.name]
		in, label, tapped := chat.Input{Kind: chat.Text, Text: does.text}, "", seen{}
		if b, ok := does.taps(rt, p); ok {
			tapped, label = p.from[b.Data], b.Label
			if m.tap != nil {
				b = m.tap(f, name, b)
			}
			in = chat.Input{Kind: chat.Press, Tap: b.Data}
		} else if in.Text == "" {
			in.Text, next = sentence(rt, f.Shop.Machines[0].Boxes, f.State(name).Flow == ""), nil
		}
		m.before(f, name, used)
		last := p.cards[p.talk]
		if strings.HasPrefix(in.Tap, "o:") {
			tapped.at, tapped.machine, tapped.seq = f.Now, f.Machine.ID, len(f.Entries)
			last = tapped // a list stands by itself, for its own day, whatever others record
		}
		if m.card != nil {
			tapped.text, last.text = m.card(tapped.text), m.card(last.text)
		}
		log = append(log, f.Now.Format("Mon 15:04 ")+name+"> "+in.Text+"["+label+"] "+in.Tap)
		res := f.Does(name, in)
		for _, r := range res.Records {
			used = f.Machine
			u := under{dayOf(f, r), placeOf(f), tapped, last, label, f.Now}
			if why := cmp.Or(fault(r, u), overtaken(r, u, f, name, len(res.Records))); why != "" {
				return told(why)
			}
			if by := f.Entries[len(f.Entries)-1].By; by != floor.People[name] {
				return told(fmt.Sprintf("%s is recorded for %d, and %s tapped", r.Kind, by, name))
			}
		}
		for _, r := range res.Replies {
			if r.To != (chat.Audience{}) {
				continue
			}
			for _, b := range r.Body {
				log = append(log, b.Text)
			}
			if why := unvoiced(r); m.name == "" && why != "" && len(r.Body) > 0 {
				return told(fmt.Sprintf("%s: %+v", why, r.Body))
			}
			if lost(rt, r) {
				log = append(log, "(not delivered)")
				continue
			}
			if m.text && r.Edit != "" {
				r.Body = []chat.Block{{Text: p.cards[r.Edit].text}}
			}
			p.shown(r, f)
			look(p.cards[p.last])
		}
	}
	return ""
}

// sharedEngine is made once: it holds only tables.
func sharedEngine(t testing.TB) *engine.Engine {
	once.Do(func() { shared = dialogs.New(floor.Texts(t)).Guide(floor.Guiding(t)) })
	return shared
}

var (
	once   sync.Once
	shared *engine.Engine
)

// lost reports whether a message never arrives: then the phone holds what it held.
func lost(rt *rapid.T, r chat.Reply) bool {
	return len(r.Buttons) > 0 && rapid.IntRange(0, 39).Draw(rt, "lost") == 0
}

// chosen is a button somebody taps: mostly of the newest card, now and then any
// that was ever there.
func chosen(rt *rapid.T, p *phone) (b chat.Button, ok bool) {
	list := p.cards[p.last].buttons
	switch how := rapid.IntRange(0, 9).Draw(rt, "how"); {
	case len(p.all) == 0 || how < 3:
		return b, false
	case how == 3:
		return rapid.SampledFrom(p.all).Draw(rt, "old"), true
	case how < 9:
		asked := func(b chat.Button) bool { return strings.HasPrefix(b.Label, "Example corner shop, ") }
		if slices.ContainsFunc(list, asked) {
			break // at which machine
		}
		for _, want := range handy {
			begins := func(b chat.Button) bool { return strings.HasPrefix(b.Label, want) }
			if i := slices.IndexFunc(list, begins); i >= 0 {
				return list[i], true
			}
		}
	}
	if len(list) == 0 {
		return b, false
	}
	return rapid.SampledFrom(list).Draw(rt, "button"), true
}

// Each record is what stood on the last card of its chat, and every card keeps to
// the limits of how the program talks.
func TestTheRightRecord(t *testing.T) {
	var booked atomic.Int64
	t.Run("plays", func(t *testing.T) {
		cores := runtime.GOMAXPROCS(0) // each plays its share, by seeds of its own
		share := func(n int) int { return (n + cores - 1) / cores }
		for i := range cores {
			t.Run(strconv.Itoa(i), func(t *testing.T) {
				t.Parallel()
				checks.Rapid(t, share(60), share(20_000), share(1_000_000), func(rt *rapid.T) {
					why := play(rt, t, mutant{}, func(s seen) {
						if strings.Contains(s.text, " recorded, ") {
							booked.Add(1)
						}
					})
					if why != "" {
						rt.Fatal(why)
					}
				})
			})
		}
	})
	if booked.Load() == 0 && !testing.Short() { // the dozen plays of a short run may book nothing
		t.Error("nothing was booked in all plays")
	}
}

// The plays find a program that books something else: each fault is caught.
func TestTheRightRecordCatches(t *testing.T) {
	for _, m := range []mutant{
		{name: "an old button alive", tap: alive},
		{name: "a card of another day", day: true},
		{name: "a card that stood for hours", rest: true},
		{name: "the second phone's Confirm", tap: elsewhere},
		{name: "an overtaken Confirm", over: true},
		{name: "wrong box order", card: turned},
		{name: "the machine used last", used: true},
		{name: "a card without its place", card: placeless},
		{name: "an edit dropped by the sender", text: true},
	} {
		t.Run(m.name, func(t *testing.T) {
			caught := ""
			for seed := range checks.Size(t, 2000, 2000, 2000) {
				gen := rapid.Custom(func(rt *rapid.T) string { return play(rt, t, m, func(seen) {}) })
				if caught = gen.Example(seed); caught != "" {
					first, _, _ := strings.Cut(caught, "\n")
					t.Logf("caught in play %d: %s", seed+1, first)
					return
				}
			}
			t.Error("not caught")
		})
	}
}

package dialogs_test

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
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
func (p *phone) shown(r chat.Reply) {
	var text []string
	if r.Place != "" {
		text = append(text, r.Place)
	}
	for _, b := range r.Body {
		text = append(text, b.Text)
	}
	card := seen{text: strings.Join(text, "\n"), buttons: slices.Concat(r.Buttons...)}
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

// rows are the lines of a card about a box: top 50s 40 notes.
var rows = regexp.MustCompile(`(?m)^(top|middle|bottom) +(\d+)s +([\d,]+) notes?`)

// lots are notes of a kind in running words: 28 x 50s.
var lots = regexp.MustCompile(`([\d,]+) x (\d+)s`)

// heads are the first lines of cards that book, by the kind of record.
var heads = map[books.Kind]string{books.Opening: "Opening", books.TopUp: "Top-up", books.Count: "Closing",
	books.Settlement: "Closing", books.Close: "Closing", books.Found: "Found notes",
	books.Level: "Level check", books.Test: "Test payout"}

// boxed is where notes lie, and what they are.
type boxed struct {
	box  int
	face string
}

func number(s string) int64 {
	n, err := strconv.ParseInt(strings.ReplaceAll(s, ",", ""), 10, 64)
	if err != nil {
		panic(err) // the expression above finds digits
	}
	return n
}

// inBoxes reads the boxes of a card.
func inBoxes(text string) map[boxed]int64 {
	at := map[string]int{"top": 1, "middle": 2, "bottom": 3}
	n := map[boxed]int64{}
	for _, m := range rows.FindAllStringSubmatch(text, -1) {
		n[boxed{at[m[1]], m[2]}] = number(m[3])
	}
	return n
}

// kinds reads notes of kinds behind a word of a card.
func kinds(text, after string) books.Notes {
	n := books.Notes{}
	_, rest, found := strings.Cut(text, after)
	if !found {
		return n
	}
	line, _, _ := strings.Cut(rest, "\n")
	if sum := strings.IndexAny(line, "€¥"); sum >= 0 {
		line = line[:sum]
	}
	for _, m := range lots.FindAllStringSubmatch(line, -1) {
		n.Plus(cashmath.Face(m[2]), number(m[1]))
	}
	return n
}

// tried words the notes of a test payout as a list does: of each of three boxes, 0 for an empty one.
func tried(r books.Record) string {
	var n [3]int64
	for _, f := range r.Figures {
		if f.Box >= 1 && f.Box <= len(n) {
			n[f.Box-1] += f.Notes
		}
	}
	return fmt.Sprintf("%d-%d-%d", n[0], n[1], n[2])
}

// under is what a record was booked under, and where.
type under struct {
	day          time.Time
	place        string // of the machine, where there are several
	tapped, last seen
	label        string
}

// apart gives a card without the place that it names in a line before all others, or at
// the end of its first one.
func apart(text, place string) (string, bool) {
	first, rest, _ := strings.Cut(text, "\n")
	switch {
	case place == "":
		return text, true
	case first == place:
		return rest, true
	}
	what, named := strings.CutSuffix(first, ", "+place)
	return what + "\n" + rest, named
}

// fault compares a record with the card under which it was booked; empty: it is the same.
func fault(r books.Record, u under) string {
	head, ok := heads[r.Kind]
	if !ok {
		return ""
	}
	day, tapped, last, label, named := u.day, u.tapped, u.last, u.label, [2]bool{}
	tapped.text, named[0] = apart(tapped.text, u.place)
	last.text, named[1] = apart(last.text, u.place)
	if !named[0] || !named[1] {
		return fmt.Sprintf("%s booked at %s under %q", r.Kind, u.place, u.last.text)
	}
	text := last.text
	if r.Kind == books.Test && label == "All done" { // the list that is tapped says that it books one
		if !strings.HasPrefix(tapped.text, "Opening of "+day.Format("Mon 2 Jan")) ||
			!strings.Contains(tapped.text, "Test payout "+tried(r)+", ") {
			return "a test payout that no list showed"
		}
		return ""
	}
	want := head + " of " + day.Format("Mon 2 Jan")
	if r.Has(books.Early) {
		// what was left inside stands in a part of the opening's card, under the day of its period; its own
		// may be that day or the next, by the hour, and is not compared
		want = head + " of "
		_, rest, _ := strings.Cut(last.text, "Left inside from ")
		text, _, _ = strings.Cut("Closing of "+rest, "What goes in now:")
	}
	first, _, _ := strings.Cut(text, "\n")
	if !strings.HasPrefix(first, want) && (r.Kind != books.Settlement ||
		!strings.HasPrefix(first, "Printed figures of "+r.Day.Time().Format("Mon 2 Jan"))) {
		return fmt.Sprintf("%s booked under %q, want %q", r.Kind, first, want)
	}
	if tapped.text != last.text {
		return fmt.Sprintf("%s booked by a button of another card than the last", r.Kind)
	}
	figures := func(field books.Field) map[boxed]int64 {
		n := map[boxed]int64{}
		for _, f := range r.Figures {
			if f.Field == field {
				n[boxed{f.Box, string(f.Face)}] += f.Notes
			}
		}
		return n
	}
	differs := func(what string, booked, card any, same bool) string {
		if same {
			return ""
		}
		return fmt.Sprintf("%s: %s booked %v, the card says %v", r.Kind, what, booked, card)
	}
	switch card := inBoxes(text); r.Kind {
	case books.Opening:
		return differs("boxes", figures(books.Loaded), card, maps.Equal(figures(books.Loaded), card))
	case books.TopUp:
		if r.Has(books.Uncounted) != strings.HasPrefix(label, "Book them: sealed") {
			return "sealed bundles are told as counted, or counted notes as sealed"
		}
		return differs("boxes", figures(books.Added), card, maps.Equal(figures(books.Added), card))
	case books.Count:
		tray, booked := kinds(text, "Box for refused notes:"), books.NotesIn(r.Figures, books.Refused)
		left := figures(books.Remaining)
		if f := differs("boxes", left, card, maps.Equal(left, card)); f != "" {
			return f
		}
		if r.Has(books.Early) {
			return "" // its box for refused notes was asked on a card before
		}
		unseen := label == "Not looked" || strings.Contains(text, "Box for refused notes: not counted")
		if unseen != r.Has(books.NoTray) {
			return "a box that was not looked into counts as empty, or the other way round"
		}
		return differs("refused", booked, tray, maps.Equal(booked, tray))
	case books.Settlement:
		paid, back := slipOf(last.text, r.Day.Time().Format("Mon 2 Jan"))
		out, gone := books.NotesIn(r.Figures, books.PaidOut), books.NotesIn(r.Figures, books.Cancelled)
		return differs("slip", []books.Notes{out, gone}, []books.Notes{paid, back},
			maps.Equal(out, paid) && maps.Equal(gone, back))
	}
	return ""
}

// figures of a slip, a line each: paid out  50s  28 notes.
var figures = regexp.MustCompile(`(?m)^(paid out|cancelled) +(\d+)s +([\d,]+) notes?`)

// slipOf reads a slip that is told under a day: in a line of a closing's card, where
// its day is that of the first line or said, or as the card of its own.
func slipOf(text, day string) (paid, back books.Notes) {
	first, _, _ := strings.Cut(text, "\n")
	switch {
	case first == "Printed figures of "+day:
		paid, back = books.Notes{}, books.Notes{}
		of := map[string]*books.Notes{"paid out": &paid, "cancelled": &back}
		for _, m := range figures.FindAllStringSubmatch(text, -1) {
			of[m[1]].Plus(cashmath.Face(m[2]), number(m[3]))
		}
	case first == "Closing of "+day:
		paid, back = kinds(text, "Slip, paid out:"), kinds(text, "Cancelled:")
	default:
		paid, back = kinds(text, "Slip of "+day+", paid out:"), kinds(text, "Cancelled:")
	}
	return paid, back
}

// dayOf is the day of trading that the first line of a record's card is to name: the
// one it carries, that of its period, or the day on which it happened. A slip's day
// may stand further down, see [slipOf].
func dayOf(f *floor.Floor, r books.Record) time.Time {
	p := f.Machine.Period(r.Period)
	switch {
	case r.Day != "" && r.Kind != books.Settlement:
		return r.Day.Time()
	case !slices.Contains([]books.Kind{books.TopUp, books.Found, books.Level}, r.Kind) && p != nil:
		return p.Date.Time()
	}
	return r.Happened.In(f.Shop.Location)
}

// placeOf is the machine that a record is booked at as its card is to name it, where the
// shop has several.
func placeOf(f *floor.Floor) string {
	if len(f.Shop.Machines) == 1 {
		return ""
	}
	return f.Shop.Name + ", " + f.Shop.Machine(f.Machine.ID).Name
}

// A mutant is a fault of the program as it could be: what it does to an input
// before the program sees it, or to a card before a person does.
type mutant struct {
	name string
	tap  func(f *floor.Floor, name string, b chat.Button) chat.Button
	day  bool // a card of another day is not shown again
	text bool // of a card that is changed in place only the buttons are delivered
	used bool // a tap books at the machine that was used last
	card func(string) string
}

// floors are the shops that are played in: of one machine and of two, whose second has its
// notes in the other order, in euros and in yen.
var floors = sync.OnceValues(func() (list [4]*shop.Shop, err error) {
	for i := range list {
		s := shop.Example()
		if i >= 2 {
			s.Country, s.Currency, s.Zone = "JP", "JPY", "Asia/Tokyo"
			s.Limit, s.Bundles, s.Tolerance = decimal.Zero, nil, nil
			for at, face := range []cashmath.Face{"10000", "5000", "1000"} {
				s.Machines[0].Boxes[at].Face = face
			}
		}
		if i%2 == 1 {
			back := s.Machines[0]
			back.ID, back.Name, back.Boxes = 2, "Back machine", slices.Clone(back.Boxes)
			boxes := back.Boxes
			boxes[0].Face, boxes[2].Face = boxes[2].Face, boxes[0].Face
			s.Machines = append(s.Machines, back)
		}
		if list[i], err = shop.New(1, 1, s); err != nil {
			return list, err
		}
	}
	return list, nil
})

// placed puts a floor into one of them; of two machines the owner may have opened one, which
// is given.
func placed(rt *rapid.T, f *floor.Floor) (opened *books.Machine) {
	f.T.Helper()
	shops, err := floors()
	if err != nil {
		f.T.Fatal(err)
	}
	s := shops[rapid.SampledFrom([]int{0, 0, 1, 1, 2, 3}).Draw(rt, "shop")]
	f.Takes(s)
	if len(s.Machines) == 1 || rapid.IntRange(0, 3).Draw(rt, "opened before") == 0 {
		return nil
	}
	m := rapid.SampledFrom(s.Machines).Draw(rt, "opened")
	f.Says("owner", "open 40 150 200")
	f.Taps("owner", s.Name+", "+m.Name)
	f.Taps("owner", "Confirm")
	return f.Machine
}

// placeless is a card that does not say where.
func placeless(text string) string {
	return strings.NewReplacer(", Example corner shop, Cash machine", "", "Example corner shop, Cash machine\n", "",
		", Example corner shop, Back machine", "", "Example corner shop, Back machine\n", "").Replace(text)
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

// sentence is what somebody types, with figures of their own.
func sentence(rt *rapid.T, boxes []shop.Box) string {
	n := func(most int) int { return rapid.IntRange(0, most).Draw(rt, "notes") }
	of := func(box, most int) string { return fmt.Sprintf("%ss %d", boxes[box].Face, n(most)) }
	counts := fmt.Sprintf("%d %d %d", n(60), n(180), n(200))
	return rapid.SampledFrom([]string{"open " + counts, "open", counts, "top up " + of(1, 60),
		"top up", of(2, 40), "it did", "settle " + counts, "close " + counts, "close",
		strconv.Itoa(n(150)), "none", "cancel",
		of(0, 6), "test 1 1 1", "level " + counts, "status", "back", "finish"}).Draw(rt, "text")
}

// handy are the buttons that lead somewhere, and are tapped more often than others.
var handy = []string{"Confirm", "Book them", "I looked", "All done", "Not looked", "With a device", "Back in",
	"It really is", "It did", "Go on",
	"Change", "Leave", "Take over", "More", "No slip", "Skip", "No, none"}

// play has two people talk with the machine's dialogs side by side, hours between
// them now and then. It gives the first record that is not what its card said.
func play(rt *rapid.T, t *testing.T, m mutant, look func(seen)) string {
	f := floor.With(t, sharedEngine(t))
	used := placed(rt, f)
	f.Trusts = rapid.IntRange(0, 19).Draw(rt, "looked at") > 0
	phones := map[string]*phone{}
	for _, name := range []string{"staff1", "staff2"} {
		phones[name] = &phone{cards: map[string]seen{}, from: map[string]seen{}}
	}
	log := ""
	for range rapid.IntRange(8, 40).Draw(rt, "steps") {
		name := rapid.SampledFrom([]string{"staff1", "staff2"}).Draw(rt, "who")
		p := phones[name]
		minutes := rapid.SampledFrom([]int{0, 0, 1, 1, 5, 25, 200, 840}).Draw(rt, "minutes")
		f.Now = f.Now.Add(time.Duration(minutes) * time.Minute)
		in, label, tapped := chat.Input{Kind: chat.Text}, "", seen{}
		if b, ok := chosen(rt, p); ok {
			tapped, label = p.from[b.Data], b.Label
			if m.tap != nil {
				b = m.tap(f, name, b)
			}
			in = chat.Input{Kind: chat.Press, Tap: b.Data}
		} else {
			in.Text = sentence(rt, f.Shop.Machines[0].Boxes)
		}
		if st := f.State(name); m.day && st.Draft.Head != "" {
			head, _, _ := strings.Cut(st.Draft.Head, " of ")
			st.Draft.Head, st.Draft.Holds = head+" of "+f.Now.Format("Mon 2 Jan"), chat.Holding{}
			f.States[floor.ChatOf(name)] = st
		}
		if m.used {
			atLast(f, name, used)
		}
		last := p.cards[p.talk]
		if strings.HasPrefix(in.Tap, "o:") {
			last = tapped // a list stands by itself
		}
		if m.card != nil {
			tapped.text, last.text = m.card(tapped.text), m.card(last.text)
		}
		log += fmt.Sprintf("%s %s> %s[%s] %s\n", f.Now.Format("Mon 15:04"), name, in.Text, label, in.Tap)
		res := f.Does(name, in)
		for _, r := range res.Records {
			used = f.Machine
			if why := fault(r, under{dayOf(f, r), placeOf(f), tapped, last, label}); why != "" {
				return why + "\n" + log
			}
			if by := f.Entries[len(f.Entries)-1].By; by != floor.People[name] {
				return fmt.Sprintf("%s is recorded for %d, and %s tapped\n%s", r.Kind, by, name, log)
			}
		}
		for _, r := range res.Replies {
			if r.To == (chat.Audience{}) {
				if why := unvoiced(r); m.name == "" && why != "" && len(r.Body) > 0 {
					return why + "\n" + log
				}
				for _, b := range r.Body {
					log += "      " + b.Text + "\n"
				}
				if lost(rt, r) {
					log += "      (not delivered)\n"
					continue
				}
				if m.text && r.Edit != "" {
					r.Body = []chat.Block{{Text: p.cards[r.Edit].text}}
				}
				p.shown(r)
				look(p.cards[p.last])
			}
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
	booked := 0
	checks.Rapid(t, 60, 20_000, 1_000_000, func(rt *rapid.T) {
		why := play(rt, t, mutant{}, func(s seen) {
			if strings.Contains(s.text, " recorded, ") {
				booked++
			}
		})
		if why != "" {
			rt.Fatal(why)
		}
	})
	if booked == 0 && !testing.Short() { // the dozen plays of a short run may book nothing
		t.Error("nothing was booked in all plays")
	}
}

// The plays find a program that books something else: each fault is caught.
func TestTheRightRecordCatches(t *testing.T) {
	for _, m := range []mutant{
		{name: "an old button alive", tap: alive},
		{name: "a card of another day", day: true},
		{name: "the second phone's Confirm", tap: elsewhere},
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

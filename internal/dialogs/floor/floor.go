// Package floor is a shop floor in memory, for tests of dialogs: three people with phones, the books of one
// machine, and an engine that answers them. It does what a desk does, without a disk. Only tests import it.
package floor

import (
	"encoding/json"
	"maps"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/abacus"
	"shopfloat/internal/advice"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	_ "shopfloat/internal/checks" // garbage is collected seldom
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dues"
	"shopfloat/internal/guides"
	"shopfloat/internal/guides/search"
	"shopfloat/internal/hearing"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// Floor is the shop floor. Its fields may be changed between steps.
type Floor struct {
	T       testing.TB
	Engine  *engine.Engine
	Shop    *shop.Shop
	Entries []books.Entry // the machine's ledger, oldest first
	Machine *books.Machine
	States  map[chat.Chat]chat.State
	Now     time.Time
	Live    map[chat.Chat][]chat.Button // all buttons each chat was ever sent, newest first
	Out     strings.Builder             // all that was said so far
	Due     []chat.Deadline             // all that was asked for so far
	Last    chat.Result                 // of the newest step
	Check   func(chat.Reply)            // looks at every reply; nil: nobody does
	Told    map[string][]chat.Told      // who was sent messages of a name, as the desk would tell
	Knows   func(*chat.Facts)           // changes what every step is told; nil: nothing
	Trusts  bool                        // steps are not looked at for changes of what they were given
	Long    bool                        // months are played, see [Floor.looks]

	card   map[chat.Chat][]chat.Button // of the newest message
	steps  int
	beside []ledger // of the machines that are not at hand
}

// looks reports whether it is looked whether the next step changes what it is given: where
// months are played only now and then, since that costs more than the step.
func (f *Floor) looks() bool {
	f.steps++
	return !f.Long || f.steps%16 == 0
}

// guiding is the guides the program comes with, read once, as all tests share them. The search over them is
// left until somebody asks.
var guiding = sync.OnceValues(func() (engine.Guiding, error) {
	lib, err := guides.Builtin()
	if err != nil {
		return engine.Guiding{}, err
	}
	learnt := sync.OnceValues(func() (*search.Index, error) { return search.New(lib.Topics()) })
	ear := sync.OnceValues(func() (*hearing.Ear, error) {
		ix, err := learnt()
		if err != nil {
			return nil, err
		}
		catalogue, err := spoken()
		if err != nil {
			return nil, err
		}
		return hearing.New(ix, hearing.WordsOf(catalogue.In("en", "", "").List))
	})
	return engine.Guiding{Library: lib, Find: func(text string) search.Answer {
		ix, err := learnt()
		if err != nil {
			panic(err) // the built-in guides are at fault, and no test can go on
		}
		return ix.Search(text)
	}, Ear: func() *hearing.Ear {
		e, err := ear()
		if err != nil {
			panic(err) // likewise
		}
		return e
	}}, nil
})

// spoken is the program's texts, read once: a property test opens many floors.
var spoken = sync.OnceValues(texts.Load)

// Guiding gives the guides the program comes with.
func Guiding(t testing.TB) engine.Guiding {
	t.Helper()
	g, err := guiding()
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// Texts gives the program's texts.
func Texts(t testing.TB) *texts.Catalogue {
	t.Helper()
	catalogue, err := spoken()
	if err != nil {
		t.Fatal(err)
	}
	return catalogue
}

// People are who has a phone there, by the names that scripts use: an owner and two of the staff.
var People = map[string]shop.PersonID{"owner": 1, "staff1": 2, "staff2": 3}

// New opens a floor at the example shop, on Wednesday 25 November 2026 at 06:40,
// with the engine that rooms make.
func New(t testing.TB, rooms func(*texts.Catalogue) *engine.Engine) *Floor {
	t.Helper()
	return With(t, rooms(Texts(t)).Guide(Guiding(t)))
}

// With is a floor as of [New] with an engine that others may share: it holds only tables.
func With(t testing.TB, e *engine.Engine) *Floor {
	t.Helper()
	s, err := shop.New(1, 1, shop.Example())
	if err != nil {
		t.Fatal(err)
	}
	return &Floor{
		T: t, Engine: e, Shop: s, Machine: books.New(1),
		States: map[chat.Chat]chat.State{}, Live: map[chat.Chat][]chat.Button{},
		card: map[chat.Chat][]chat.Button{},
		Now:  time.Date(2026, 11, 25, 6, 40, 0, 0, s.Location),
	}
}

// Abroad is a floor as of [New] in a shop of another country and currency, whose
// three boxes hold the faces from the top. It has no limit and no tolerance.
func Abroad(
	t testing.TB, rooms func(*texts.Catalogue) *engine.Engine, country, currency, zone string,
	faces ...cashmath.Face,
) *Floor {
	t.Helper()
	s := shop.Example()
	s.Country, s.Currency, s.Zone = country, currency, zone
	s.Limit, s.Bundles, s.Tolerance = decimal.Zero, nil, nil
	s.Machines = slices.Clone(s.Machines)
	s.Machines[0].Boxes = slices.Clone(s.Machines[0].Boxes)
	for i, face := range faces {
		s.Machines[0].Boxes[i].Face = face
	}
	made, err := shop.New(1, 1, s)
	if err != nil {
		t.Fatal(err)
	}
	f := New(t, rooms)
	f.Shop = made
	return f
}

// At puts the clock to a local time like "2026-11-25 21:05".
func (f *Floor) At(clock string) {
	f.T.Helper()
	t, err := time.ParseInLocation("2006-01-02 15:04", clock, f.Shop.Location)
	if err != nil {
		f.T.Fatal(err)
	}
	f.Now = t
}

// ChatOf is somebody's chat.
func ChatOf(name string) chat.Chat { return chat.Chat("term:" + name) }

// State is what is remembered of somebody's chat.
func (f *Floor) State(name string) chat.State { return f.States[ChatOf(name)] }

// Facts are what a step about somebody's input is told.
func (f *Floor) Facts(name string) chat.Facts {
	facts := chat.Facts{Lang: "en"}
	if id, ok := People[name]; ok {
		f.known(name, id, &facts)
	}
	if f.Knows != nil {
		f.Knows(&facts)
	}
	return facts
}

// known fills in what a step is told about somebody of the shop.
func (f *Floor) known(name string, id shop.PersonID, facts *chat.Facts) {
	facts.Shop, facts.Machine = f.Shop, f.Machine
	facts.Ask.Told = func(key string) []chat.Told { return f.Told[key] }
	facts.Ask.Entries = func() []books.Entry { return f.Entries }
	facts.Ask.Claims = func(w dues.Wanted) []books.Claim { return w.Among(f.Machine.Claims) }
	facts.Ask.Since = func(seq int64) []books.Entry { return abacus.From(f.Entries, seq) }
	facts.Ask.Estates = func(shop.PersonID) []chat.Estate { return []chat.Estate{f.estate()} }
	facts.Person, _ = f.Shop.Person(id)
	facts.Ask.Sites = func() []chat.Site { return f.sites(name, facts.Person) }
	for _, where := range slices.Sorted(maps.Keys(f.States)) {
		st, other := f.States[where], strings.TrimPrefix(string(where), "term:")
		if a, ok := st.Under(where, People[other]); ok && other != name && f.about(a, f.Machine) {
			facts.Others = append(facts.Others, a)
		}
	}
}

// estate is the machine as a letter of the week tells of it.
func (f *Floor) estate() chat.Estate {
	past := func() (list []books.Entry) {
		for _, e := range f.Entries {
			if !e.Recorded.Before(f.Now.Add(-chat.PastReach)) {
				list = append(list, e)
			}
		}
		return list
	}
	return chat.Estate{Shop: f.Shop, Machine: f.Machine, Past: past, Check: "kept",
		Learned: func() (advice.State, error) { return advice.Learned(f.Machine.ID, f.Entries) }}
}

// Does takes an input of somebody, books what it leads to, and gives the result.
// It fails the test when the step changed what it was given.
func (f *Floor) Does(name string, in chat.Input) chat.Result {
	f.T.Helper()
	in.Chat, in.At = ChatOf(name), f.Now
	f.meant(in)
	looks, before := f.looks(), ""
	if looks {
		before = f.frozen(in.Chat)
	}
	res := f.Engine.Step(f.States[in.Chat], in, f.Facts(name))
	if looks {
		if after := f.frozen(in.Chat); after != before {
			f.T.Fatalf("a step changed what it was given:\n%s\n%s", before, after)
		}
	}
	f.States[in.Chat], f.Last = res.State, res
	if st, ok := f.States[res.TakeOver]; ok && res.TakeOver != "" {
		f.States[res.TakeOver] = chat.State{V: chat.StateFormat, Rev: st.Rev + 1}
	}
	for _, r := range res.Records {
		f.Record(People[name], r)
	}
	f.Due = append(f.Due, res.Deadlines...)
	return res
}

// frozen is what a step is given and must not change: the desk keeps it at hand.
func (f *Floor) frozen(where chat.Chat) string {
	if f.Trusts {
		return ""
	}
	data, err := json.Marshal([]any{f.States[where], f.Machine})
	if err != nil {
		f.T.Fatal(err)
	}
	return string(data)
}

// LayDown puts the settings of the newest step in force; who or what is new there is numbered on.
func (f *Floor) LayDown() {
	f.T.Helper()
	if f.Last.Settings == nil {
		f.T.Fatalf("nothing is laid down:\n%s", f.Out.String())
	}
	next := *f.Last.Settings
	next.People, next.Machines = slices.Clone(next.People), slices.Clone(next.Machines)
	for i := range next.People {
		if p := &next.People[i]; p.ID == 0 {
			p.ID = shop.PersonID(100 + i)
		}
	}
	for i := range next.Machines {
		if m := &next.Machines[i]; m.ID == 0 {
			m.ID = shop.MachineID(i + 1)
		}
	}
	s, err := shop.New(f.Shop.ID, f.Shop.Version+1, next)
	if err != nil {
		f.T.Fatal(err)
	}
	f.Shop = s
}

// Record books a record of somebody.
func (f *Floor) Record(by shop.PersonID, r books.Record) {
	f.T.Helper()
	if now := books.Ruled(r); !reflect.DeepEqual(r, now) {
		f.T.Fatalf("a record of kind %s is not by the rule of now: %+v\n%s", r.Kind, r, f.Out.String())
	}
	e := books.Entry{
		Record:   r,
		Machine:  f.Machine.ID,
		Seq:      int64(len(f.Entries)) + 1,
		By:       by,
		Settings: 1,
		Recorded: f.Now.UTC(),
	}
	f.Entries = append(f.Entries, e)
	m, err := f.booked(e)
	if err != nil {
		f.T.Fatalf("entry %d: %v\n%s", e.Seq, err, f.Out.String())
	}
	f.Machine = m
}

// booked gives the books with the newest entry: folded anew, or led on where months are
// played and it is about no other.
func (f *Floor) booked(e books.Entry) (*books.Machine, error) {
	if !f.Long || e.Kind == books.Undo || e.Kind == books.Correction {
		return books.Fold(f.Machine.ID, f.Entries)
	}
	m := f.Machine.Clone()
	_, err := m.Post(e)
	return m, err
}

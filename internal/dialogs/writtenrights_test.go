package dialogs_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// writtenTable is who may do what, written out: the roles, and whether it can
// be done on the phone on the counter, before the shop is set up, and while it is
// open which of two phones is the speaker's. The declarations must say the same.
const writtenTable = `
	open         owner manager staff              shared disputed
	topup        owner manager staff              shared disputed
	swap         owner manager staff              shared disputed
	move         owner manager staff              shared disputed
	level        owner manager staff              shared disputed
	count-now    owner manager staff              shared disputed
	spot         owner manager staff              shared disputed
	second       owner manager staff              shared disputed
	test         owner manager staff              shared disputed
	found        owner manager staff              shared disputed
	close        owner manager staff              shared disputed
	finish       owner manager staff              shared disputed
	settle       owner manager staff              shared disputed
	printed      owner manager staff              shared disputed
	earlier      owner manager staff              shared disputed
	different    owner manager staff              shared disputed
	ticks        owner manager staff              shared disputed
	undo         owner manager staff              shared disputed
	busy         owner manager staff              shared disputed
	renewed      owner manager staff bookkeeper   shared fresh disputed
	witness      owner manager staff              shared disputed
	go-on        owner manager staff              shared disputed
	closed       owner manager staff              shared disputed
	closing-at   owner manager staff              shared disputed
	opening-at   owner manager staff              shared disputed
	usual        owner manager staff              shared disputed
	ill          owner manager staff              shared disputed
	nobody       owner manager staff              shared disputed
	duty         owner manager staff              shared disputed
	shift        owner manager staff              shared disputed
	start        owner manager staff              shared disputed
	later        owner manager staff              shared disputed
	mute         owner manager staff              shared disputed
	gone         owner manager staff              shared disputed
	rarer        owner manager staff              shared disputed
	away         owner manager staff              shared disputed
	hold         owner manager staff              shared disputed
	lift         owner manager                    shared
	feast        owner manager                    shared
	say          owner manager                    shared
	agenda       owner manager staff bookkeeper   shared disputed
	all          owner manager staff bookkeeper   disputed
	hours        owner manager staff bookkeeper   shared disputed
	reminders    owner manager staff bookkeeper   shared disputed
	status       owner manager staff bookkeeper   shared disputed
	history      owner manager staff bookkeeper   shared disputed
	help         owner manager staff bookkeeper   shared disputed
	show-me      owner manager staff bookkeeper   shared disputed
	cancel       owner manager staff bookkeeper   shared fresh disputed
	switch       owner manager staff bookkeeper   fresh disputed
	my-code      owner manager staff bookkeeper   fresh
	missed       owner manager
	guides       owner manager staff bookkeeper   shared disputed
	guide        owner manager staff bookkeeper   shared disputed
	fault        owner manager staff bookkeeper   shared disputed
	faults       owner manager staff bookkeeper   shared disputed
	reference    owner manager staff bookkeeper   shared disputed
	contacts     owner manager staff bookkeeper   shared disputed
	numbers      owner manager                    shared
	visit        owner manager staff              shared disputed
	credit       owner manager bookkeeper         shared
	debit        owner manager bookkeeper         shared
	match        owner manager bookkeeper         shared
	write-off    owner                            shared
	bank-reference owner manager bookkeeper shared
	split        owner manager bookkeeper         shared
	statement    owner manager bookkeeper
	finish-month owner manager bookkeeper
	owed         owner manager bookkeeper         shared
	day          owner manager bookkeeper         shared
	month        owner manager bookkeeper         shared
	float        owner manager bookkeeper         shared
	export       owner manager bookkeeper         shared
	backup       owner manager                    shared
	bank         owner manager bookkeeper         shared
	correct      owner manager                    shared
	load         owner manager staff              shared disputed
	cash-plan    owner manager                    shared
	backtest     owner                            shared
	leaks        owner                            shared
	picture      owner manager                    shared
	settings     owner manager
	people       owner manager
	invite       owner manager
	lost-phone   owner manager
	overview     owner manager
	leaver       owner manager
	decide       owner
	setup        owner                            fresh
	new-shop     owner                            fresh
`

func writtenRights() map[string][]string {
	table := map[string][]string{}
	for line := range strings.Lines(writtenTable) {
		if words := strings.Fields(line); len(words) > 0 {
			table[words[0]] = words[1:]
		}
	}
	return table
}

// state is what may hold when somebody wants to do something.
type state struct{ shared, fresh, disputed bool }

// states are all of them.
func states() (list []state) {
	for n := range 8 {
		list = append(list, state{shared: n&1 != 0, fresh: n&2 != 0, disputed: n&4 != 0})
	}
	return list
}

// Every action, for every role and for somebody of none, in every state: on one's
// own phone and on the one on the counter, before and after the shop is set up, with
// a phone that is one's own and with one of which that is open.
func TestRights(t *testing.T) {
	e, table := theEngine(t), writtenRights()
	roles := append(shop.Roles(), "guest", "")
	asked := 0
	for _, action := range append(e.Actions(), "no such thing", "") {
		says := table[action]
		if len(says) == 0 && action != "no such thing" && action != "" {
			t.Errorf("%s: nobody has written down who may", action)
		}
		delete(table, action)
		for _, role := range roles {
			for _, st := range states() {
				want := role != "" && slices.Contains(says, string(role)) &&
					(!st.shared || slices.Contains(says, "shared")) && (!st.fresh || slices.Contains(says, "fresh")) &&
					(!st.disputed || slices.Contains(says, "disputed"))
				if got := mayNow(e, action, role, st); got != want {
					t.Errorf("%s, %q, %+v: may %t", action, role, st, got)
				}
				asked++
			}
		}
	}
	for action := range table {
		t.Errorf("%s is written down, and nothing that can be done", action)
	}
	if want := 8 * len(roles) * (len(e.Actions()) + 2); asked != want || len(e.Actions()) < 70 {
		t.Fatalf("asked %d, want %d of %d actions", asked, want, len(e.Actions()))
	}
}

func mayNow(e *engine.Engine, action string, role shop.Role, st state) bool {
	s := &shop.Shop{Settings: shop.Settings{Fresh: st.fresh}}
	c := &engine.Talk{E: e, Teller: &telling.Teller{
		F: chat.Facts{Shop: s, Shared: st.shared, Person: shop.Person{Role: role, Disputed: st.disputed}}}}
	return c.May(action)
}

// What has one name has the same rights, whether it is a dialog, its command or
// its card: a tap and a typed word are asked for one name.
func TestOneNameOneRight(t *testing.T) {
	e := theEngine(t)
	for _, f := range e.Listed {
		if f.Rights != e.RightsOf(f.Name) {
			t.Errorf("dialog %s: %v and %v", f.Name, f.Rights, e.RightsOf(f.Name))
		}
	}
	for _, cmd := range e.Commands() {
		if cmd.Rights != e.RightsOf(cmd.Name) {
			t.Errorf("command %s: %v and %v", cmd.Name, cmd.Rights, e.RightsOf(cmd.Name))
		}
	}
	for _, s := range e.Cards() {
		if s.Rights != e.RightsOf(s.Name) {
			t.Errorf("card %s: %v and %v", s.Name, s.Rights, e.RightsOf(s.Name))
		}
	}
}

// The menus behind the menu sign, written out.
func TestMenu(t *testing.T) {
	const counts, looks = "open topup level move close status", "history undo help"
	e := theEngine(t)
	v := e.Texts.In("en", "", "")
	for role, want := range map[shop.Role]string{
		shop.Owner:      counts + " overview people invite settings " + looks,
		shop.Manager:    counts + " overview people invite settings " + looks,
		shop.Staff:      counts + " " + looks,
		shop.Bookkeeper: "status history help",
		"":              "",
	} {
		var names []string
		for _, item := range e.Menu(v, role) {
			names = append(names, item.Name)
			if item.Text == "" || item.Text == fmt.Sprintf("help.%s", item.Name) {
				t.Errorf("%s says %q", item.Name, item.Text)
			}
		}
		if got := strings.Join(names, " "); got != want {
			t.Errorf("%s: %q, want %q", role, got, want)
		}
	}
}

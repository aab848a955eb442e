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
// be done on the phone on the counter and before the shop is set up. The
// declarations must say the same.
const writtenTable = `
	open         owner manager staff              shared
	topup        owner manager staff              shared
	swap         owner manager staff              shared
	move         owner manager staff              shared
	level        owner manager staff              shared
	count-now    owner manager staff              shared
	spot         owner manager staff              shared
	second       owner manager staff              shared
	test         owner manager staff              shared
	found        owner manager staff              shared
	close        owner manager staff              shared
	finish       owner manager staff              shared
	settle       owner manager staff              shared
	printed      owner manager staff              shared
	earlier      owner manager staff              shared
	different    owner manager staff              shared
	ticks        owner manager staff              shared
	undo         owner manager staff              shared
	busy         owner manager staff              shared
	renewed      owner manager staff bookkeeper   shared fresh
	witness      owner manager staff              shared
	go-on        owner manager staff              shared
	closed       owner manager staff              shared
	closing-at   owner manager staff              shared
	opening-at   owner manager staff              shared
	usual        owner manager staff              shared
	ill          owner manager staff              shared
	nobody       owner manager staff              shared
	duty         owner manager staff              shared
	shift        owner manager staff              shared
	start        owner manager staff              shared
	later        owner manager staff              shared
	mute         owner manager staff              shared
	gone         owner manager staff              shared
	away         owner manager staff              shared
	hold         owner manager staff              shared
	lift         owner manager                    shared
	say          owner manager                    shared
	agenda       owner manager staff bookkeeper   shared
	hours        owner manager staff bookkeeper   shared
	reminders    owner manager staff bookkeeper   shared
	status       owner manager staff bookkeeper   shared
	history      owner manager staff bookkeeper   shared
	help         owner manager staff bookkeeper   shared
	cancel       owner manager staff bookkeeper   shared fresh
	switch       owner manager staff bookkeeper   fresh
	my-code      owner manager staff bookkeeper   fresh
	guides       owner manager staff bookkeeper   shared
	guide        owner manager staff bookkeeper   shared
	fault        owner manager staff bookkeeper   shared
	faults       owner manager staff bookkeeper   shared
	reference    owner manager staff bookkeeper   shared
	contacts     owner manager staff bookkeeper   shared
	numbers      owner manager                    shared
	visit        owner manager staff              shared
	credit       owner manager bookkeeper         shared
	debit        owner manager bookkeeper         shared
	match        owner manager bookkeeper         shared
	write-off    owner                            shared
	split        owner manager bookkeeper         shared
	owed         owner manager bookkeeper         shared
	day          owner manager bookkeeper         shared
	month        owner manager bookkeeper         shared
	float        owner manager bookkeeper         shared
	export       owner manager bookkeeper         shared
	backup       owner manager                    shared
	bank         owner manager bookkeeper         shared
	correct      owner manager                    shared
	load         owner manager staff              shared
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

// Every action, for every role and for somebody of none, on one's own phone and
// on the one on the counter, before and after the shop is set up.
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
			for _, shared := range []bool{false, true} {
				for _, fresh := range []bool{false, true} {
					want := role != "" && slices.Contains(says, string(role)) &&
						(!shared || slices.Contains(says, "shared")) && (!fresh || slices.Contains(says, "fresh"))
					if got := mayNow(e, action, role, shared, fresh); got != want {
						t.Errorf("%s, %q, shared %t, fresh %t: may %t", action, role, shared, fresh, got)
					}
					asked++
				}
			}
		}
	}
	for action := range table {
		t.Errorf("%s is written down, and nothing that can be done", action)
	}
	if want := 4 * len(roles) * (len(e.Actions()) + 2); asked != want || len(e.Actions()) < 70 {
		t.Fatalf("asked %d, want %d of %d actions", asked, want, len(e.Actions()))
	}
}

func mayNow(e *engine.Engine, action string, role shop.Role, shared, fresh bool) bool {
	s := &shop.Shop{Settings: shop.Settings{Fresh: fresh}}
	c := &engine.Talk{E: e, Teller: &telling.Teller{
		F: chat.Facts{Shop: s, Shared: shared, Person: shop.Person{Role: role}}}}
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

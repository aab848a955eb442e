package dialogs

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// WrittenRights is who may do what, written out: the roles, and whether it can
// be done on the phone on the counter and before the shop is set up. The
// declarations must say the same.
const WrittenRights = `
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
	owed         owner manager bookkeeper         shared
	day          owner manager bookkeeper         shared
	month        owner manager bookkeeper         shared
	float        owner manager bookkeeper         shared
	export       owner manager bookkeeper         shared
	bank         owner manager bookkeeper         shared
	correct      owner manager                    shared
	load         owner manager staff              shared
	cash-plan    owner manager                    shared
	backtest     owner                            shared
	settings     owner manager
	people       owner manager
	invite       owner manager
	lost-phone   owner manager
	overview     owner manager
	leaver       owner manager
	setup        owner                            fresh
	new-shop     owner                            fresh
`

// MayAs reports whether somebody of a role may do something in a shop that is
// set up, on a phone of their own, by the written table.
func MayAs(role shop.Role, action string) bool {
	return slices.Contains(writtenRights()[action], string(role))
}

func writtenRights() map[string][]string {
	table := map[string][]string{}
	for line := range strings.Lines(WrittenRights) {
		if words := strings.Fields(line); len(words) > 0 {
			table[words[0]] = words[1:]
		}
	}
	return table
}

func spokenEngine(t testing.TB) *Engine {
	t.Helper()
	catalogue, err := texts.Load()
	if err != nil {
		t.Fatal(err)
	}
	return New(catalogue)
}

// Every action, for every role and for somebody of none, on one's own phone and
// on the one on the counter, before and after the shop is set up.
func TestRights(t *testing.T) {
	e, table := spokenEngine(t), writtenRights()
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

func mayNow(e *Engine, action string, role shop.Role, shared, fresh bool) bool {
	s := &shop.Shop{Settings: shop.Settings{Fresh: fresh}}
	c := &talk{e: e, f: Facts{Shop: s, Shared: shared, Person: shop.Person{Role: role}}}
	return c.may(action)
}

// What has one name has the same rights, whether it is a dialog, its command or
// its card: a tap and a typed word are asked for one name.
func TestOneNameOneRight(t *testing.T) {
	e := spokenEngine(t)
	for _, f := range e.listed {
		if f.rights != e.rights[f.name] {
			t.Errorf("dialog %s: %v and %v", f.name, f.rights, e.rights[f.name])
		}
	}
	for i := range e.commands {
		if cmd := &e.commands[i]; cmd.rights != e.rights[cmd.name] {
			t.Errorf("command %s: %v and %v", cmd.name, cmd.rights, e.rights[cmd.name])
		}
	}
	for _, s := range e.cards {
		if s.rights != e.rights[s.name] {
			t.Errorf("card %s: %v and %v", s.name, s.rights, e.rights[s.name])
		}
	}
}

// The menus behind the menu sign, written out.
func TestMenu(t *testing.T) {
	const counts, looks = "open topup level move close status", "history undo help"
	e := spokenEngine(t)
	v := e.texts.In("en", "", "")
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

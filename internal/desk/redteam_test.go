package desk_test

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/checks"
	"shopfloat/internal/desk"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// mallory owns another shop in the same file, and wants into this one.
const mallory = chat.Chat("term:mallory")

// redTeam plays people who want to be somebody else: four accounts, and chats that
// belong to nobody.
type redTeam struct {
	*office
	r       *rand.Rand
	db      *sql.DB // reads beside the program
	actions []string
	codes   []string // of links that were sent
	told    map[string]map[string]int
	log     []string // the last steps
	checked int
}

// snap is what gives somebody power in the shop, as the file says.
type snap struct {
	people   map[shop.PersonID]shop.Person
	accounts map[string]string // chat: person, standing, shared
	pins     map[shop.PersonID]string
	entries  int64
	version  int64
	codes    int
}

func (t *redTeam) read() (s snap) {
	t.t.Helper()
	s = snap{people: map[shop.PersonID]shop.Person{}, accounts: map[string]string{},
		pins: map[shop.PersonID]string{}}
	var body string
	ok(t.t, t.db.QueryRow(`SELECT s.version, s.body, (SELECT seq FROM machine WHERE id = 1),
		(SELECT count(*) FROM code WHERE shop = 1 AND used = 0)
		FROM settings s WHERE s.shop = 1 ORDER BY version DESC LIMIT 1`).
		Scan(&s.version, &body, &s.entries, &s.codes))
	var settings shop.Settings
	ok(t.t, json.Unmarshal([]byte(body), &settings))
	for _, p := range settings.People {
		s.people[p.ID] = p
	}
	rows, err := t.db.Query(`SELECT chat, person || ' ' || frozen || ' ' || shared, 0, '' FROM account
			WHERE shop = 1
		UNION ALL SELECT '', '', id, coalesce(hex(pin), '') FROM person WHERE shop = 1`)
	ok(t.t, err)
	defer func() { _ = rows.Close() }()
	for rows.Next() {
		var where, how, pin string
		var id shop.PersonID
		ok(t.t, rows.Scan(&where, &how, &id, &pin))
		if where != "" {
			s.accounts[where] = how
		} else {
			s.pins[id] = pin
		}
	}
	ok(t.t, rows.Err())
	return s
}

// of gives the chats that are, or were, a person's.
func (s snap) of(p shop.PersonID) (list []string) {
	for where, how := range s.accounts {
		if strings.HasPrefix(how, fmt.Sprint(p, " ")) {
			list = append(list, where)
		}
	}
	return list
}

// speaker is whose chat it is; 0: nobody's.
func (s snap) speaker(where chat.Chat) (p shop.PersonID) {
	var frozen, shared int64
	if n, _ := fmt.Sscan(s.accounts[string(where)], &p, &frozen, &shared); n != 3 || frozen != 0 && frozen != 4 {
		return 0
	}
	return p
}

// touched are the people of whom something that gives power over their name is other
// than before.
func touched(a, b snap) (list []shop.PersonID) {
	for id, was := range a.people {
		now, here := b.people[id]
		var before, after []string
		for _, c := range a.of(id) {
			before = append(before, c+a.accounts[c])
		}
		for _, c := range b.of(id) {
			after = append(after, c+b.accounts[c])
		}
		slices.Sort(before)
		slices.Sort(after)
		if !here || was != now || a.pins[id] != b.pins[id] || !slices.Equal(before, after) {
			list = append(list, id)
		}
	}
	return list
}

func pick[T any](r *rand.Rand, list ...T) T { return list[r.IntN(len(list))] }

// tap is the payload of a button that was shown somewhere at some time, of the newest
// card of the chat itself, or one that was made up.
func (t *redTeam) payload(where chat.Chat) string {
	shown := func(of func(chat.Chat) bool, newest bool) string {
		var list []string
		for i := len(t.outs) - 1; i >= 0 && len(list) < 400; i-- {
			if o := t.outs[i]; of(o.Chat) {
				for _, row := range o.Reply.Buttons {
					for _, b := range row {
						list = append(list, b.Data)
					}
				}
				if newest && len(list) > 0 {
					break
				}
			}
		}
		if len(list) == 0 {
			return "d:1:confirm"
		}
		return pick(t.r, list...)
	}
	switch t.r.IntN(8) {
	case 0, 1, 2:
		return shown(func(c chat.Chat) bool { return c == where }, true)
	case 3, 4: // somebody else's, old or new
		return shown(func(c chat.Chat) bool { return c != where }, false)
	case 5:
		return fmt.Sprintf("o:%s:%d.%s:%d", pick(t.r, append(t.actions, "object", "decide")...), t.r.IntN(5),
			pick(t.r, "old", "new", "0", "1.1"), t.r.IntN(4))
	case 6:
		return fmt.Sprintf("d:%d:%s", t.r.IntN(40), pick(t.r, "confirm", "yes", "who-1", "who-2", "p-3",
			"role-owner", "old", "new", "void", "may-sign", "freeze", "phone", "remove"))
	}
	return pick(t.r, "", ":", "o:::", "d:1:confirm:9", "o:decide:3.old", strings.Repeat("x", 200),
		"o:object:3:1", "o:object:2:1", "o:object:1:1", "o:take:\x00:1")
}

var hostileWords = []string{
	"people", "invite Max", "invite " + hostile, "my code", "4711", "2580", "4711", "settings",
	"open 40 150 200", "topup 20s 10", "close 12 61 80", "none", "none", "28 98 120", "none",
	"history", "status", "undo", "correct 1", "correct 3", "credit 100", "debit 5", "owed", "switch",
	"lost phone", "overview", "cancel", "cancel", "help", "hold " + hostile, "not today",
	"second count", "count now", "99", "1", hostile, "Ada", "owner", "float", "export", "=1+1",
	"/start", "/start " + strings.Repeat("A", 22), "hours mon closed", "away tomorrow",
	"notes are stuck", "man with a gun", "it is over",
}

// power lets somebody who manages do something about somebody else, as far as the
// cards lead.
func (t *redTeam) power() {
	where := pick(t.r, owner, owner, staff1, staff2)
	raw := t.raw(where, "people")
	t.play(where, false, raw)
	for range 2 + t.r.IntN(3) {
		raw := t.raw(where, "")
		raw.Input.Kind, raw.Input.Tap = chat.Press, t.newest(where, "back", "what", "cancel", "more")
		t.play(where, false, raw)
	}
}

// revive lets those come back who were cut off, left or removed: the owner by the
// computer, the others by a link of the owner's. Then it goes on.
func (t *redTeam) revive() {
	s := t.read()
	if s.people[s.speaker(owner)].Role != shop.Owner || s.people[s.speaker(owner)].Disputed {
		for id, p := range s.people {
			if p.Role == shop.Owner {
				code, hash, err := desk.NewCode(strings.NewReader(fmt.Sprintf("%16d", t.keys)))
				ok(t.t, err)
				t.within(func(tx *store.Tx) error { return desk.Claim(tx, 1, id, time.Hour, hash) })
				t.play(owner, true, t.raw(owner, "/start "+code))
				break
			}
		}
	}
	for _, where := range []chat.Chat{staff1, staff2} {
		if s := t.read(); s.speaker(where) == 0 && len(s.people) < 12 {
			t.play(owner, false, t.raw(owner, "cancel"))
			t.play(owner, false, t.raw(owner, "cancel"))
			t.play(owner, false, t.raw(owner, fmt.Sprintf("invite Guest %c%c", 'A'+t.keys%26, 'A'+t.keys/26%26)))
			press := t.raw(owner, "")
			press.Input.Kind, press.Input.Tap = chat.Press, t.newest(owner, "back", "what", "cancel", "role-owner",
				"role-bookkeeper")
			t.play(owner, false, press)
			if len(t.codes) > 0 {
				t.play(where, true, t.raw(where, "/start "+t.codes[len(t.codes)-1]))
			}
		}
	}
}

// newest is a button of the newest card of a chat, but none of some.
func (t *redTeam) newest(where chat.Chat, but ...string) string {
	for i := len(t.outs) - 1; i >= 0; i-- {
		var list []string
		for _, row := range t.outs[i].Reply.Buttons {
			for _, b := range row {
				if _, last, _ := strings.Cut(strings.TrimPrefix(b.Data, "d:"), ":"); !slices.Contains(but, last) {
					list = append(list, b.Data)
				}
			}
		}
		if t.outs[i].Chat == where && len(list) > 0 {
			return pick(t.r, list...)
		}
	}
	return "d:1:confirm"
}

// step does one hostile thing and looks at what came of it.
func (t *redTeam) step() {
	switch t.r.IntN(36) {
	case 0, 1, 2:
		t.power()
		return
	case 3:
		t.revive()
		return
	}
	strangers := []chat.Chat{"term:eve1", "term:eve2", "term:eve3"}
	where := pick(t.r, owner, owner, staff1, staff1, staff2, staff2, mallory, pick(t.r, strangers...))
	raw := t.raw(where, "")
	link := false
	switch n := t.r.IntN(20); {
	case n < 11:
		raw.Input.Kind, raw.Input.Tap = chat.Press, t.payload(where)
	case n < 13 && len(t.codes) > 0:
		code := pick(t.r, t.codes[max(0, len(t.codes)-4):]...)
		if t.r.IntN(3) == 0 { // nearly the right one
			code = code[:len(code)-1] + pick(t.r, "A", "b", "-")
		}
		raw.Input.Text, raw.Input.From, raw.Input.Public, link = "/start "+code, hostile, "ada\u202e", true
	case n == 13:
		raw.Input.Kind, raw.Input.Text = chat.Picture, pick(t.r, hostileWords...)
		raw.Input.Photo.ID, raw.Input.Photo.Unique = "p", "u"
	case n == 14:
		raw.Input.Kind = pick(t.r, chat.Edited, chat.Foreign, chat.Redraw)
	default:
		raw.Input.Text = pick(t.r, hostileWords...)
	}
	t.play(where, link, raw)
	t.clock = t.clock.Add(time.Duration(pick(t.r, 0, 1, 1, 7, 95, -30)) * time.Minute)
	if t.r.IntN(60) == 0 {
		t.restart()
		t.speak()
	}
}

// play takes one input and looks at what came of it.
func (t *redTeam) play(where chat.Chat, link bool, raw desk.Raw) {
	t.t.Helper()
	in := raw.Input
	t.log = append(t.log[max(0, len(t.log)-12):], fmt.Sprintf("%s %s %q %q", where, in.Kind, in.Text, in.Tap))
	before, sent := t.read(), len(t.outs)
	t.take(raw)
	t.flush()
	t.look(where, link, before, t.outs[sent:])
}

// look checks a step: outsiders change nothing, nobody signs for another, and whoever
// something was done to heard of it, and all owners.
func (t *redTeam) look(where chat.Chat, link bool, before snap, outs []desk.Out) {
	t.t.Helper()
	after, by := t.read(), before.speaker(where)
	for _, o := range outs {
		t.note(o)
	}
	object := before.accounts[string(where)] != "" && by == 0 // the one tap of a phone that was somebody's
	if by == 0 && !link && !object && (before.entries != after.entries || before.version != after.version ||
		before.codes != after.codes || !maps.Equal(before.accounts, after.accounts)) {
		t.fail("somebody from outside changed something")
	}
	if object && before.entries != after.entries {
		t.fail("a phone that is nobody's any more recorded something")
	}
	t.signed(where, by, before, after)
	if link {
		by = after.speaker(where)
	}
	for _, id := range touched(before, after) {
		if id == by && !object {
			continue
		}
		t.checked++
		if !heard(outs, append(before.of(id), after.of(id)...)) &&
			(live(before, id) || live(after, id)) {
			t.fail(fmt.Sprintf("person %d did not hear what was done in their name", id))
		}
		for o, p := range after.people {
			if p.Role == shop.Owner && o != by && o != id && live(before, o) && live(after, o) &&
				!heard(outs, after.of(o)) {
				t.fail(fmt.Sprintf("owner %d did not hear what was done with the name of %d", o, id))
			}
		}
	}
}

// signed checks whose the new records are.
func (t *redTeam) signed(where chat.Chat, by shop.PersonID, before, after snap) {
	t.t.Helper()
	rows, err := t.db.Query("SELECT by_person, body FROM entry WHERE machine = 1 AND seq > ?", before.entries)
	ok(t.t, err)
	defer func() { _ = rows.Close() }()
	shared := strings.HasSuffix(before.accounts[string(where)], " 1")
	for rows.Next() {
		var who shop.PersonID
		var body string
		ok(t.t, rows.Scan(&who, &body))
		own := !shared && who == by
		counter := shared && (strings.Contains(body, `"signed`) && after.pins[who] != "" ||
			strings.Contains(body, `"shared-phone"`) && who == 0)
		disputed := before.people[who].Disputed && !shared
		if !own && !counter || disputed != (!shared && strings.Contains(body, `"disputed"`)) {
			t.fail(fmt.Sprintf("a record by %d (%+v) from the chat of %d (%s): %s", who, before.people[who], by,
				before.accounts[string(where)], body))
		}
	}
	ok(t.t, rows.Err())
}

func (t *redTeam) fail(what string) {
	t.t.Helper()
	t.t.Fatalf("%s\n%s", what, strings.Join(t.log, "\n"))
}

func live(s snap, p shop.PersonID) bool {
	return slices.ContainsFunc(s.of(p), func(c string) bool { return s.speaker(chat.Chat(c)) == p })
}

func heard(outs []desk.Out, chats []string) bool {
	return slices.ContainsFunc(outs, func(o desk.Out) bool { return slices.Contains(chats, string(o.Chat)) })
}

// note keeps what somebody was told, and the code of a link that was sent.
func (t *redTeam) note(o desk.Out) {
	for _, b := range o.Reply.Body {
		first, _, _ := strings.Cut(b.Text, "\n")
		if _, code, found := strings.Cut(b.Text, "start="); found {
			t.codes = append(t.codes, strings.Fields(code)[0])
			first = "a link"
		}
		who := t.told[string(o.Chat)]
		if who == nil {
			who = map[string]int{}
			t.told[string(o.Chat)] = who
		}
		if r := []rune(first); len(r) > 60 {
			first = string(r[:60])
		}
		who[first]++
	}
}

// TestRedTeam: four accounts and some strangers do hostile things in one process:
// forged taps, payloads of others and of other shops, old cards, links, names and
// words that pose as something else, while roles change and phones are replaced. At
// the end the books hold together, and everybody's list of what they were told is
// printed with -v.
func TestRedTeam(t *testing.T) {
	const each = 2_000
	steps := checks.Size(t, 250, each, 10*each)
	for seed := uint64(20260105); steps > 0; seed, steps = seed+1, steps-each {
		t.Run(fmt.Sprint(seed), func(t *testing.T) { plays(t, seed, min(steps, each)) })
	}
}

// plays lets them play so many steps in a file of its own.
func plays(t *testing.T, seed uint64, steps int) {
	o := real(t)
	s := shop.Example()
	s.Name = "Mallory's"
	_, err := o.db.AddShops(o.clock, []store.NewShop{{Settings: s,
		Accounts: map[chat.Chat]shop.PersonID{mallory: 1}}})
	ok(t, err)
	team := &redTeam{office: o, r: rand.New(rand.NewPCG(seed, 1)), db: plain(t, o.path),
		actions: dialogs.New(floor.Texts(t)).Actions(), told: map[string]map[string]int{}}
	o.chooses(owner, "4711")
	o.chooses(staff2, "2580")
	for range steps {
		team.step()
	}
	reports, err := o.db.Reader().Verify(context.Background())
	ok(t, err)
	entries := 0
	for _, r := range reports {
		if entries += r.Entries; len(r.Faults) > 0 {
			t.Errorf("the books do not hold together: %+v", r)
		}
	}
	var parked int
	ok(t, team.db.QueryRow("SELECT count(*) FROM inbox WHERE status = 2").Scan(&parked))
	t.Logf("%d records, %d times something was done with another's name, %d inputs given up", entries,
		team.checked, parked)
	for _, who := range slices.Sorted(maps.Keys(team.told)) {
		for _, line := range slices.Sorted(maps.Keys(team.told[who])) {
			t.Logf("%s was told %d times: %s", who, team.told[who][line], line)
		}
	}
	if entries == 0 || team.checked*700 < steps {
		t.Errorf("%d records and %d powers: this tries too little", entries, team.checked)
	}
}

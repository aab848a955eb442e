package main

import (
	"context"
	"encoding/json"
	"net/http"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/botapitest"
)

// userBen is invited to a shop.
const userBen = 2_000_001

// setUp is what an owner does between the link and a working shop.
func setUp() [][2]string {
	return [][2]string{
		{"Ada", "shop called"}, {"Corner shop", "which country"}, {"[Ireland]", "call the machine"},
		{
			"[Cash machine]",
			"top to bottom",
		}, {"[50s, 20s, 10s]", "fit into each"}, {"[2,000", "nearly empty"}, {"[40", "bundle"},
		{
			"[50s: 100",
			"at night",
		}, {"[Emptied, safe locked", "most cash"}, {"40000", "shop open"}, {"[Every day 07", "working days"},
		{"[1 working", "arrive"},
	}
}

// printed waits until the program has printed something, and gives the group.
func printed(t *testing.T, srv *botapitest.Server, bot *program, pattern string) string {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), patience)
	defer cancel()
	re := regexp.MustCompile(pattern)
	if err := srv.WaitFor(ctx, func(v botapitest.Snapshot) bool {
		return v.Polling() &&
			re.MatchString(bot.stderr.String())
	}); err != nil {
		t.Fatalf("%q was not printed: %v\n%s", pattern, err, &bot.stderr)
	}
	return re.FindStringSubmatch(bot.stderr.String())[1]
}

// commandsOf gives the menu that a chat offers, by the server.
func commandsOf(t *testing.T, srv *botapitest.Server, chat string) (names []string) {
	t.Helper()
	resp, err := http.Get(
		srv.URL() + "/bot" + srv.Token() + `/getMyCommands?scope={"type":"chat","chat_id":` + chat + `}`,
	)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = resp.Body.Close() }()
	var answer struct {
		Result []struct{ Command string }
	}
	if err := json.NewDecoder(resp.Body).Decode(&answer); err != nil {
		t.Fatal(err)
	}
	for _, c := range answer.Result {
		names = append(names, c.Command)
	}
	return names
}

// The whole way through the stand-in: a fresh file, the printed link, set-up,
// an invitation, a secret that is taken out of the chat, and a removal.
func TestServeFromTokenToShop(t *testing.T) {
	t.Parallel()
	srv := standIn(t, owner1, userBen, 777)
	file := filepath.Join(t.TempDir(), "fresh.db")
	bot := serve(t, srv, file)
	code := printed(t, srv, bot, `https://t\.me/[A-Za-z0-9_]+\?start=([A-Za-z0-9_-]{22})\b`)
	if early := printed(t, srv, bot, `Set-up code, good for one day: ([A-Za-z0-9_-]+)`); early != code {
		t.Errorf("the code %q and the link's %q differ", early, code)
	}
	owner, staff := person{t, srv, owner1}, person{t, srv, userBen}
	person{t, srv, 777}.does("/start "+strings.Repeat("A", 22), "Sorry")
	owner.does("/start "+code, "You are the owner")
	owner.lives(setUp())
	for range 20 { // what is left has something to tap, and the first will do
		m, _ := lastOf(srv, owner1)
		if t.Failed() || len(m.Buttons) > 0 && m.Buttons[0][0].Text == "Confirm" {
			break
		}
		owner.tap("")
		owner.changes(m)
	}
	owner.does("[Confirm]", "Corner shop is set up")
	if t.Failed() {
		t.FailNow()
	}
	link := owner.inviteBen()
	staff.does("/start "+link, "Welcome, Ben")
	owner.sees("Ben opened your link")
	staff.does("open 40 150 200", "€7,000")
	staff.does("[Confirm]", "recorded")
	secret := srv.SendText(userBen, "the safe combination is 12-34-56")
	staff.sees("looked like a safe combination")
	settled(t, srv)
	if slices.ContainsFunc(srv.Messages(userBen), func(m botapitest.Message) bool { return m.ID == secret }) {
		t.Error("the combination is still in the chat")
	}
	if names := commandsOf(t, srv, "2000001"); !slices.Contains(names, "open") ||
		slices.Contains(names, "people") {
		t.Errorf("staff's menu %q", names)
	}
	if names := commandsOf(t, srv, "1000001"); !slices.Contains(names, "people") {
		t.Errorf("the owner's menu %q", names)
	}
	owner.does("people", "Who works here")
	owner.does("[Ben]", "Ben: staff")
	owner.does("[No longer", "no longer works here?")
	owner.does("[Yes, remove", "keys given back")
	staff.does("status", "Sorry")
	settled(t, srv)
	if code := bot.end(); code != 0 {
		t.Errorf("exit %d, log:\n%s", code, &bot.stderr)
	}
	verified(t, file)
	r := srv.Report()
	if len(r.Errors) != 0 || r.TokenSeen != 0 || r.ButtonsCut != 0 {
		t.Errorf("report %+v", r)
	}
}

func lastOf(srv *botapitest.Server, chat int64) (m botapitest.Message, ok bool) {
	srv.View(func(v botapitest.Snapshot) { m, ok = v.Last(chat) })
	return m, ok
}

// changes waits until the newest message is another or reads differently.
func (p person) changes(from botapitest.Message) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.t.Context(), patience)
	defer cancel()
	err := p.srv.WaitFor(ctx, func(v botapitest.Snapshot) bool {
		m, _ := v.Last(p.id)
		return m.ID != from.ID || m.Text != from.Text
	})
	if err != nil {
		p.t.Fatalf("nothing came after %q: %v", from.Text, err)
	}
}

func (p person) inviteBen() string {
	p.t.Helper()
	p.does("invite Ben", "Which role")
	m := p.does("[Staff]", "?start=")
	_, link, _ := strings.Cut(m.Text, "?start=")
	return strings.TrimSpace(link)
}

// An owner who is locked out gets in again by the computer the bot runs on, and
// the old phone is out.
func TestClaimCode(t *testing.T) {
	srv, file := standIn(t, owner1, 777), seeded(t, 1)
	out := invoke(t, "", "claim-code", "--lost", "--db", file)
	code := regexp.MustCompile(`^Set-up code: ([A-Za-z0-9_-]{22})\n`).FindStringSubmatch(out)
	if code == nil {
		t.Fatalf("printed %q", out)
	}
	bot := serve(t, srv, file)
	person{t, srv, owner1}.does("help", "Sorry")
	fresh := person{t, srv, 777}
	fresh.does("/start "+code[1], "Welcome, Ada")
	fresh.does("people", "Who works here")
	fresh.does("[Ada]", "Ada: owner")
	srv.SendText(owner1, "people") // silence: a stranger is answered once a day
	settled(t, srv)
	if m, _ := lastOf(srv, owner1); !strings.Contains(m.Text, "Another phone speaks for Ada") {
		t.Errorf("the lost phone sees %q", m.Text)
	}
	bot.end()
	verified(t, file)
}

func TestClaimCodeRefusals(t *testing.T) {
	file := seeded(t, 2)
	for _, args := range [][]string{{}, {"--shop", "3"}, {"--shop", "-1"}} {
		out := invoke(t, "", append([]string{"claim-code", "--db", file}, args...)...)
		if !strings.Contains(out, "--- exit 2\n--shop: say which, from 1 to 2") {
			t.Errorf("%q: %q", args, out)
		}
	}
	for _, args := range [][]string{{"--shop", "2"}, {"--new"}} {
		if out := invoke(t, "", append([]string{"claim-code", "--db", file}, args...)...); !strings.HasPrefix(
			out,
			"Set-up code: ",
		) {
			t.Errorf("%q: %q", args, out)
		}
	}
}

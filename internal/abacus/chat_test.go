package abacus_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"shopfloat/internal/abacus"
	"shopfloat/internal/checks"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// Sixty days told to the bot in words and taps, as people do, in euros and in francs, with
// holidays and hours that change: what it says of days, of the bank and of where the money is, is what the
// records come to by the abacus.
func TestHistoriesThroughTheChat(t *testing.T) {
	closed := 0
	checks.Rapid(t, 2, 100, 2_000, func(rt *rapid.T) {
		p := &player{T: rt, f: floor.New(t, dialogs.New)}
		if p.one(3, "francs") {
			p.f = floor.Abroad(t, dialogs.New, "CH", "CHF", "Europe/Zurich", "50", "20", "10")
		}
		p.f.Long = true
		date := rapid.SampledFrom([]shop.Date{"2026-10-05", "2026-11-23", "2027-02-25", "2028-01-25"}).
			Draw(rt, "from")
		p.f.Now = date.Time()
		for range 60 {
			p.day(date)
			date = date.Add(1)
			if p.one(60, "look") {
				p.agrees()
			}
		}
		closed += p.agrees()
	})
	if closed == 0 {
		t.Error("no day was closed")
	}
}

// player talks to the bot as the people of a shop.
type player struct {
	*rapid.T
	f *floor.Floor

	left, paid string // of the day under way, as they are typed when they are asked for
}

func (p *player) n(what string, most int) int { return rapid.IntRange(0, most).Draw(p.T, what) }

func (p *player) one(in int, what string) bool { return rapid.IntRange(1, in).Draw(p.T, what) == 1 }

// label is a button of a card as a transcript shows it.
var label = regexp.MustCompile(`(?m)^  \[(.+)\]$`)

// answers are what is tapped where a card asks more than its figures, the first of
// them that it has.
var answers = []string{"Confirm", "It really is", "They are right", "Nothing", "None", "No, none",
	"No, nothing", "No, it is", "I looked", "No", "Skip", "With a device", "Leave it", "Go on", "Cancel"}

// says sends words, and taps until nothing is asked any more.
func (p *player) says(who, text string) (said string) {
	said = p.f.Says(who, text)
	for range 14 {
		if p.f.State(who).Flow == "" {
			return said
		}
		switch {
		case p.left != "" && strings.Contains(said, "still in it?"):
			said = p.f.Says(who, p.left)
			continue
		case p.paid != "" && strings.Contains(said, "Now the slip, paid out:"):
			said = p.f.Says(who, p.paid)
			continue
		}
		tap := ""
		for _, want := range answers {
			for _, m := range label.FindAllStringSubmatch(said, -1) {
				if tap == "" && strings.HasPrefix(m[1], want) {
					tap = m[1]
				}
			}
		}
		if tap == "" {
			break
		}
		said = p.f.Taps(who, tap)
	}
	if p.f.State(who).Flow != "" {
		p.f.Says(who, "cancel")
		if b, ok := p.f.Button(who, "Leave"); ok && p.f.State(who).Flow != "" {
			p.f.Press(who, b)
		}
	}
	return said
}

// at puts the clock on; never back.
func (p *player) at(date shop.Date, hour, minute int) {
	day := date.Time()
	at := time.Date(day.Year(), day.Month(), day.Day(), hour, minute, 0, 0, p.f.Shop.Location)
	if !at.After(p.f.Now) {
		at = p.f.Now.Add(time.Minute)
	}
	p.f.Now = at
}

func (p *player) day(date shop.Date) {
	if p.one(15, "hours") {
		p.at(date, 5, 0)
		p.hours()
	}
	if p.one(9, "day off") {
		return
	}
	p.at(date, 6, 40)
	load := []int{30 + p.n("50s", 20), 100 + p.n("20s", 80), 150 + p.n("10s", 80)}
	p.says("staff1", fmt.Sprintf("open %d %d %d", load[0], load[1], load[2]))
	p.at(date, 11, 0)
	switch p.n("doing", 7) {
	case 0:
		add := 5 + p.n("notes", 30)
		load[1] += add
		p.says("staff1", fmt.Sprintf("topup 0 %d 0", add))
	case 1:
		p.move("Take change", 1)
	case 2:
		p.move("Safe to till", 0)
	case 3:
		p.move("Till back", 0)
	case 4:
		p.says("staff1", fmt.Sprintf("topup 0 %d 0", 5+p.n("notes", 30)))
		p.f.Now = p.f.Now.Add(time.Minute)
		p.says("staff1", "undo")
	case 5:
		p.says("owner", "credit "+fmt.Sprint(100+p.n("money", 5000))+" for yesterday")
	}
	p.at(date, 21, 5)
	var left, paid []int
	for i, n := range load {
		out := p.n("paid", n-10)
		paid = append(paid, out)
		left = append(left, n-out)
		if p.one(12, "differs") {
			left[i]--
		}
	}
	p.left = fmt.Sprintf("%d %d %d", left[0], left[1], left[2])
	p.paid = fmt.Sprintf("50x%d 20x%d 10x%d", paid[0], paid[1], paid[2])
	if p.one(8, "not closed") {
		return // the next opening counts, and somebody finishes later
	}
	if p.one(5, "figures later") {
		p.f.Says("staff1", "close "+p.left)
	}
	p.says("staff1", "close "+p.left)
	if p.one(2, "finish") {
		p.says("owner", "finish")
	}
}

func (p *player) move(how string, box int) {
	p.f.Says("staff1", "move")
	if _, ok := p.f.Button("staff1", how); !ok || p.f.State("staff1").Flow == "" {
		p.says("staff1", "cancel")
		return
	}
	p.f.Taps("staff1", how)
	p.says("staff1", fmt.Sprintf("%dx20", 1+p.n("notes", 8)))
}

// hours has the owner lay down others, or close the day.
func (p *player) hours() {
	said := rapid.SampledFrom([]string{"mon closed", "mon 7-21", "sun closed", "wed 9-18", "daily 7-21"}).
		Draw(p.T, "said")
	p.f.Says("owner", "hours")
	p.says("owner", said)
	if p.f.Last.Settings != nil {
		p.f.LayDown()
	}
}

// agrees holds what the bot says against the abacus, and tells how many days are closed.
func (p *player) agrees() (closed int) {
	if len(p.f.Entries) == 0 {
		return 0
	}
	sheet := abacus.Recount(p.f.Entries, time.Time{})
	float := p.says("owner", "float")
	for words, want := range map[string]abacus.Cents{"in the machine": sheet.Float.Inside,
		"back in the safe": sheet.Float.Cash, "owed by the till": sheet.Float.Till,
		"owed by the bank": sheet.Float.ByBank, "from the shop's cash": sheet.Float.Taken} {
		if got, ok := money(float, words); !ok || got != want {
			p.Fatalf("%s: %d, by the abacus %d\n%s", words, got, want, float)
		}
	}
	months := map[string]string{}
	for no, d := range sheet.Days {
		if d.Closed {
			closed++
		}
		if no%3 != 0 || d.Date > shop.DateOf(p.f.Now.In(p.f.Shop.Location)) {
			continue // a third of them is enough; one to come cannot be asked for
		}
		name := d.Date.Time().Format("January 2006")
		if months[name] == "" {
			months[name] = p.says("owner", "month "+name)
		}
		month := months[name]
		paid, balanced, slips := abacus.Cents(0), 0, 0
		for _, other := range sheet.Days {
			if other.Date == d.Date && other.Verdict == "balanced" {
				balanced++
			}
			for _, s := range other.Slips {
				if s.Day == d.Date {
					paid, slips = paid+s.Paid, slips+1
				}
			}
		}
		line := d.Date.Time().Format("Mon 2 Jan")
		got, ok := money(month, line)
		unknown := slips == 0 && regexp.MustCompile(line+` +\?`).MatchString(month) // its slip is missing
		if !unknown && (!ok || got != paid) {
			p.Fatalf("%s paid out %d, by the abacus %d\n%s", line, got, paid, month)
		}
		day := p.says("owner", "day "+d.Date.Time().Format("2 January"))
		if n := strings.Count(day, "It balances"); n != balanced {
			p.Fatalf("%s balances %d times, by the abacus %d\n%s", line, n, balanced, day)
		}
	}
	return closed
}

// amount is the first sum of money in a line.
var amount = regexp.MustCompile(`(-?)(?:€|CHF[ \x{a0}]?)(-?)([0-9,'’]+(?:\.[0-9]{2})?)`)

// groups takes away what stands between groups of digits.
var groups = strings.NewReplacer(",", "", "'", "", "’", "")

// money finds the sum in the line that begins with some words.
func money(text, words string) (abacus.Cents, bool) {
	for line := range strings.Lines(text) {
		if !strings.HasPrefix(strings.TrimSpace(line), words+" ") {
			continue
		}
		if m := amount.FindStringSubmatch(line); m != nil {
			return abacus.Of(decimal.RequireFromString(m[1] + m[2] + groups.Replace(m[3]))), true
		}
	}
	return 0, false
}

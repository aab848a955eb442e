package across_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/across"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/dues"
	"shopfloat/internal/shop"
	"shopfloat/internal/stand"
)

const fifty = 50

// cancelled says of a slip that two of its twenties were not paid out after all.
const cancelled = "[Change]\nstaff1: [Cancelled, 20s: 0]\nstaff1: 2"

// chain is an owner of fifty shops, every third in pounds. Each paid out 4,380 on 23
// November with 40 of it missing, and is owed 4,340; the 17th is being counted.
func chain(t *testing.T) (*floor.Floor, *[]string) {
	t.Helper()
	f := floor.New(t, dialogs.New)
	f.Play(floor.Day("2026-11-23", "12 61 80", "28 89 120", cancelled) + "staff1: [Skip]\n@2026-11-26 12:00")
	f.Out.Reset()
	read := &[]string{}
	then := books.New(1)
	f.Knows = func(facts *chat.Facts) {
		facts.Ask.Sites = func() (list []chat.Site) {
			for i := range fifty {
				s := *f.Shop
				s.ID, s.Name = shop.ID(i+1), fmt.Sprintf("Shop %02d", i+1)
				if i%3 == 2 {
					s.Currency, s.Country = "GBP", "GB"
				}
				list = append(list, chat.Site{Shop: &s, Person: facts.Person, Machine: f.Machine, Blind: i == 16,
					Ask: chat.Ask{
						Entries: func() []books.Entry { *read = append(*read, s.Name); return f.Entries },
						Lately:  func(shop.Date) (*books.Machine, []books.Entry) { return then, f.Entries },
						Claims:  func(w dues.Wanted) []books.Claim { return w.Among(f.Machine.Claims) },
					}})
			}
			return list
		}
	}
	return f, read
}

// Fifty shops stand on pages of eight, each of them once, with a button into each; the
// sums are those of all pages and of no other currency. Nobody reads what no table needs.
func TestFiftyShops(t *testing.T) {
	f, read := chain(t)
	for command, want := range map[string]string{
		// 33 shops in euro without the one that is counted, 16 in pounds: 33 x 4,340, 16 x 4,340
		"owed":     "together €143,220 and £69,440",
		"month":    "€144,540  -€1,320  €143,220|£70,080    -£640   £69,440",
		"float":    "€143,220       -€1,320|£69,440         -£640",
		"leaks":    "Shop 02: too early to say.",
		"agenda":   "opening",
		"overview": "closed",
	} {
		seen, pages := map[string]int{}, 0
		tap, said := command+" all", ""
		for tap != "" && pages < 9 {
			f.Out.Reset()
			f.Play("owner: " + tap)
			out := f.Out.String()
			said, tap = said+out, ""
			for i := range fifty {
				if name := fmt.Sprintf("[Shop %02d]", i+1); strings.Contains(out, name) {
					seen[name]++
				}
			}
			if pages++; strings.Contains(out, "\n  [Next ones]") {
				tap = "[Next ones]"
			}
		}
		if pages != 7 || len(seen) != fifty {
			t.Errorf("%s: %d pages with %d shops", command, pages, len(seen))
		}
		for name, n := range seen {
			if n != 1 {
				t.Errorf("%s: %s stands there %d times", command, name, n)
			}
		}
		for _, w := range strings.Split(want, "|") {
			if !strings.Contains(said, w) {
				t.Errorf("%s: want %q in\n%s", command, w, said)
			}
		}
		counted := command != "agenda" && command != "overview"
		if strings.Contains(said, "being counted") != counted {
			t.Errorf("%s: the machine that is being counted:\n%s", command, said)
		}
	}
	if len(*read) > 0 {
		t.Errorf("all that was ever recorded was read of %d machines", len(*read))
	}
}

// Who may not see a shop's figures does not see it among others, and nobody is known on a
// phone that several people use there.
func TestRolesHold(t *testing.T) {
	f, _ := chain(t)
	knows := f.Knows
	f.Knows = func(facts *chat.Facts) {
		knows(facts)
		all := facts.Ask.Sites
		facts.Ask.Sites = func() []chat.Site {
			list := all()[:5]
			for i, role := range []shop.Role{shop.Bookkeeper, shop.Staff, shop.Owner, shop.Manager, shop.Owner} {
				list[i].Person.Role = role
			}
			list[2].Shared, list[4].Person.Disputed = true, true
			return list
		}
	}
	for command, want := range map[string]string{"owed all": "[Shop 01] [Shop 04]", "overview all": "[Shop 04]",
		"leaks all": ""} {
		f.Out.Reset()
		f.Play("owner: " + command)
		for i := range 5 {
			name := fmt.Sprintf("[Shop %02d]", i+1)
			if strings.Contains(f.Out.String(), name) != strings.Contains(want, name) {
				t.Errorf("%s: want %q and no other in\n%s", command, want, f.Out.String())
			}
		}
	}
}

// What makes money differ from what was put in is the same by the books alone as by all
// that was recorded.
func TestStandNow(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play(floor.Day("2026-11-23", "12 61 80", "28 89 120", cancelled) + "staff1: [Skip]\n" + `
		owner: debit 12.50; [The bank's charges]; [Confirm]
		@2026-11-25 06:40
		staff1: open 40 150 200; [Confirm]
		staff1: borrow 10x20; [Confirm]`)
	now := stand.Now(f.Machine)
	all, err := stand.At(f.Machine.ID, f.Entries, f.Now.AddDate(1, 0, 0))
	if err != nil {
		t.Fatal(err)
	}
	if !now.Sum().Sub(now.PutIn()).Equal(all.Sum().Sub(all.PutIn())) || !now.Inside.Equal(all.Inside) ||
		!now.ByBank.Equal(all.ByBank) || !now.Missing().IsZero() || all.Inside.IsZero() {
		t.Errorf("now %+v, by all entries %+v", now, all)
	}
}

// What a button carries is read back as it was, fits, and leads to tables alone.
func TestWish(t *testing.T) {
	for arg, want := range map[string]across.Wish{
		"owed.2.":              {What: "owed", Page: 2},
		"month.1.2026-11":      {What: "month", Words: "2026-11", Page: 1},
		"export.0.2026-11.pdf": {What: "export", Words: "2026-11 pdf"},
	} {
		if w, ok := across.ParseWish(arg); !ok || w != want {
			t.Errorf("%s: %+v, %t", arg, w, ok)
		}
	}
	for _, arg := range []string{"", "owed", "undo.0.", "owed.x.", "owed.-1."} {
		if w, ok := across.ParseWish(arg); ok {
			t.Errorf("%q is taken for %+v", arg, w)
		}
	}
	e := floor.New(t, dialogs.New).Engine
	for _, name := range across.Commands() {
		if e.Named(name) == nil {
			t.Errorf("%s is no command", name)
		}
	}
}

// The buttons into machines of one shop can be told apart, however alike their names begin.
func TestButtonsAreToldApart(t *testing.T) {
	for names, want := range map[[2]string]string{
		{"Cash machine", "Hall"}:                      "Examp…, Cash machine|Example…, Hall",
		{"Machine by the door", "Machine by the bar"}: "Exampl…, Machine by…|Exampl…, Machine…(2)",
	} {
		s := shop.Example()
		hall := s.Machines[0]
		hall.ID, hall.Boxes = 2, slices.Clone(hall.Boxes)
		s.Machines = append(s.Machines, hall)
		s.Machines[0].Name, s.Machines[1].Name = names[0], names[1]
		made, err := shop.New(1, 1, s)
		if err != nil {
			t.Fatal(err)
		}
		f := floor.New(t, dialogs.New)
		f.Takes(made)
		f.Says("owner", "owed all")
		var labels []string
		for _, row := range f.Last.Replies[0].Buttons {
			for _, b := range row {
				labels = append(labels, b.Label)
			}
		}
		if got := strings.Join(labels, "|"); got != want {
			t.Errorf("%v: %s, want %s", names, got, want)
		}
	}
}

package statements_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/settling"
	"shopfloat/internal/shop"
)

// bank is a floor on which files can be sent: what is asked for is read as the desk does,
// and what is booked goes to the books.
type bank struct {
	*floor.Floor
	file string // what the newest file holds; empty: it cannot be had
	id   int64
}

// owed is a shop on Thursday 26 November 2026 whose bank owes 4,380 for Monday, 500 for
// Tuesday and 1,000 for Wednesday.
func owed(t *testing.T) *bank {
	t.Helper()
	day := func(date, left, paid string) string {
		return "@" + date + " 06:40\nstaff1: open 40 150 200; [Confirm]\n@" + date + " 21:05\n" +
			"staff1: close " + left + "; none; none; [Confirm]; " + paid + "; none; [Confirm]\n"
	}
	b := &bank{Floor: floor.New(t, dialogs.New)}
	b.Knows = func(facts *chat.Facts) {
		facts.Ask.Books = func(id shop.MachineID, _ []int64) (*shop.Shop, *books.Machine) {
			if id != 1 {
				return nil, nil
			}
			return b.Shop, b.Machine
		}
	}
	b.Play(day("2026-11-23", "12 61 80", "28 89 120") + day("2026-11-24", "30 150 200", "10 0 0") +
		day("2026-11-25", "40 100 200", "0 50 0") + "@2026-11-26 09:00")
	b.Out.Reset()
	return b
}

const head = "Account;IE29 AIBK 9311 5212 3456 78\nDate;Text;Amount\n"

// sends sends a file of these lines, and gives what came back once it was read.
func (b *bank) sends(name string, rows ...string) string {
	b.T.Helper()
	return b.sendsText(name, head+strings.Join(rows, "\n")+"\n")
}

func (b *bank) sendsText(name, text string) string {
	b.T.Helper()
	b.file = text
	b.id++
	in := chat.Input{Kind: chat.Sent, Photo: books.Photo{ID: "f", Unique: "f"}}
	said := b.Step(name, in, name+"> (a file)")
	return said + b.after(name)
}

// taps taps a button, and reads and books what it leads to.
func (b *bank) taps(name, label string) string {
	b.T.Helper()
	return b.Taps(name, label) + b.after(name)
}

// after does what a step asked for: book, remember, read.
func (b *bank) after(name string) string {
	b.T.Helper()
	for _, x := range b.Last.Beside {
		b.Record(floor.People[name], x.Record)
	}
	if tie := b.Last.Orders.Tie; tie != nil {
		for _, a := range tie.Accounts {
			b.Shop.Bank = b.Shop.Bank.With(a)
		}
		if tie.Table != nil {
			b.Shop.Bank = b.Shop.Bank.Knowing(*tie.Table)
		}
	}
	want := b.Last.Orders.Read
	if want == nil {
		return ""
	}
	in := chat.Input{Kind: chat.Read, Statement: b.id}
	if b.file != "" {
		in.Reading = settling.Read(strings.NewReader(b.file), int64(len(b.file)), 0, want.Want,
			[]settling.Machine{{Shop: b.Shop, ID: 1, Books: b.Machine}})
	}
	said := b.Step(name, in, "(it was read)")
	return said + b.after(name)
}

// owes is what the bank still owes.
func (b *bank) owes() string { return b.Machine.ByBank().String() }

// A payment to the cent is booked by one tap, after the shop was named once for the account.
func TestSureLines(t *testing.T) {
	b := owed(t)
	b.Expect(b.sends("owner", "2026-11-24;Settlement;4380.00", "2026-11-26;Card takings;77.10"),
		"Which shop is this account for?|account that ends in 5678|[Example corner shop]", "Confirm")
	b.Expect(b.taps("owner", "Example"), "1 line is sure, to the cent:|Mon 23 Nov  €4,380|[Leave these]",
		"Which shop")
	b.Expect(b.taps("owner", "Confirm all"),
		"Statement done. 1 line booked.|1 line is not about the machine.|Write owed", "left open")
	if b.owes() != "1500" {
		t.Errorf("the bank owes %s", b.owes())
	}
	b.Expect(b.sends("owner", "2026-11-24;Settlement;4380.00"), "1 line was booked before.",
		"Which shop|1 line booked")
	if b.owes() != "1500" {
		t.Errorf("booked twice: the bank owes %s", b.owes())
	}
}

// Lines in doubt are asked about one by one: a way is tapped and read back, or the line
// is left open.
func TestLinesInDoubt(t *testing.T) {
	b := owed(t)
	b.sends("owner", "2026-11-26;Settlement;4375.00")
	b.Expect(b.taps("owner", "Example"), "Line 1, Thu 26 Nov: €4,375 came.|1. Mon 23 Nov: |"+
		"What is it for?|[Leave it open]",
		"sure")
	n := len(b.Entries)
	b.Expect(b.taps("owner", "1."), "€4,375 came.|Mon 23 Nov|[Confirm]", "What is it for")
	if len(b.Entries) != n {
		t.Fatal("booked before it was read back")
	}
	b.Expect(b.taps("owner", "Confirm"), "Statement done. 1 line booked.", "left open")
	if b.owes() == "5880" {
		t.Error("nothing was booked")
	}
	b = owed(t)
	b.sends("owner", "2026-11-26;Settlement;4375.00")
	b.taps("owner", "Example")
	b.Expect(b.taps("owner", "Leave it open"), "0 lines booked.|1 line is left open.", "")
	if b.owes() != "5880" {
		t.Errorf("left open, the bank owes %s", b.owes())
	}
}

// Sure lines may be left, and a statement may be left half way: what was confirmed stays.
func TestLeft(t *testing.T) {
	b := owed(t)
	b.sends("owner", "2026-11-24;Settlement;4380.00")
	b.taps("owner", "Example")
	b.Expect(b.taps("owner", "Leave these"), "0 lines booked.|1 line is left open.", "")
	if b.owes() != "5880" {
		t.Errorf("left, the bank owes %s", b.owes())
	}
	b.sends("owner", "2026-11-24;Settlement;4380.00", "2026-11-26;Settlement;490.00")
	b.taps("owner", "Confirm all")
	b.Expect(b.Says("owner", "cancel"), "Left. The line you confirmed stays booked.", "Nothing of it")
	if b.owes() != "1500" {
		t.Errorf("left half way, the bank owes %s", b.owes())
	}
	b.sends("owner", "2026-11-26;Settlement;490.00")
	b.Expect(b.Says("owner", "cancel"), "Nothing of it was booked", "stays booked")
}

// Money that is booked by hand while a statement lies open is noticed before a tap books it
// again: the file is read anew.
func TestOvertaken(t *testing.T) {
	b := owed(t)
	b.sends("owner", "2026-11-24;Settlement;4380.00", "2026-11-25;Settlement;500.00")
	b.taps("owner", "Example")
	owner := b.States[floor.ChatOf("owner")]
	delete(b.States, floor.ChatOf("owner"))
	b.Play("owner: credit 4380 for monday; [Confirm]")
	b.States[floor.ChatOf("owner")] = owner
	b.Expect(b.taps("owner", "Confirm all"), "Money was booked meanwhile, so I read the file again.",
		"2 lines booked")
	if b.owes() != "1500" {
		t.Errorf("booked twice: the bank owes %s", b.owes())
	}
}

// What a file leaves unsaid is asked: which way round a date is, and which columns hold
// day and amount. It is remembered with the shop.
func TestUnsure(t *testing.T) {
	b := owed(t)
	b.Shop.Bank = shop.Bank{}
	b.Expect(b.sendsText("owner",
		"Wann;Was;Wieviel\n2026-11-24;Abrechnung;4380,00\n2026-11-27;Sonst;12,00\n"),
		"Which column holds the day|[Wann", "What is it for")
	b.Expect(b.taps("owner", "Wann"), "And which one holds the amount?|[Wieviel", "the day the bank")
	b.Expect(b.taps("owner", "Wieviel"), "Which shop is this account for?", "column")
	b.taps("owner", "Example")
	b.Expect(b.taps("owner", "Confirm all"), "1 line booked.", "")
	if b.owes() != "1500" {
		t.Errorf("the bank owes %s", b.owes())
	}
	b = owed(t)
	b.Expect(b.sends("owner", "05/11/2026;Settlement;99.00", "06/11/2026;Settlement;98.00"),
		"Which day is |[Thu 5 Nov|[Mon 11 May", "")
	b.Expect(b.taps("owner", "Thu 5 Nov"), "Which shop is this account for?", "Which day is")
}

// A file that cannot be had or read books nothing, and says so; a file of somebody who
// keeps no books is not read at all.
func TestTrouble(t *testing.T) {
	b := owed(t)
	b.Expect(b.sendsText("owner", ""), "The file cannot be had.", "Which shop")
	b.Expect(b.sendsText("owner", "hello there"), "Nothing was booked.", "Which shop")
	b.Expect(b.sends("staff1", "2026-11-24;Settlement;4380.00"),
		"only for a bookkeeper, a manager or an owner", "Which")
	if b.Last.Orders.Read != nil || b.owes() != "5880" {
		t.Error("the file of a member of staff is read")
	}
	b.Expect(b.Says("owner", "statement"), "Send me the bank's statement as a file", "")
}

// While something else is under way a statement waits for a tap; a tap of no statement is
// no tap.
func TestWaits(t *testing.T) {
	b := owed(t)
	b.Says("owner", "credit")
	b.Expect(b.sends("owner", "2026-11-24;Settlement;4380.00"), "Finish what is open, then tap.|"+
		"[Look at it]", "Which shop")
	look, ok := b.Button("owner", "Look at it")
	if !ok {
		t.Fatal("no way to look at it")
	}
	b.Expect(b.taps("owner", "Look at it"), "bot!> ", "Which shop")
	b.Says("owner", "cancel")
	b.Expect(b.taps("owner", "Look at it"), "Which shop is this account for?", "")
	b.Says("owner", "cancel")
	for _, data := range []string{"0", "x", "-1"} {
		b.Press("owner", chat.Button{Label: "?", Data: look.Data[:strings.LastIndex(look.Data,
			":")+1] + data})
		if b.Last.Orders.Read != nil || b.State("owner").Flow == "statement" {
			t.Errorf("%q begins a statement", data)
		}
	}
	if slices.ContainsFunc(b.Entries, func(e books.Entry) bool { return e.Kind == books.Credit }) {
		t.Error("something was booked")
	}
}

// An owner of many shops names those of an account page by page; what was ticked on one stays
// ticked, and the naming ends from any of them.
func TestManyShops(t *testing.T) {
	b := owed(t)
	knows := b.Knows
	b.Knows = func(facts *chat.Facts) {
		knows(facts)
		facts.Ask.Sites = func() (list []chat.Site) {
			for i := range 14 {
				s := *b.Shop
				s.ID, s.Name = shop.ID(i+1), fmt.Sprintf("Shop %02d", i+1)
				list = append(list, chat.Site{Shop: &s, Person: facts.Person, Machine: b.Machine})
			}
			return list
		}
	}
	b.Expect(b.sends("owner", "2026-11-24;Settlement;4380.00"), "[Shop 01]|[Shop 06]|[Next ones]",
		"[Shop 07]|That is all")
	b.Expect(b.taps("owner", "Shop 02"), "[✓ Shop 02]|[Next ones]|[That is all]", "[Shop 07]")
	b.Expect(b.taps("owner", "Next ones"), "[Shop 07]|[Shop 12]|[That is all]", "Shop 02")
	b.taps("owner", "Shop 07")
	b.Expect(b.taps("owner", "✓ Shop 07"), "[Shop 07]|[That is all]", "✓")
	b.taps("owner", "Shop 12")
	b.Taps("owner", "That is all")
	tie := b.Last.Orders.Tie
	if tie == nil || !slices.Equal(tie.Shops, []shop.ID{2, 12}) || b.State("owner").Draft.Page != 0 {
		t.Errorf("tied to %+v", tie)
	}
}

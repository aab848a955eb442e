package owing_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/abacus"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/dues"
	"shopfloat/internal/owing"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// hall is what a shop of two machines is told by: this one and one in the hall, whose books
// are as given.
func hall(f *floor.Floor, there *books.Machine, entries ...books.Entry) *telling.Teller {
	f.Shop.Machines = append(f.Shop.Machines[:1:1], shop.Machine{ID: 2, Name: "Hall"})
	f.Knows = func(facts *chat.Facts) {
		facts.Ask.At = func(shop.MachineID) (*books.Machine, bool, chat.Ask) {
			return there, false, chat.Ask{Since: func(seq int64) []books.Entry { return abacus.From(entries, seq) }}
		}
	}
	return teller(f)
}

// What is typed of a payment for another machine is there again behind the button that leads
// there: the same sum, day, charges and fee, of every way to leave some of it out.
func TestCarriedIsWhatWasTyped(t *testing.T) {
	tell := hall(floor.New(t, dialogs.New), books.New(2))
	days := map[string]shop.Date{"": "", " for 24 november": "2026-11-24", " for 3 march 2026": "2026-03-03"}
	for _, sum := range []string{"500", "0.01", "1234.5", "98765432.10"} {
		for said, day := range days {
			for _, charged := range []string{"0", "6", "12.50"} {
				for _, fee := range []string{"0", "4", "0.75"} {
					typed := "hall " + sum + said
					if charged != "0" {
						typed += ", charges " + charged
					}
					if fee != "0" {
						typed += ", fee " + fee
					}
					kit, _, short, left := owing.Elsewhere(tell, typed)
					if kit == nil || kit.ID != 2 || left != "" || len(short) > 40 {
						t.Fatalf("%q: %v, carries %q, leaves %q", typed, kit, short, left)
					}
					carried := owing.Carried(tell, short)
					v, more, ok := owing.MoneyFirst(tell, carried)
					gotCharged, gotFee, more := owing.Beside(tell, more)
					on := shop.Date("")
					if more != "" {
						from, to, rest := telling.PastDays(tell, more)
						if on = from; from != to || rest != "" {
							t.Errorf("%q: %q is no day", typed, more)
						}
					}
					if !ok || !v.Equal(parsed(sum)) || !gotCharged.Equal(parsed(charged)) ||
						!gotFee.Equal(parsed(fee)) || on != day {
						t.Errorf("%q is carried as %q: %s, charges %s, fee %s, for %q", typed, carried, v, gotCharged,
							gotFee, on)
					}
				}
			}
		}
	}
}

func parsed(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// What of it no button can carry is said to be left, so that nothing is lost without a word.
func TestElsewhere(t *testing.T) {
	tell := hall(floor.New(t, dialogs.New), books.New(2))
	for words, want := range map[string]string{
		"500 for tuesday":                      "here|500 for tuesday||",
		"500 for the cash machine":             "here|500||",
		"cash machine, 500":                    "here|500||",
		"hall":                                 "Hall|||",
		"hall tuesday":                         "Hall|tuesday||tuesday",
		"hall 500 for monday to tuesday":       "Hall|500 for monday to tuesday|500|for monday to tuesday",
		"500 hall for the blue one":            "Hall|500  for the blue one|500|for the blue one",
		"500 hall ref AB12":                    "Hall|500  ref ab12|500|ab12",
		"500 hall, for tuesday, charges 6":     "Hall|500 , for tuesday, charges 6|500-2026-11-24-c6|",
		"500 hall for tuesday, fee 4 ref RF18": "Hall|500  for tuesday, fee 4 ref rf18|500-2026-11-24-f4|rf18",
	} {
		kit, rest, short, left := owing.Elsewhere(tell, words)
		name := "here"
		if kit != nil {
			name = kit.Name
		}
		if got := strings.Join([]string{name, rest, short, left}, "|"); got != want {
			t.Errorf("%q: %s, want %s", words, got, want)
		}
	}
	alone := teller(floor.New(t, dialogs.New))
	if kit, rest, _, _ := owing.Elsewhere(alone, "hall 500"); kit != nil || rest != "hall 500" {
		t.Errorf("one machine alone: %v, %q", kit, rest)
	}
}

// The rest of a payment that was split goes on with the reference of its first part, from the
// machine where that stands, and without one where none is to be found.
func TestRestOfPayment(t *testing.T) {
	entry := func(seq int64, ref string) books.Entry {
		return books.Entry{Seq: seq, Machine: 2, Record: books.Record{Kind: books.Credit, Ref: ref}}
	}
	there := books.New(2)
	there.Seq = 31
	tell := hall(floor.New(t, dialogs.New), there, entry(29, "OLD1"), entry(31, "RF18-5390"), entry(32, "NEW1"))
	at := tell.At(&tell.F.Shop.Machines[1])
	short := owing.RestOf(at, parsed("20.5"))
	if short != "20.5-e31.2" {
		t.Fatalf("the button carries %q", short)
	}
	for carries, want := range map[string]string{
		short: "20.5 ref RF18-5390", "20-e29.2": "20 ref OLD1",
		"20-e30.2": "20", // no such record
		"20-e31.3": "20", // no such machine
		"20-e31.1": "20", // this machine's 31st is none
		"20":       "20", "": "",
	} {
		if got := owing.Carried(tell, carries); got != want {
			t.Errorf("%q is carried as %q, want %q", carries, got, want)
		}
	}
	card := owing.SplitCard(tell, "split", short, tell.F.Shop.Machines[1], "One.", "Two.")
	if b := card.Buttons[0][0]; b.Label != "Write it down for Hall" || b.Data != "o:split:20.5-e31.2:2" ||
		said(card.Body) != "One.\nTwo." || card.Key != "split" || card.Retire != "split" {
		t.Errorf("the card: %+v", card)
	}
}

// A gap that is just what another machine is owed says so; one whose figures are hidden, and
// one that is owed another sum, say nothing.
func TestGapNamesTheOtherMachine(t *testing.T) {
	f := owed(t)
	there := books.New(2)
	claims(there, 2) // 100 for Mon 3 Aug, 101 for Tue 4 Aug
	tell := hall(f, there)
	over := &dues.Line{Amount: money(601), Of: []int64{f.Machine.Claims[1].Seq}} // 500 is due for Tuesday
	floor.Expect(t, said(owing.Gap(tell, over)),
		"€101 more than Tue 24 Nov.|It is exactly what Hall is owed for Tue 4 Aug.", "Nothing on record")
	over.Amount = money(602)
	floor.Expect(t, said(owing.Gap(tell, over)), "€102 more than Tue 24 Nov.|Nothing on record fits", "Hall")
	f.Knows = func(facts *chat.Facts) {
		facts.Ask.At = func(shop.MachineID) (*books.Machine, bool, chat.Ask) { return there, true, chat.Ask{} }
	}
	over.Amount = money(601)
	floor.Expect(t, said(owing.Gap(teller(f), over)), "€101 more than Tue 24 Nov.", "Hall")
}

// A payment is lined up with what is due, and with what is said to be in it; behind it stands
// whether more is to come.
func TestPaymentLinedUp(t *testing.T) {
	f := owed(t)
	tell := teller(f)
	tuesday := []int64{f.Machine.Claims[1].Seq}
	for _, s := range []struct {
		line             dues.Line
		rows, due, still string
	}{
		{dues.Line{Amount: money(500), Of: tuesday}, "came                €500\ndue for Tue 24 Nov  €500", "",
			"Still to come for Tue 24 Nov: €500."},
		{dues.Line{Amount: money(498), Of: tuesday, Charged: money(6), Fee: money(4), Ref: "RF18"},
			"came                  €498\ndue for Tue 24 Nov    €500\ncharges in it           €6\n" +
				"our fee income in it    €4", "The bank's reference: “RF18”",
			"Still to come for Tue 24 Nov: €500."},
		{dues.Line{Amount: money(7)}, "", "", ""},
	} {
		if got := owing.Payment(tell, &s.line).Text; s.rows != "" && got != s.rows {
			t.Errorf("lined up:\n%s\nwant:\n%s", got, s.rows)
		}
		if got := owing.RefLine(tell, &s.line); got != s.due {
			t.Errorf("the reference: %q, want %q", got, s.due)
		}
		if got := owing.StillDue(tell, &s.line); got != s.still {
			t.Errorf("still due: %q, want %q", got, s.still)
		}
	}
	f.Machine.Claims[1].Paid = money(500)
	if got := owing.StillDue(tell, &dues.Line{Of: tuesday}); got != "Nothing more is to come for Tue 24 Nov." {
		t.Errorf("still due of what is paid: %q", got)
	}
}

// What the bank took is said in one sentence for each reason, and what it never paid beside.
func TestTaken(t *testing.T) {
	f := owed(t)
	tell := teller(f)
	f.Machine.Claims[0].Paid = money(300) // of 4,380
	f.Machine.Claims[1].Paid = money(560) // 60 more than the 500 that were due
	of := func(i int) []int64 { return []int64{f.Machine.Claims[i].Seq} }
	for _, s := range []struct {
		line      dues.Line
		want, not string
	}{
		{dues.Line{Amount: money(300), Of: of(0)},
			"The bank took €300 of its payment for Mon 23 Nov back. It owes that again.", "never paid"},
		{dues.Line{Amount: money(320), Of: of(0), Ref: "RF18"},
			"The bank took €320 of its payment|It never paid €20 of that for it|reference: “RF18”", ""},
		{dues.Line{Amount: money(60), Of: of(1)},
			"The bank took back €60 that it had paid too much for Tue 24 Nov.", "again|never paid"},
		{dues.Line{Amount: money(61), Of: of(1)}, "The bank took €61 of its payment for Tue 24 Nov back.",
			"too much|never paid"},
		{dues.Line{Amount: money(15), Whole: books.Charge}, "The bank took €15 in charges.", "Nov"},
		{dues.Line{Amount: money(15), Whole: dues.Loose}, "The bank took back €15 that was not ours.", "Nov"},
		{dues.Line{Amount: money(15), Whole: books.Dispute},
			"The bank took €15 for a customer's claim about Sun 22 Nov.", "Mon"},
	} {
		floor.Expect(t, said(owing.Taken(tell, &s.line, "2026-11-22")), s.want, s.not)
	}
	for _, s := range []struct {
		of   []int64
		took bool
		want string
	}{
		{nil, false, "For that day the bank owes nothing that I know of."},
		{nil, true, "For that day the bank owes nothing that I know of."},
		{of(2), false, ""}, {of(0), true, ""}, {append(of(0), of(2)...), true, ""},
		{of(2), true, "The bank has paid nothing for Wed 25 Nov that it could take back. " +
			"If it is a customer's claim, tap that."},
	} {
		if got := owing.NothingThere(tell, s.of, s.took); got != s.want {
			t.Errorf("%v, taken %t: %q, want %q", s.of, s.took, got, s.want)
		}
	}
}

// The bank's reference is kept in the letters in which it was typed, with what it is for; the
// payments that can be meant are those for that day, or all that are at hand.
func TestReferred(t *testing.T) {
	f := owed(t)
	f.Play("owner: credit 4380 for monday; [Confirm]; credit 500 for tuesday; [Confirm]; " +
		"debit 100 for monday; [Confirm]; debit 12.50; [The bank's charges]; [Confirm]")
	tell := teller(f)
	last := int64(len(f.Entries))
	monday, tuesday, back, charge := last-3, last-2, last-1, last
	for _, s := range []struct {
		typed, ref string
		list       []int64
		day        bool
	}{
		{"AB12 for monday", "AB12", []int64{monday, back}, true},
		{"Ab12, for tuesday", "Ab12", []int64{tuesday}, true},
		{"AB12", "AB12", []int64{monday, tuesday, back, charge}, false},
		{"AB12 for wednesday", "AB12", nil, true},
		{"AB12 blue moon", "AB12", nil, false},
		{"AB12 for sunday", "AB12", nil, true},
		{"", "", nil, false},
	} {
		ref, list, day := owing.Referred(tell, strings.ToLower(s.typed), s.typed)
		if ref != s.ref || fmt.Sprint(list) != fmt.Sprint(s.list) || day != s.day {
			t.Errorf("%q: %q %v %t, want %q %v %t", s.typed, ref, list, day, s.ref, s.list, s.day)
		}
	}
	for seq, want := range map[int64]string{monday: "Thu 26 Nov, €4,380", charge: "Thu 26 Nov, €12.50"} {
		if got := owing.PaymentName(tell, f.Entries[seq-1]); got != want {
			t.Errorf("payment %d is %q, want %q", seq, got, want)
		}
	}
	e := f.Entries[tuesday-1]
	r := owing.WithReference(e, "AB12")
	if r.Kind != books.Correction || r.Target != tuesday || r.Reason != books.KnownNow ||
		r.Instead.Ref != "AB12" || !r.Instead.Amounts[0].Value.Equal(money(500)) || e.Ref != "" {
		t.Errorf("corrected by %+v", r)
	}
	tell.F.Ask.Since = nil
	ref, list, day := owing.Referred(tell, "ab12 for monday", "AB12 for monday")
	if ref != "AB12" || list != nil || day {
		t.Errorf("without a ledger: %q %v %t", ref, list, day)
	}
}

// A reference stands behind its word, wherever that stands in what was typed.
func TestReferenceInText(t *testing.T) {
	tell := teller(floor.New(t, dialogs.New))
	for typed, want := range map[string]string{
		"1240 for monday, ref AB12":    "AB12|1240 for monday",
		"ref AB12, 1240 for monday":    "AB12|1240 for monday",
		"1240 Reference: Rf-9; monday": "Rf-9|1240 monday",
		"1240 for monday":              "|1240 for monday",
		"1240 ref":                     "|1240 ref",
		"ref ab ref cd":                "ab|ref cd",
	} {
		low := strings.ToLower(typed)
		ref, rest := owing.Reference(tell, low, typed)
		if got := ref + "|" + rest; !strings.EqualFold(got, want) || ref != strings.SplitN(want, "|", 2)[0] {
			t.Errorf("%q: %s, want %s", typed, got, want)
		}
	}
	if ref, _ := owing.Reference(tell, "ref ab12", "something else"); ref != "ab12" {
		t.Errorf("what was typed is not at hand: %q", ref)
	}
}

package main

import (
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
	"shopfloat/internal/stand"
)

// readJournal is a reader of plain-text journals of its own: it checks that every
// transaction adds up to nothing and every assertion holds, and gives what stands
// on each account. The grammar is what hledger and ledger have in common: a day
// and words, then postings behind blanks, two blanks before the amount.
func readJournal(t *testing.T, text string) (map[string]decimal.Decimal, int) {
	t.Helper()
	on, asserted := map[string]decimal.Decimal{}, 0
	rest := decimal.Zero
	close := func(at int) {
		if !rest.IsZero() {
			t.Errorf("the transaction before line %d leaves %s", at, rest)
		}
		rest = decimal.Zero
	}
	for i, line := range strings.Split(text, "\n") {
		switch {
		case line == "" || line[0] == ';' || strings.HasPrefix(line, "commodity "):
		case line[0] != ' ':
			close(i)
			if _, err := shop.ParseDate(line[:10]); err != nil {
				t.Fatalf("line %d: %v", i+1, err)
			}
		default:
			line, _, _ = strings.Cut(line, "  ;") // what is said of the posting
			account, amount, ok := strings.Cut(strings.TrimLeft(line, " "), "  ")
			amount, claim, asserts := strings.Cut(amount, " = ")
			value, unit, _ := strings.Cut(amount, " ")
			if !ok || len(unit) != 3 {
				t.Fatalf("line %d: %q", i+1, line)
			}
			d := decimal.RequireFromString(value)
			on[account] = on[account].Add(d)
			rest = rest.Add(d)
			if asserts {
				asserted++
				if want, _, _ := strings.Cut(claim, " "); !on[account].Equal(decimal.RequireFromString(want)) {
					t.Errorf("line %d: %s is %s, asserted %s", i+1, account, on[account], want)
				}
			}
		}
	}
	close(0)
	return on, asserted
}

// sumOf adds up the accounts of a machine that begin so.
func sumOf(on map[string]decimal.Decimal, machine, kind, name string) (sum decimal.Decimal) {
	for a, d := range on {
		if strings.HasPrefix(a, kind+":"+machine+":"+name) {
			sum = sum.Add(d)
		}
	}
	return sum
}

// agreesWithFloat compares what a journal ends with and what `float` tells.
func agreesWithFloat(t *testing.T, on map[string]decimal.Decimal, machine string, s stand.Stand) {
	t.Helper()
	gaps := map[stand.Reach]decimal.Decimal{}
	for _, g := range s.Gaps {
		gaps[g.Why] = g.Value
	}
	for name, want := range map[string]struct {
		kind, account string
		value         decimal.Decimal
	}{
		"inside":   {"assets", "machine:", s.Inside},
		"cash":     {"assets", "cash", s.Cash.Sub(s.Taken)},
		"till":     {"assets", "till", s.Till},
		"by bank":  {"assets", "owed by the bank", s.ByBank},
		"came":     {"assets", "bank account", s.Came},
		"brought":  {"equity", "notes of the bank", s.Brought.Neg()},
		"count":    {"expenses", "differences", gaps[stand.ByCount].Neg()},
		"figures":  {"assets", "paid out, no slip yet", gaps[stand.NoFigures].Neg()},
		"amounts":  {"equity", "slips without notes", gaps[stand.ByAmount].Neg()},
		"fees":     {"income", "fees", gaps[stand.ByFees].Neg()},
		"charges":  {"expenses", "charges of the bank", gaps[stand.ByCharge].Neg()},
		"disputes": {"expenses", "claims of customers", gaps[stand.ByDispute].Neg()},
		"given up": {"expenses", "given up", gaps[stand.ByGivenUp].Neg()},
		"loose":    {"liabilities", "paid for nothing known", gaps[stand.ByLoose].Neg()},
	} {
		if got := sumOf(on, machine, want.kind, want.account); !got.Equal(want.value) {
			t.Errorf("%s: %s, float says %s", name, got, want.value)
		}
	}
}

// started opens a file once with the program as it is, as its owner would.
func started(t *testing.T, file string) string {
	t.Helper()
	e := &env{ctx: t.Context(), stdin: strings.NewReader(""), stdout: &strings.Builder{},
		stderr: &strings.Builder{}}
	if code := run(e, []string{"chat", "--db", file, "--script", "-"}); code != 0 {
		t.Fatalf("%s: exit %d, %s", file, code, e.stderr)
	}
	return file
}

// Of every file of an earlier program the journal adds up, its assertions hold,
// and what it ends with is what `float` tells.
func TestJournalAgreesWithFloat(t *testing.T) {
	t.Parallel()
	var closes atomic.Int64
	inEach(t, some(t, fixtureNames(t)), func(t *testing.T, name string) {
		file := started(t, unpacked(t, name))
		code, stdout, stderr := command("journal", "--db", file)
		if code != 0 {
			t.Fatalf("exit %d, %s", code, stderr)
		}
		on, asserted := readJournal(t, stdout)
		closes.Add(int64(asserted))
		e := &env{ctx: t.Context()}
		err := eachLedger(e, file, 0, "", func(s *shop.Shop, kit *shop.Machine, entries []books.Entry) error {
			stand, err := stand.At(kit.ID, entries, time.Time{})
			if err == nil && strings.Count(stdout, ":"+kit.Name+":") > 0 {
				agreesWithFloat(t, on, s.Name+":"+kit.Name, stand)
			}
			return err
		})
		if err != nil {
			t.Error(err)
		}
	})
	if n := closes.Load(); n < 100 {
		t.Errorf("only %d assertions in all files", n)
	}
}

// A span begins with what was before, and ends where the whole does at its end.
func TestJournalOfASpan(t *testing.T) {
	t.Parallel()
	file := tradingWeek(t)
	out := filepath.Join(t.TempDir(), "out.journal")
	if code, stdout, stderr := command("journal", "--db", file, "--from", "2026-11-11", "--out",
		out); code != 0 ||
		stdout != "" {
		t.Fatalf("exit %d, %s%s", code, stdout, stderr)
	}
	_, whole, _ := command("journal", "--db", file)
	all, _ := readJournal(t, whole)
	span, asserted := readJournal(t, read(t, out))
	if asserted == 0 || strings.Contains(read(t, out), "2026-11-10") || !strings.Contains(read(t, out),
		"balances before") {
		t.Errorf("not the span:\n%s", read(t, out))
	}
	for a, d := range all {
		if !span[a].Equal(d) {
			t.Errorf("%s ends with %s, in the whole with %s", a, span[a], d)
		}
	}
	_, first, _ := command("journal", "--db", file, "--to", "2026-11-10")
	on, _ := readJournal(t, first)
	if got := sumOf(on, "Example corner shop:Cash machine", "assets", "owed"); got.String() != "8780" {
		t.Errorf("owed after two days: %s, want 4380 + 4400", got)
	}
}

// The other family's file opens every account before it is used, and asserts.
func TestBeancount(t *testing.T) {
	code, stdout, stderr := command("journal", "--db", tradingWeek(t), "--format", "beancount")
	if code != 0 {
		t.Fatalf("exit %d, %s", code, stderr)
	}
	opened, sum := map[string]bool{}, map[string]decimal.Decimal{}
	balances := 0
	for _, line := range strings.Split(stdout, "\n") {
		f := strings.Fields(line)
		switch {
		case len(f) < 3 || f[0] == ";":
		case f[1] == "open":
			opened[f[2]] = true
		case f[1] == "balance":
			balances++
			if !sum[f[2]].Equal(decimal.RequireFromString(f[3])) {
				t.Errorf("%s: is %s", line, sum[f[2]])
			}
		case line[0] == ' ':
			if !opened[f[0]] {
				t.Errorf("%s is not open", f[0])
			}
			sum[f[0]] = sum[f[0]].Add(decimal.RequireFromString(f[1]))
		}
	}
	if balances != 4*3 {
		t.Errorf("%d balances, want those of three boxes at four closes", balances)
	}
	if !opened["Assets:ExampleCornerShop:CashMachine:Machine:Box1"] {
		t.Errorf("accounts %v", opened)
	}
}

func TestJournalErr(t *testing.T) {
	file := seeded(t, 1)
	for line, want := range map[string]string{
		"--format other":                         "want plain or beancount",
		"--from yesterday":                       "--from",
		"--from 2026-11-10 --to 2026-11-09":      "is after",
		"--shop 9":                               "no such shop",
		"--out " + filepath.Join(file, "x", "y"): "",
	} {
		code, stdout, stderr := command(append([]string{"journal", "--db", file}, strings.Fields(line)...)...)
		if code != 2 || stdout != "" || !strings.Contains(stderr, want) {
			t.Errorf("%q: exit %d, %q, %s", line, code, stdout, stderr)
		}
	}
	if code, stdout, stderr := command("journal", "--db", file); code != 0 || !strings.HasPrefix(stdout,
		"; Written") {
		t.Errorf("nothing recorded: exit %d, %q, %s", code, stdout, stderr)
	}
}

package statement_test

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"

	"golang.org/x/text/encoding/charmap"

	"shopfloat/internal/statement"
)

// Every version of camt.053 that is in use, and both of OFX, tell the same lines.
func TestFormatsAgree(t *testing.T) {
	withPending := append(demoLines[:2:2], told{"2026-11-11", "99.00", "A-9", "X", "held", "pending"})
	withPending = append(withPending, demoLines[2:]...)
	const want = "1 2026-11-10 4380.00 EUR A-1001|Cash Settlement Services|SETTLEMENT 0912\n" +
		"2 2026-11-10 -61.15 EUR A-1002|Bäckerei Süß & Söhne|Invoice 77\n" +
		"3 2026-11-11 4400.00 EUR A-1003|Cash Settlement Services|SETTLEMENT 0913\n" +
		"4 2026-11-11 12.50 EUR A-1004|Café Zoë|refund\n" +
		"5 2026-11-12 -4400.00 EUR A-1005|Cash Settlement Services|SETTLEMENT 0913 RETURNED"
	files := map[string]string{"ofx1": ofx1(withPending), "ofx2": ofx2(withPending), "csv": csvFile(withPending)}
	for _, v := range []int{2, 3, 4, 5, 6, 7, 8, 13} {
		files[fmt.Sprint("camt ", v)] = camt(v, withPending)
	}
	for name, file := range files {
		got, rep, err := read([]byte(file), statement.Options{})
		end := want + " reversal\n"
		balance := statement.Unchecked // OFX and this table tell no balance at the begin
		switch {
		case name == "csv":
			end = want + "\n"
		case strings.HasPrefix(name, "camt"):
			balance = statement.Agrees
		}
		if err != nil || got != end || rep.Pending != 1 || rep.Balance != balance {
			t.Errorf("%s: %v %+v\n%s", name, err, rep, got)
		}
	}
}

// Namespaces of a bank's own, and prefixes, change nothing.
func TestNamespaces(t *testing.T) {
	s := camt(8, demoLines)
	want, _, _ := read([]byte(s), statement.Options{})
	other := strings.Replace(s, "urn:iso:std:iso:20022:tech:xsd:camt.053.001.08", "urn:example:ours", 1)
	prefixed := strings.NewReplacer("</", "</n:", "<?", "<?", "<", "<n:").Replace(s)
	prefixed = strings.NewReplacer("<n:?", "<?", "<n:/n:", "</n:", "xmlns=", "xmlns:n=").Replace(prefixed)
	for _, file := range []string{other, prefixed} {
		if got, _, err := read([]byte(file), statement.Options{}); err != nil || got != want {
			t.Errorf("%v\n%s\n%s", err, got, file[:300])
		}
	}
}

// A batch is a line for each transaction when these are told and make up the
// booking; a line that carries the bank's charges tells them.
func TestBatches(t *testing.T) {
	tx := func(amount, ref string) string {
		return `<TxDtls><Refs><AcctSvcrRef>` + ref + `</AcctSvcrRef></Refs>` + amount + `</TxDtls>`
	}
	entry := func(amount, rest string) string {
		return `<Document><BkToCstmrDbtCdtNtfctn><Ntfctn><Acct><Id><Othr><Id>77</Id></Othr></Id></Acct><Ntry>` +
			`<Amt Ccy="EUR">` + amount + `</Amt><CdtDbtInd>CRDT</CdtDbtInd><Sts>BOOK</Sts><BookgDt><DtTm>` +
			`2026-11-10T23:30:00-05:00</DtTm></BookgDt><AcctSvcrRef>B</AcctSvcrRef>` + rest +
			`</Ntry></Ntfctn></BkToCstmrDbtCdtNtfctn></Document>`
	}
	for name, c := range map[string]struct{ file, want string }{
		"amounts": {entry("30.00", "<NtryDtls>"+
			tx(`<Amt Ccy="EUR">10.00</Amt>`, "1")+tx(`<Amt Ccy="EUR">20.00</Amt>`, "2")+
			"</NtryDtls>"), "1 2026-11-10 10.00 EUR 1||\n2 2026-11-10 20.00 EUR 2||\n"},
		"older form": {entry("30.00", "<NtryDtls>"+
			tx(`<AmtDtls><TxAmt><Amt Ccy="EUR">10.00</Amt></TxAmt></AmtDtls>`, "1")+
			tx(`<AmtDtls><TxAmt><Amt Ccy="EUR">20.00</Amt></TxAmt></AmtDtls>`, "2")+"</NtryDtls>"),
			"1 2026-11-10 10.00 EUR 1||\n2 2026-11-10 20.00 EUR 2||\n"},
		"one goes out": {entry("10.00", "<NtryDtls>"+
			tx(`<Amt Ccy="EUR">30.00</Amt><CdtDbtInd>CRDT</CdtDbtInd>`, "1")+
			tx(`<Amt Ccy="EUR">20.00</Amt><CdtDbtInd>DBIT</CdtDbtInd>`, "2")+"</NtryDtls>"),
			"1 2026-11-10 30.00 EUR 1||\n2 2026-11-10 -20.00 EUR 2||\n"},
		"not told": {entry("30.00", "<NtryDtls>"+tx("", "1")+tx("", "2")+"</NtryDtls>"),
			"1 2026-11-10 30.00 EUR B||\n"},
		"do not add up": {entry("30.00", "<NtryDtls>"+tx(`<Amt Ccy="EUR">10.00</Amt>`, "1")+
			tx(`<Amt Ccy="EUR">21.00</Amt>`, "2")+"</NtryDtls>"), "1 2026-11-10 30.00 EUR B||\n"},
		"other money": {entry("30.00", "<NtryDtls>"+tx(`<Amt Ccy="USD">10.00</Amt>`, "1")+
			tx(`<Amt Ccy="USD">20.00</Amt>`, "2")+"</NtryDtls>"), "1 2026-11-10 30.00 EUR B||\n"},
		"charges": {entry("4370.00", `<Chrgs><Rcrd><Amt Ccy="EUR">10.00</Amt></Rcrd></Chrgs>`),
			"1 2026-11-10 4370.00 EUR B|| charges 10\n"},
		"charges twice": {entry("4370.00", `<Chrgs><TtlChrgsAndTaxAmt Ccy="EUR">10.00</TtlChrgsAndTaxAmt>`+
			`<Rcrd><Amt Ccy="EUR">6.00</Amt></Rcrd><Rcrd><Amt Ccy="EUR">4.00</Amt></Rcrd></Chrgs>`),
			"1 2026-11-10 4370.00 EUR B|| charges 20\n"},
	} {
		got, rep, err := read([]byte(c.file), statement.Options{})
		if name == "charges twice" {
			c.want = strings.Replace(c.want, "charges 20", "charges 10", 1) // the sum is not added to its parts
		}
		if err != nil || got != c.want || rep.Format != statement.Camt054 || rep.Balance != statement.Unchecked {
			t.Errorf("%s: %v %+v\n%s", name, err, rep, got)
		}
	}
}

// A balance that the lines do not lead to is seen, a booking left out likewise.
func TestBalances(t *testing.T) {
	s := camt(8, demoLines)
	for name, c := range map[string]struct {
		file string
		want statement.Check
	}{
		"as it is":       {s, statement.Agrees},
		"a cent":         {strings.Replace(s, `EUR">4380.00<`, `EUR">4380.01<`, 1), statement.Differs},
		"sign":           {strings.Replace(s, "DBIT", "CRDT", 1), statement.Differs},
		"no begin":       {strings.Replace(s, "OPBD", "OPAV", 1), statement.Unchecked},
		"the one before": {strings.Replace(s, "OPBD", "PRCD", 1), statement.Agrees},
		"pages":          {strings.NewReplacer("OPBD", "ITBD", "CLBD", "ITBD").Replace(s), statement.Agrees},
		"table up": {"Date,Amount,Balance\n2026-11-09,10.00,110.00\n2026-11-10,-5.00,105.00\n",
			statement.Agrees},
		"table down": {"Date,Amount,Balance\n2026-11-10,-5.00,105.00\n2026-11-09,10.00,110.00\n",
			statement.Agrees},
		"table differs": {"Date,Amount,Balance\n2026-11-09,10.00,110.00\n2026-11-10,-5.00,104.00\n",
			statement.Differs},
		"one row": {"Date,Amount,Balance\n2026-11-09,10.00,110.00\n", statement.Unchecked},
	} {
		if _, rep, err := read([]byte(c.file), statement.Options{}); err != nil || rep.Balance != c.want {
			t.Errorf("%s: %s %v, want %s", name, rep.Balance, err, c.want)
		}
	}
}

// tables gives the tables of testdata/tables.txt by name.
func tables(t *testing.T) map[string]string {
	t.Helper()
	all, err := os.ReadFile("testdata/tables.txt")
	if err != nil {
		t.Fatal(err)
	}
	list := map[string]string{}
	for _, part := range strings.Split(string(all), "--- ")[1:] {
		name, table, _ := strings.Cut(part, "\n")
		list[name] = table
	}
	return list
}

// Each table is the same two lines, also with lines that end otherwise, in the
// alphabet of old programs, and once its layout is remembered.
func TestTables(t *testing.T) {
	const want = "1 2026-11-09 4380.00 EUR ||one\n2 2026-11-13 -1234.50 EUR ||two\n"
	all := tables(t)
	if len(all) < 18 {
		t.Fatalf("only %d tables", len(all))
	}
	for name, table := range all {
		opt := statement.Options{Currency: "EUR"}
		if name == "order known" {
			opt.Dates = statement.MonthDay // the file itself says otherwise
		}
		got, rep, err := read([]byte(table), opt)
		if err != nil || got != want || rep.Layout == nil {
			t.Errorf("%s: %v %+v\n%s", name, err, rep.Layout, got)
			continue
		}
		opt.Layout = rep.Layout
		for _, file := range []string{table, strings.ReplaceAll(table, "\n", "\r\n")} {
			if again, _, err := read([]byte(file), opt); err != nil || again != want {
				t.Errorf("%s with its layout: %v\n%s", name, err, again)
			}
		}
		if old, err := charmap.Windows1252.NewEncoder().String(table); err == nil {
			if again, _, err := read([]byte(old), opt); err != nil || again != want {
				t.Errorf("%s in Windows-1252: %v\n%s", name, err, again)
			}
		}
	}
}

// Where both orders can be, days that run one way decide, else the country, else
// it is asked.
func TestDateOrders(t *testing.T) {
	table := func(days ...string) []byte {
		return []byte("Date,Amount\n" + strings.Join(days, ",1.00\n") + ",1.00\n")
	}
	for _, c := range []struct {
		days []string
		opt  statement.Order
		want string
	}{
		{[]string{"01/11/2026", "02/11/2026", "12/11/2026", "13/11/2026"}, "", "2026-11-01"},
		{[]string{"11/01/2026", "11/02/2026", "12/01/2026"}, "", "2026-11-01"},
		{[]string{"01/02/2026", "04/03/2026", "02/01/2026"}, statement.DayFirst, "2026-02-01"},
		{[]string{"01/02/2026", "04/03/2026", "02/01/2026"}, statement.MonthDay, "2026-01-02"},
		{[]string{"05/05/2026", "06/06/2026"}, "", "2026-05-05"},
	} {
		got, _, err := read(table(c.days...), statement.Options{Dates: c.opt})
		if err != nil || !strings.HasPrefix(got, "1 "+c.want) {
			t.Errorf("%v %s: %v %s", c.days, c.opt, err, got)
		}
	}
	_, _, err := read(table("01/02/2026", "04/03/2026", "02/01/2026"), statement.Options{})
	var p *statement.Problem
	if !errors.As(err, &p) || p.Code != statement.DateOrder {
		t.Errorf("not asked: %v", err)
	}
}

// Some programs leave the end of a transaction out, as values do; none of it is lost.
func TestTransactionsWithoutEnd(t *testing.T) {
	const one = "<STMTTRN><TRNTYPE>CREDIT<DTPOSTED>2026111"
	file := "OFXHEADER:100\nDATA:OFXSGML\n\n<OFX><BANKMSGSRSV1><STMTTRNRS><STMTRS><CURDEF>EUR" +
		"<BANKACCTFROM><ACCTID>12345</BANKACCTFROM><BANKTRANLIST>\n" +
		one + "0<TRNAMT>-850.00<FITID>1<NAME>RENT\n" + one + "1<TRNAMT>4380.00<FITID>2<NAME>BANK\n" +
		one + "2<TRNAMT>4400,00<FITID>3<NAME>BANK\n" +
		"</BANKTRANLIST></STMTRS></STMTTRNRS></BANKMSGSRSV1></OFX>\n"
	var got []string
	report, err := statement.Read(strings.NewReader(file), int64(len(file)), statement.Options{},
		func(l statement.Line) error {
			got = append(got, string(l.Day)+" "+l.Amount.StringFixed(2)+" "+l.Ref+" "+l.Name)
			return nil
		})
	want := "2026-11-10 -850.00 1 RENT|2026-11-11 4380.00 2 BANK|2026-11-12 4400.00 3 BANK"
	if said := strings.Join(got, "|"); err != nil || said != want || report.Lines != 3 {
		t.Errorf("%d lines, %v: %s", report.Lines, err, said)
	}
}

package statement_test

import (
	"fmt"
	"strings"

	"github.com/shopspring/decimal"
)

// told is one line of an invented account, for files of every format.
type told struct {
	day, amount, ref, name, text string
	kind                         string // "", "pending", "reversal"
}

var demoLines = []told{
	{"2026-11-10", "4380.00", "A-1001", "Cash Settlement Services", "SETTLEMENT 0912", ""},
	{"2026-11-10", "-61.15", "A-1002", "Bäckerei Süß & Söhne", "Invoice 77", ""},
	{"2026-11-11", "4400.00", "A-1003", "Cash Settlement Services", "SETTLEMENT 0913", ""},
	{"2026-11-11", "12.5", "A-1004", "Café Zoë", "refund", ""},
	{"2026-11-12", "-4400.00", "A-1005", "Cash Settlement Services", "SETTLEMENT 0913 RETURNED", "reversal"},
}

// opening is what the invented account holds before the first line.
const opening = "1000.00"

func closing(lines []told) decimal.Decimal {
	sum := decimal.RequireFromString(opening)
	for _, l := range lines {
		if l.kind != "pending" {
			sum = sum.Add(decimal.RequireFromString(l.amount))
		}
	}
	return sum
}

func escaped(s string) string { return strings.NewReplacer("&", "&amp;", "<", "&lt;").Replace(s) }

// camt writes a camt.053 of a version. What differs between versions, by the
// message definition reports of ISO 20022 as remembered: the status has an
// element of its own from 001.08 on (a code within Sts), names of parties stand
// within Pty from there, charges within records from 001.04.
func camt(version int, lines []told) string {
	var b strings.Builder
	fmt.Fprintf(&b, `<?xml version="1.0" encoding="UTF-8"?>
<Document xmlns="urn:iso:std:iso:20022:tech:xsd:camt.053.001.%02d"><BkToCstmrStmt>
<GrpHdr><MsgId>M1</MsgId><CreDtTm>2026-11-13T06:00:00+00:00</CreDtTm></GrpHdr>
<Stmt><Id>S1</Id><CreDtTm>2026-11-13T06:00:00+00:00</CreDtTm>
<Acct><Id><IBAN>XX00 TEST 0000 0000 01</IBAN></Id><Ccy>EUR</Ccy></Acct>
`, version)
	balance := func(code, amount, day string) {
		fmt.Fprintf(&b, `<Bal><Tp><CdOrPrtry><Cd>%s</Cd></CdOrPrtry></Tp><Amt Ccy="EUR">%s</Amt>`+
			`<CdtDbtInd>CRDT</CdtDbtInd><Dt><Dt>%s</Dt></Dt></Bal>`+"\n", code, amount, day)
	}
	balance("OPBD", opening, "2026-11-09")
	balance("CLBD", closing(lines).String(), "2026-11-12")
	for _, l := range lines {
		b.WriteString(camtEntry(version, l))
	}
	b.WriteString("</Stmt></BkToCstmrStmt></Document>\n")
	return b.String()
}

func camtEntry(version int, l told) string {
	amount, ind := strings.TrimPrefix(l.amount, "-"), "CRDT"
	party := "Dbtr"
	if amount != l.amount {
		ind, party = "DBIT", "Cdtr"
	}
	status := "BOOK"
	if l.kind == "pending" {
		status = "PDNG"
	}
	name := "<Nm>" + escaped(l.name) + "</Nm>"
	if version >= 8 {
		status, name = "<Cd>"+status+"</Cd>", "<Pty>"+name+"</Pty>"
	}
	reversal := ""
	if l.kind == "reversal" {
		reversal = "<RvslInd>true</RvslInd>"
	}
	return fmt.Sprintf(`<Ntry><Amt Ccy="EUR">%s</Amt><CdtDbtInd>%s</CdtDbtInd>%s<Sts>%s</Sts>`+
		`<BookgDt><Dt>%s</Dt></BookgDt><ValDt><Dt>%[5]s</Dt></ValDt><AcctSvcrRef>%s</AcctSvcrRef>`+
		`<BkTxCd><Domn><Cd>PMNT</Cd></Domn></BkTxCd>`+
		`<NtryDtls><TxDtls><Refs><EndToEndId>NOTPROVIDED</EndToEndId></Refs>`+
		`<RltdPties><%s>%s</%[7]s></RltdPties><RmtInf><Ustrd>%[9]s</Ustrd></RmtInf></TxDtls></NtryDtls></Ntry>
`,
		amount, ind, reversal, status, l.day, l.ref, party, name, escaped(l.text))
}

// ofx1 writes OFX 1 as SGML, whose values have no end tags (OFX 1.6, section
// 1.2 and 2.2, as remembered).
func ofx1(lines []told) string {
	var b strings.Builder
	b.WriteString("OFXHEADER:100\r\nDATA:OFXSGML\r\nVERSION:102\r\nSECURITY:NONE\r\nENCODING:USASCII\r\n" +
		"CHARSET:1252\r\nCOMPRESSION:NONE\r\nOLDFILEUID:NONE\r\nNEWFILEUID:NONE\r\n\r\n" +
		"<OFX><SIGNONMSGSRSV1><SONRS><STATUS><CODE>0<SEVERITY>INFO</STATUS><DTSERVER>20261113060000" +
		"<LANGUAGE>ENG</SONRS></SIGNONMSGSRSV1><BANKMSGSRSV1><STMTTRNRS><TRNUID>0" +
		"<STATUS><CODE>0<SEVERITY>INFO</STATUS><STMTRS>" +
		"<CURDEF>EUR<BANKACCTFROM><BANKID>TEST<ACCTID>XX00TEST0000000001<ACCTTYPE>CHECKING</BANKACCTFROM>" +
		"<BANKTRANLIST><DTSTART>20261110<DTEND>20261112\r\n")
	for _, l := range lines {
		kind := "CREDIT"
		if strings.HasPrefix(l.amount, "-") {
			kind = "DEBIT"
		}
		tag := "STMTTRN"
		if l.kind == "pending" {
			tag = "STMTTRNP"
		}
		fmt.Fprintf(&b, "<%s>\r\n<TRNTYPE>%s\r\n<DTPOSTED>%s120000[0:GMT]\r\n<TRNAMT>%s\r\n<FITID>%s\r\n",
			tag, kind, strings.ReplaceAll(l.day, "-", ""), l.amount, l.ref)
		fmt.Fprintf(&b, "<NAME>%s\r\n<MEMO>%s\r\n", escaped(l.name), escaped(l.text))
		if l.kind == "reversal" {
			b.WriteString("<CORRECTFITID>A-1003\r\n<CORRECTACTION>DELETE\r\n")
		}
		fmt.Fprintf(&b, "</%s>\r\n", tag)
	}
	fmt.Fprintf(&b, "</BANKTRANLIST><LEDGERBAL><BALAMT>%s<DTASOF>20261112</LEDGERBAL></STMTRS></STMTTRNRS>"+
		"</BANKMSGSRSV1></OFX>\r\n", closing(lines))
	return b.String()
}

// ofx2 writes the same as XML.
func ofx2(lines []told) string {
	s := ofx1(lines)
	s = s[strings.Index(s, "<OFX>"):]
	var b strings.Builder
	b.WriteString(`<?xml version="1.0" encoding="UTF-8" standalone="no"?>` +
		"\n" + `<?OFX OFXHEADER="200" VERSION="211" SECURITY="NONE" OLDFILEUID="NONE" NEWFILEUID="NONE"?>` + "\n")
	for part := range strings.SplitAfterSeq(s, "<") {
		name, value, _ := strings.Cut(strings.TrimSuffix(part, "<"), ">")
		value = strings.TrimSpace(value)
		switch {
		case name == "":
		case value != "":
			fmt.Fprintf(&b, "<%s>%s</%s>\n", name, value, name)
		default:
			fmt.Fprintf(&b, "<%s>\n", name)
		}
	}
	return b.String()
}

// csvFile writes a plain table.
func csvFile(lines []told) string {
	var b strings.Builder
	b.WriteString("Date,Amount,Currency,Reference,Name,Description,Status\n")
	for _, l := range lines {
		fmt.Fprintf(&b, "%s,%s,EUR,%s,%q,%q,%s\n", l.day, l.amount, l.ref, l.name, l.text, l.kind)
	}
	return b.String()
}

// camt054 writes a notification of the same lines, which tells no balances.
func camt054(lines []told) string {
	s := camt(2, lines)
	for strings.Contains(s, "<Bal>") {
		from, to := strings.Index(s, "<Bal>"), strings.Index(s, "</Bal>")
		s = s[:from] + s[to+len("</Bal>\n"):]
	}
	return strings.NewReplacer("camt.053", "camt.054", "BkToCstmrStmt", "BkToCstmrDbtCdtNtfctn",
		"Stmt>", "Ntfctn>").Replace(s)
}

// csvSemicolons writes a table as banks of many countries of the continent do:
// days first, decimal commas, debits and credits apart, a balance, words above.
func csvSemicolons(lines []told) string {
	var b strings.Builder
	b.WriteString("Umsätze\nKonto: XX00TEST0000000001\n\n" +
		"Buchungstag;Name;Verwendungszweck;Soll;Haben;Währung;Saldo;Referenz;Status\n")
	sum := decimal.RequireFromString(opening)
	for _, l := range lines {
		d := decimal.RequireFromString(l.amount)
		status := "gebucht"
		if sum = sum.Add(d); l.kind == "pending" {
			sum, status = sum.Sub(d), "vorgemerkt"
		}
		debit, credit := "", comma(d)
		if d.IsNegative() {
			debit, credit = comma(d.Neg()), ""
		}
		day := l.day[8:] + "." + l.day[5:7] + "." + l.day[:4]
		fmt.Fprintf(&b, "%s;%s;%s;%s;%s;EUR;%s;%s;%s\n", day, l.name, l.text, debit, credit, comma(sum), l.ref,
			status)
	}
	return b.String()
}

func comma(d decimal.Decimal) string {
	whole, part, _ := strings.Cut(d.StringFixed(2), ".")
	if n := len(whole); n > 3 {
		whole = whole[:n-3] + "." + whole[n-3:]
	}
	return whole + "," + part
}

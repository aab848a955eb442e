package statement_test

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"strings"
	"testing"
	"unicode/utf16"

	"golang.org/x/text/encoding/charmap"

	"shopfloat/internal/statement"
)

// read reads a file and tells its lines: No Day Amount Currency Ref|Name|Text.
func read(file []byte, opt statement.Options) (string, statement.Report, error) {
	var b strings.Builder
	rep, err := statement.Read(bytes.NewReader(file), int64(len(file)), opt, func(l statement.Line) error {
		amount := l.Amount.StringFixed(max(2, -l.Amount.Exponent())) // nothing is rounded
		fmt.Fprintf(&b, "%d %s %s %s ", l.No, l.Day, amount, l.Currency)
		fmt.Fprintf(&b, "%s|%s|%s", l.Ref, l.Name, l.Text)
		if !l.Charges.IsZero() {
			fmt.Fprintf(&b, " charges %s", l.Charges)
		}
		if l.Reversal {
			b.WriteString(" reversal")
		}
		b.WriteByte('\n')
		return nil
	})
	return b.String(), rep, err
}

func gzipped(t *testing.T, file []byte) []byte {
	t.Helper()
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	if _, err := w.Write(file); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func zipped(t *testing.T, files map[string][]byte) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for name, data := range files {
		f, err := w.Create(name)
		if err == nil {
			_, err = f.Write(data)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// wide writes a text in UTF-16 with a mark, low byte first or last.
func wide(s string, high bool) []byte {
	b := []byte{0xff, 0xfe}
	if high {
		b = []byte{0xfe, 0xff}
	}
	for _, u := range utf16.Encode([]rune(s)) {
		if high {
			b = append(b, byte(u>>8), byte(u))
		} else {
			b = append(b, byte(u), byte(u>>8))
		}
	}
	return b
}

func windows(t *testing.T, s string) []byte {
	t.Helper()
	b, err := charmap.Windows1252.NewEncoder().Bytes([]byte(s))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// Every way in which a file may come gives the same lines.
func TestWrappings(t *testing.T) {
	plain := camt(8, demoLines)
	want, rep, err := read([]byte(plain), statement.Options{})
	if err != nil || rep.Balance != statement.Agrees || strings.Count(want, "\n") != len(demoLines) {
		t.Fatalf("%s%+v %v", want, rep, err)
	}
	in := func(label string) string { return strings.Replace(plain, "UTF-8", label, 1) }
	for name, file := range map[string][]byte{
		"bom":                 []byte("\ufeff" + plain),
		"utf-16 low":          wide(in("UTF-16"), false),
		"utf-16 high":         wide(in("UTF-16"), true),
		"no mark":             wide(in("UTF-16"), false)[2:],
		"1252":                windows(t, in("windows-1252")),
		"latin-1":             windows(t, in("ISO-8859-1")),
		"says utf-8, is 1252": windows(t, plain),
		"gzip":                gzipped(t, []byte(plain)),
		"zip": zipped(t, map[string][]byte{"a.xml": []byte(plain), "__MACOSX/._a.xml": {0},
			"a.PDF": []byte("%PDF-1.7")}),
	} {
		got, _, err := read(file, statement.Options{})
		if err != nil || got != want {
			t.Errorf("%s: %v\n%s", name, err, got)
		}
	}
}

// Two statements in one packed file are read one after the other, by name.
func TestTwoInOne(t *testing.T) {
	got, rep, err := read(zipped(t, map[string][]byte{"b.xml": []byte(camt(2, demoLines[1:2])),
		"a.xml": []byte(camt(2, demoLines[:1]))}), statement.Options{})
	if err != nil || rep.Lines != 2 || !strings.HasPrefix(got, "1 2026-11-10 4380.00") ||
		!strings.Contains(got, "\n2 ") {
		t.Errorf("%s%+v %v", got, rep, err)
	}
}

// What is no statement, or one that means harm, gets one sentence.
func TestHostile(t *testing.T) {
	good := camt(8, demoLines)
	bomb := `<?xml version="1.0"?><!DOCTYPE lolz [<!ENTITY lol "lol"><!ENTITY a "&lol;&lol;">]>` +
		`<Document><x>&a;</x></Document>`
	outside := `<?xml version="1.0"?><!DOCTYPE r [<!ENTITY x SYSTEM "file:///etc/passwd">]>` +
		`<Document>&x;</Document>`
	packed := zipped(t, map[string][]byte{"a.xml": []byte(good)})
	csvHead := "Date,Amount,Text\n"
	for name, c := range map[string]struct {
		file []byte
		want statement.Code
	}{
		"nothing":          {nil, statement.Empty},
		"blanks":           {[]byte("  \n\n "), statement.Empty},
		"empty zip":        {zipped(t, nil), statement.Empty},
		"entity bomb":      {[]byte(bomb), statement.Doctype},
		"external entity":  {[]byte(outside), statement.Doctype},
		"undefined entity": {[]byte(strings.Replace(good, "<Ntry>", "<Ntry>&lol;", 1)), statement.Doctype},
		"ofx entity":       {[]byte("<OFX><!DOCTYPE x><SIGNONMSGSRSV1>"), statement.Doctype},
		"zeros":            {make([]byte, 1<<20), statement.Unknown},
		"gzip of zeros":    {gzipped(t, make([]byte, 6<<20)), statement.Unknown},
		"gzip of blanks": {gzipped(t, append([]byte("<Document>"), bytes.Repeat([]byte(strings.Repeat(" ",
			1<<16)+"<a/>"), 70)...)), statement.TooLarge},
		"gzip in gzip":    {gzipped(t, gzipped(t, []byte(good))), statement.Packed},
		"zip in zip":      {zipped(t, map[string][]byte{"a.zip": packed}), statement.Packed},
		"cut zip":         {packed[:len(packed)-30], statement.Broken},
		"cut gzip":        {gzipped(t, []byte(good))[:300], statement.Broken},
		"cut xml":         {[]byte(good[:len(good)/2]), statement.Broken},
		"other xml":       {[]byte("<html><body>sign in</body></html>"), statement.Unknown},
		"page of the web": {[]byte("<!doctype html><html><body>sign in</body></html>"), statement.Unknown},
		"picture":         {[]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR"), statement.Unknown},
		"paper":           {[]byte("%PDF-1.7\n1 0 obj\n"), statement.Unknown},
		"words":           {[]byte("hello there\nthis is no table\n"), statement.Unknown},
		"deep":            {[]byte(strings.Repeat("<a>", 100000)), statement.TooDeep},
		"endless word": {append([]byte("<Document a='"), bytes.Repeat([]byte("x"), 1<<20)...),
			statement.TooDeep},
		"endless comment": {append([]byte("<Document><!-- "), bytes.Repeat([]byte("<a> "), 1<<18)...),
			statement.TooDeep},
		"endless quote":   {[]byte(csvHead + "2026-11-09,\"" + strings.Repeat("x", 1<<20)), statement.TooDeep},
		"endless value":   {[]byte("<OFX><MEMO>" + strings.Repeat("x", 1<<20)), statement.TooDeep},
		"many columns":    {[]byte("Date,Amount" + strings.Repeat(",x", 500) + "\n"), statement.TooDeep},
		"strange letters": {[]byte(strings.Replace(good, "UTF-8", "x-klingon", 1)), statement.Encoding},
		"formula":         {[]byte(csvHead + "2026-11-09,=1+1,x\n"), statement.Formula},
		"formula call":    {[]byte(csvHead + "2026-11-09,\"=CMD|' /C calc'!A0\",x\n"), statement.Formula},
		"word as amount":  {[]byte(csvHead + "2026-11-09,lots,x\n"), statement.BadAmount},
		"huge amount":     {[]byte(csvHead + "2026-11-09,1e999999999,x\n"), statement.BadAmount},
		"long amount": {[]byte(csvHead + "2026-11-09," + strings.Repeat("9", 40) + ",x\n"),
			statement.BadAmount},
		"31 November": {[]byte(csvHead + "2026-11-31,1.00,x\n"), statement.BadDate},
		"either way": {[]byte(csvHead + "03/04/2026,1.00,x\n05/04/2026,2.00,x\n04/04/2026,2.00,x\n"),
			statement.DateOrder},
		"a comma in an amount": {[]byte("Date,Text,Amount\n2026-11-09,x,4380,50\n"), statement.Ragged},
		"two tables": {[]byte(csvHead + "2026-11-09,1.00,x\n\nDate,Text,Amount\n2026-11-09,x,1.00\n"),
			statement.Another},
		"in and out at once": {[]byte("Date,In,Paid in,Paid out\n2026-11-09,x,5.00,3.00\n"), statement.BadAmount},
		"a sign not known": {[]byte("Date,Amount,D/C\n2026-11-09,1.00,C\n" + strings.Repeat(
			"2026-11-09,1.00,D\n", 300) + "2026-11-09,1.00,X\n"), statement.BadAmount},
		"no direction": {[]byte(strings.Replace(good, "<CdtDbtInd>CRDT</CdtDbtInd><Sts>", "<Sts>", 1)),
			statement.BadAmount},
		"a minus": {[]byte(strings.Replace(good, ">4380.00</Amt>", ">-4380.00</Amt>", 1)),
			statement.BadAmount},
		"ofx without an amount": {[]byte(strings.Replace(ofx1(demoLines), "<TRNAMT>4380.00", "<TRNAMT>", 1)),
			statement.BadAmount},
		"no amounts": {[]byte("Date,Text\n2026-11-09,x\n"), statement.NoColumns},
		"of today": {[]byte(strings.ReplaceAll(good, "BkToCstmrStmt", "BkToCstmrAcctRpt")),
			statement.NotBooked},
		"ofx cut": {[]byte(ofx1(demoLines)[:900]), statement.Broken},
	} {
		_, _, err := read(c.file, statement.Options{Max: 4 << 20})
		var p *statement.Problem
		if !errors.As(err, &p) || p.Code != c.want {
			t.Errorf("%s: %v, want %s", name, err, c.want)
			continue
		}
		if s := p.Error(); strings.ContainsAny(s, "\n\r") || strings.Contains(s, "%!") || len(s) > 250 {
			t.Errorf("%s: %q is not one line", name, s)
		}
	}
}

// What the caller says ends the reading, and comes back as it is.
func TestCallersErrorStands(t *testing.T) {
	mine := errors.New("enough")
	for name, file := range map[string]string{"camt": camt(8, demoLines), "ofx": ofx1(demoLines),
		"csv": csvFile(demoLines)} {
		_, err := statement.Read(strings.NewReader(file), int64(len(file)), statement.Options{},
			func(statement.Line) error { return mine })
		if !errors.Is(err, mine) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

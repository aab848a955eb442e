package statement

import (
	"bufio"
	"errors"
	"html"
	"io"
	"strings"

	"shopfloat/internal/shop"
)

// ofx reads both families of OFX. In the first, SGML, an element with a value
// needs no end tag; in the second, XML, it has one. A tag without a value opens
// a group in both, so one walk reads both.
func (r *reader) ofx(src *bufio.Reader) error {
	o := &ofxReader{reader: r, tags: tags{src: src}}
	for {
		t, err := o.tags.next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err == nil {
			err = o.tag(t)
		}
		if err != nil {
			return asProblem(err)
		}
	}
	switch {
	case o.report.Format != OFX:
		return problem(Unknown)
	case !o.ended:
		return problem(Broken)
	}
	return nil
}

// tag is a tag with what stands behind it.
type tag struct {
	name, value string
	end         bool
}

// tags parts a text into tags.
type tags struct{ src *bufio.Reader }

// next gives the next tag with the text up to the one after it.
func (t *tags) next() (tag, error) {
	if err := t.skip('<'); err != nil {
		return tag{}, err
	}
	name, err := t.until('>')
	if err != nil {
		return tag{}, problem(Broken)
	}
	value, err := t.text()
	if strings.HasPrefix(name, "!") && !strings.HasPrefix(name, "!--") {
		return tag{}, problem(Doctype)
	}
	end := strings.HasPrefix(name, "/")
	name = strings.ToUpper(strings.TrimSpace(strings.Trim(name, "/")))
	if i := strings.IndexByte(name, ':'); i >= 0 {
		name = name[i+1:] // a namespace
	}
	return tag{name: name, value: strings.TrimSpace(html.UnescapeString(value)), end: end}, err
}

// skip goes behind the next such byte.
func (t *tags) skip(c byte) error {
	for n := 0; ; n++ {
		b, err := t.src.ReadByte()
		if err != nil || b == c {
			return err
		}
		if n > maxToken {
			return errToken
		}
	}
}

func (t *tags) until(c byte) (string, error) {
	var s []byte
	for {
		b, err := t.src.ReadByte()
		if err != nil || b == c {
			return string(s), err
		}
		if s = append(s, b); len(s) > maxToken {
			return "", errToken
		}
	}
}

// text reads up to the next tag, which stays.
func (t *tags) text() (string, error) {
	s, err := t.until('<')
	if errors.Is(err, io.EOF) {
		return s, nil
	}
	if err != nil {
		return "", err
	}
	return s, t.src.UnreadByte()
}

// ofxReader walks through the groups of a file.
type ofxReader struct {
	*reader
	tags
	groups   []string
	currency string
	id       string
	line1    *Line // the transaction being read
	paid     bool  // it says an amount
	foreign  string
	ended    bool
}

func (o *ofxReader) tag(t tag) error {
	switch {
	case strings.HasPrefix(t.name, "?"), strings.HasPrefix(t.name, "!--"):
		return nil
	case t.end:
		return o.close(t.name)
	case t.value == "":
		return o.open(t.name)
	}
	return o.value(t.name, t.value)
}

// groups that matter; others are opened and closed without being looked at, and
// an empty value looks like one of these.
var ofxGroups = map[string]bool{
	"OFX": true, "STMTTRN": true, "STMTTRNP": true, "BANKACCTFROM": true, "CCACCTFROM": true, "CURRENCY": true,
	"ORIGCURRENCY": true, "PAYEE": true, "LEDGERBAL": true, "AVAILBAL": true, "BANKACCTTO": true,
	"CCACCTTO": true, "INVSTMTRS": true,
}

func (o *ofxReader) open(name string) error {
	if !ofxGroups[name] {
		return nil
	}
	if len(o.groups) > maxDepth {
		return &Problem{Code: TooDeep, About: "elements within elements"}
	}
	if name == "STMTTRN" && o.line1 != nil { // the one before has no end of its own
		if err := o.close(name); err != nil {
			return err
		}
	}
	o.groups = append(o.groups, name)
	switch name {
	case "OFX":
		o.report.Format = OFX
	case "STMTTRN":
		o.line1, o.foreign, o.paid = &Line{Account: o.id}, "", false
	case "STMTTRNP":
		o.report.Pending++
		o.line1 = nil
	}
	return nil
}

func (o *ofxReader) close(name string) error {
	for i := len(o.groups) - 1; i >= 0; i-- {
		if o.groups[i] == name {
			o.groups = o.groups[:i]
			break
		}
	}
	switch name {
	case "OFX":
		o.ended = true
	case "STMTTRN", "BANKTRANLIST":
	default:
		return nil
	}
	if l := o.line1; l != nil {
		o.line1 = nil
		return o.done(l)
	}
	return nil
}

func (o *ofxReader) done(l *Line) error {
	switch {
	case l.Day == "":
		return about(BadDate, "").at("transaction", o.report.Lines+1)
	case !o.paid:
		return about(BadAmount, "").at("transaction", o.report.Lines+1)
	}
	if l.Currency = o.currency; o.foreign != "" {
		l.Currency = o.foreign
	}
	return o.line(*l)
}

// value takes in an element with a value.
func (o *ofxReader) value(name, text string) error {
	group := ""
	if n := len(o.groups); n > 0 {
		group = o.groups[n-1]
	}
	switch {
	case name == "CURDEF":
		o.currency = strings.ToUpper(clip(text, 3))
	case name == "ACCTID" && (group == "BANKACCTFROM" || group == "CCACCTFROM"):
		o.id = accountName(text)
		o.account(o.id)
	case o.line1 != nil && group == "CURRENCY" && name == "CURSYM":
		o.foreign = strings.ToUpper(clip(text, 3)) // amounts are in it; ORIGCURRENCY: they were
	case o.line1 != nil && group == "PAYEE" && name == "NAME", o.line1 != nil && group == "STMTTRN":
		return o.field(o.line1, name, text)
	}
	return nil
}

func (o *ofxReader) field(l *Line, name, text string) (err error) {
	switch name {
	case "TRNAMT":
		l.Amount, err = exact(text, ofxDecimals)
		o.paid = true
	case "DTPOSTED":
		l.Day, err = ofxDay(text)
	case "DTAVAIL":
		l.Value, err = ofxDay(text)
	case "FITID":
		l.Ref = plain(text, 80)
	case "NAME":
		l.Name = plain(text, 70)
	case "MEMO":
		l.Text = plain(text, textMax)
	case "CORRECTFITID":
		l.Reversal = true
	}
	if err != nil {
		err = atPlace(err, "transaction", o.report.Lines+1)
	}
	return err
}

// ofxDay reads YYYYMMDD at the begin of an instant, as the bank wrote it.
func ofxDay(s string) (shop.Date, error) {
	if len(s) < 8 || !digits(s[:8]) {
		return "", about(BadDate, s)
	}
	d, err := shop.ParseDate(s[:4] + "-" + s[4:6] + "-" + s[6:8])
	if err != nil {
		return "", about(BadDate, s)
	}
	return d, nil
}

// atPlace adds to a problem where it is.
func atPlace(err error, what string, n int) error {
	var p *Problem
	if errors.As(err, &p) {
		return p.at(what, n)
	}
	return err
}

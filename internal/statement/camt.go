package statement

import (
	"bufio"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
)

// Bounds of an XML file. The deepest path that camt.053 has is about fifteen.
const (
	maxDepth = 40
	maxToken = 256 << 10 // bytes of one tag or one text
	maxTxs   = 10_000    // transactions of one booking, which are kept until it ends
)

// budget gives one tag, text or row of a table at a time no more than a bound, so that a
// comment or an attribute without an end is not collected in memory.
type budget struct {
	r    *bufio.Reader
	left int
}

var errToken = &Problem{Code: TooDeep, About: "a word without an end"}

// ReadByte is what keeps the decoder from reading ahead.
func (b *budget) ReadByte() (byte, error) {
	if b.left--; b.left < 0 {
		return 0, errToken
	}
	return b.r.ReadByte()
}

func (b *budget) Read(p []byte) (int, error) {
	if b.left < len(p) {
		return 0, errToken
	}
	n, err := b.r.Read(p)
	b.left -= n
	return n, err
}

// camt reads a statement of ISO 20022. Names are compared without their
// namespace, since every version has its own and some banks have theirs.
func (r *reader) camt(src *bufio.Reader) error {
	in := &budget{r: src}
	d := xml.NewDecoder(in)
	d.CharsetReader = asIs
	c := &camtReader{reader: r}
	for {
		in.left = maxToken
		t, err := d.RawToken()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return xmlProblem(err)
		}
		if err := c.token(t); err != nil {
			return err
		}
	}
	switch {
	case !c.known:
		return problem(Unknown)
	case len(c.path) > 0:
		return problem(Broken)
	}
	return nil
}

// xmlProblem says what the decoder stumbled over.
func xmlProblem(err error) error {
	var syntax *xml.SyntaxError
	if errors.As(err, &syntax) {
		p := problem(Broken)
		if strings.Contains(syntax.Msg, "entity") {
			p = problem(Doctype) // a word that only a document type could define
		}
		return p.at("line", syntax.Line)
	}
	return asProblem(err)
}

// camtReader walks through the file with the path it is at.
type camtReader struct {
	*reader
	path  []string
	text  strings.Builder
	attr  string // Ccy of the element it is in
	known bool   // it is a statement
	above int    // elements around the document
	stmt  account
	entry *entry
}

func (c *camtReader) token(t xml.Token) error {
	switch t := t.(type) {
	case xml.Directive:
		return problem(Doctype)
	case xml.StartElement:
		return c.start(t)
	case xml.CharData:
		if c.text.Len()+len(t) <= maxToken {
			c.text.Write(t)
		}
	case xml.EndElement:
		if n := len(c.path); n == 0 || c.path[n-1] != t.Name.Local {
			return problem(Broken)
		}
		err := c.end()
		c.path = c.path[:len(c.path)-1]
		c.text.Reset()
		return err
	}
	return nil
}

func (c *camtReader) start(t xml.StartElement) error {
	if len(c.path) >= maxDepth {
		return &Problem{Code: TooDeep, About: "elements within elements"}
	}
	name := t.Name.Local
	c.path = append(c.path, name)
	c.text.Reset()
	c.attr = ""
	for _, a := range t.Attr {
		if a.Name.Local == "Ccy" {
			c.attr = a.Value
		}
	}
	switch {
	case !c.known && len(c.path) > 1:
		return c.message(name)
	case c.inAccount(3):
		c.stmt = account{}
	case c.entry == nil && name == "Ntry" && c.inAccount(4):
		c.entry = &entry{currency: c.stmt.currency}
	case c.entry != nil && name == "TxDtls":
		if len(c.entry.txs) == maxTxs {
			return &Problem{Code: TooDeep, About: fmt.Sprintf("more than %d transactions in one booking", maxTxs)}
		}
		c.entry.txs = append(c.entry.txs, tx{})
	}
	return nil
}

// message tells what the file is by the element within the document, whose name
// some banks change; the document may be in an envelope (ISO 20022 nvlp.001).
func (c *camtReader) message(name string) error {
	switch name {
	case "BkToCstmrStmt":
		c.report.Format, c.known = Camt053, true
	case "BkToCstmrDbtCdtNtfctn":
		c.report.Format, c.known = Camt054, true
	case "BkToCstmrAcctRpt":
		return &Problem{Code: NotBooked, About: "camt.052"}
	default:
		return nil
	}
	c.above = len(c.path) - 2
	return nil
}

// inAccount reports whether the path is so deep and within the part about an account.
func (c *camtReader) inAccount(depth int) bool {
	at := c.inDocument()
	return len(at) == depth && (at[2] == "Stmt" || at[2] == "Ntfctn")
}

// inDocument is the path from the document on; none outside.
func (c *camtReader) inDocument() []string {
	if !c.known || len(c.path) < c.above+3 {
		return nil
	}
	return c.path[c.above:]
}

// end takes in the text of the element that ends.
func (c *camtReader) end() error {
	at := c.inDocument()
	if at == nil || at[2] != "Stmt" && at[2] != "Ntfctn" {
		return nil
	}
	at, text := at[3:], strings.TrimSpace(c.text.String())
	switch {
	case len(at) == 0:
		c.report.Balance = c.report.Balance.and(c.stmt.check())
		return nil
	case c.entry != nil && len(at) == 1:
		e := c.entry
		c.entry = nil
		return c.finish(e)
	case c.entry != nil:
		return c.entry.take(at[1:], text, c.attr)
	case at[0] == "Acct":
		return c.stmt.owner(c, at[1:], text)
	case at[0] == "Bal":
		return c.stmt.balance(at[1:], text, c.attr)
	}
	return nil
}

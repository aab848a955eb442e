package statement

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"shopfloat/internal/markup"
)

// Bounds of an XML file. The deepest path that camt.053 has is about fifteen.
const (
	maxDepth = 40
	maxToken = 256 << 10 // bytes of one tag or one text
	maxTxs   = 10_000    // transactions of one booking, which are kept until it ends
)

var errToken = &Problem{Code: TooDeep, About: "a word without an end"}

// camt reads a statement of ISO 20022. Names are compared without their
// namespace, since every version has its own and some banks have theirs.
func (r *reader) camt(src *bufio.Reader) error {
	in := markup.New(src, maxToken)
	c := &camtReader{reader: r, paths: map[string]string{}}
	for {
		p, err := in.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err == nil {
			err = c.piece(p)
		}
		if err != nil {
			return xmlProblem(err)
		}
	}
	switch {
	case !c.known:
		return problem(Unknown)
	case len(c.begins) > 0:
		return problem(Broken)
	}
	return nil
}

// xmlProblem says what the reader stumbled over.
func xmlProblem(err error) error {
	var syntax *markup.SyntaxError
	switch {
	case errors.As(err, &syntax) && syntax.Word: // that only a document type could define
		return problem(Doctype).at("line", syntax.Line)
	case syntax != nil:
		return problem(Broken).at("line", syntax.Line)
	case errors.Is(err, markup.ErrLong):
		return errToken
	}
	return asProblem(err)
}

// camtReader walks through the file with the path it is at.
type camtReader struct {
	*reader
	path   []byte            // names of the elements it is in, each behind a stroke
	begins []int             // of each of them in path
	paths  map[string]string // that came before
	text   []byte
	attr   string // Ccy of the element it is in
	known  bool   // it is a statement
	above  int    // elements around the document
	inside int    // where the path within the part about an account begins; 0: it is in none
	stmt   account
	entry  *entry
	spare  []tx // room for the next one's
}

// maxPaths bounds the paths that are kept.
const maxPaths = 1000

func (c *camtReader) piece(p markup.Piece) error {
	switch p.Kind {
	case markup.Definition:
		return problem(Doctype)
	case markup.Start:
		return c.start(p)
	case markup.Text:
		if len(c.text)+len(p.Text) <= maxToken {
			c.text = append(c.text, p.Text...)
		}
	case markup.End:
		n := len(c.begins) - 1
		if n < 0 || string(c.path[c.begins[n]+1:]) != local(p.Name) {
			return problem(Broken)
		}
		err := c.end()
		c.path, c.begins, c.text = c.path[:c.begins[n]], c.begins[:n], c.text[:0]
		return err
	}
	return nil
}

// local is a name without its prefix.
func local(name string) string {
	if i := strings.IndexByte(name, ':'); i > 0 && i < len(name)-1 {
		return name[i+1:]
	}
	return name
}

func (c *camtReader) start(p markup.Piece) error {
	if len(c.begins) >= maxDepth {
		return &Problem{Code: TooDeep, About: "elements within elements"}
	}
	name := local(p.Name)
	c.begins = append(c.begins, len(c.path))
	c.path = append(append(c.path, '/'), name...)
	c.text, c.attr = c.text[:0], ""
	for _, a := range p.Attrs {
		if local(a.Name) == "Ccy" {
			c.attr = currencyOf(a.Value)
		}
	}
	switch depth := len(c.begins) - c.above; {
	case !c.known && depth > 1:
		return c.message(name)
	case depth == 3 && (name == "Stmt" || name == "Ntfctn"):
		c.stmt, c.inside = account{}, len(c.path)+1
	case c.inside == 0:
	case c.entry == nil && depth == 4 && name == "Ntry":
		c.entry = &entry{currency: c.stmt.currency, txs: c.spare}
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
	c.above = len(c.begins) - 2
	return nil
}

// end takes in the text of the element that ends.
func (c *camtReader) end() error {
	depth := len(c.begins) - c.above - 3
	if c.inside == 0 || depth < 0 {
		return nil
	}
	if depth == 0 {
		c.inside = 0
		c.report.Balance = c.report.Balance.and(c.stmt.check())
		return nil
	}
	where, text := c.where(), string(bytes.TrimSpace(c.text))
	switch part, rest, _ := strings.Cut(where, "/"); {
	case c.entry != nil && depth == 1:
		e := c.entry
		c.entry = nil
		err := c.finish(e)
		c.spare = e.txs[:0]
		return err
	case c.entry != nil:
		return c.entry.take(rest, text, c.attr)
	case part == "Acct":
		return c.stmt.owner(c, rest, text)
	case part == "Bal":
		return c.stmt.balance(rest, text, c.attr)
	}
	return nil
}

// where is the path within the part about an account.
func (c *camtReader) where() string {
	at, ok := c.paths[string(c.path[c.inside:])]
	if !ok {
		if at = string(c.path[c.inside:]); len(c.paths) < maxPaths {
			c.paths[at] = at
		}
	}
	return at
}

// currencyOf is the code of a money, of which most files have one.
func currencyOf(b []byte) string {
	if string(b) == "EUR" {
		return "EUR"
	}
	return string(b)
}

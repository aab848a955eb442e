// Package markup parts XML into tags and texts, a piece after the other, for files of strangers:
// a piece has a bound, nothing is kept, no word of the file's own is ever defined or fetched.
//
// It takes what encoding/xml takes (a fuzz target holds it against that) in a tenth of the time,
// since it neither copies what a piece holds nor makes anything for it.
package markup

import (
	"bytes"
	"errors"
	"fmt"
	"io"
)

// Kind says what a piece is.
type Kind int

// The kinds. An element of one tag comes as a start and an end.
const (
	Start Kind = iota
	End
	Text       // between tags; remarks within it part it
	Definition // a type of document, whose words are its own; it is not read to its end
)

// Piece is a tag or a text. It is good until the next one is asked for, but for its name.
type Piece struct {
	Kind  Kind
	Name  string // of an element, with its prefix
	Attrs []Attr
	Text  []byte
}

// Attr is what a tag says beside its name.
type Attr struct {
	Name  string // with its prefix
	Value []byte
}

// ErrLong is what is said of a piece above the bound.
var ErrLong = errors.New("markup: a piece is too long")

// SyntaxError is where a text is not XML.
type SyntaxError struct {
	Line int
	Word bool // a word stands there that only a definition could explain
}

func (e *SyntaxError) Error() string { return fmt.Sprintf("markup: line %d is no XML", e.Line) }

// Reader parts a text in UTF-8.
type Reader struct {
	src   io.Reader
	most  int // bytes of a piece
	buf   []byte
	at    int // of the next piece
	end   int // of what was read
	line  int
	names map[string]string // each is made once
	attrs []Attr
	text  []byte
	shut  string // an element that began and ended with one tag, of which the end is not told
	err   error  // of the source
}

// first is how much is read at once, unless a piece takes more.
const first = 32 << 10

// maxNames bounds the names that are kept.
const maxNames = 1000

// New parts a text of which no piece has more than so many bytes.
func New(src io.Reader, most int) *Reader {
	return &Reader{src: src, most: most, buf: make([]byte, first), line: 1, names: map[string]string{}}
}

// Next gives the next piece; io.EOF behind the last.
func (r *Reader) Next() (Piece, error) {
	if name := r.shut; name != "" {
		r.shut = ""
		return Piece{Kind: End, Name: name}, nil
	}
	for {
		if r.at == r.end {
			if err := r.more(); err != nil {
				return Piece{}, err
			}
		}
		if r.buf[r.at] != '<' {
			return r.between()
		}
		if err := r.have(2); err != nil {
			return Piece{}, err
		}
		switch r.buf[r.at+1] {
		case '/':
			return r.closing()
		case '!':
			if p, told, err := r.special(); told || err != nil {
				return p, err
			}
		case '?':
			if b, err := r.until(2, "?>"); err != nil || len(b) == 0 {
				return Piece{}, cmpErr(err, r.bad())
			}
		default:
			return r.opening()
		}
	}
}

// more reads on behind what is there.
func (r *Reader) more() error {
	if r.err != nil {
		return r.err
	}
	if r.end-r.at >= r.most {
		return ErrLong
	}
	r.end = copy(r.buf, r.buf[r.at:r.end])
	r.at = 0
	if r.end == len(r.buf) {
		r.buf = append(r.buf, make([]byte, len(r.buf))...)
	}
	n := 0
	for try := 0; n == 0 && r.err == nil; try++ {
		if n, r.err = r.src.Read(r.buf[r.end:]); try == maxTries && n == 0 && r.err == nil {
			r.err = io.ErrNoProgress
		}
	}
	if r.end += n; n == 0 {
		return r.err
	}
	return nil
}

// maxTries bounds how often a source may give nothing.
const maxTries = 100

// have sees to it that so many bytes of the next piece are there.
func (r *Reader) have(n int) error {
	for r.end-r.at < n {
		if err := r.more(); err != nil {
			return r.cut(err)
		}
	}
	return nil
}

// cut is what the end of the source is within a piece.
func (r *Reader) cut(err error) error {
	if errors.Is(err, io.EOF) {
		return r.bad()
	}
	return err
}

func (r *Reader) bad() *SyntaxError { return &SyntaxError{Line: r.line} }

// take goes behind so many bytes and gives them.
func (r *Reader) take(n int) []byte {
	b := r.buf[r.at : r.at+n]
	r.at += n
	r.line += bytes.Count(b, []byte{'\n'})
	return b
}

// until takes all up to an end that is looked for behind so many bytes, and gives what lies between.
func (r *Reader) until(from int, end string) ([]byte, error) {
	for at := from; ; {
		if i := bytes.Index(r.buf[r.at+at:r.end], []byte(end)); i >= 0 {
			b := r.take(at + i + len(end))
			return b[from : len(b)-len(end)], nil
		}
		at = max(at, r.end-r.at-len(end)+1)
		if err := r.have(r.end - r.at + 1); err != nil {
			return nil, err
		}
	}
}

// between takes the text up to the next tag.
func (r *Reader) between() (Piece, error) {
	n := 0
	for {
		if i := bytes.IndexByte(r.buf[r.at+n:r.end], '<'); i >= 0 {
			n += i
			break
		}
		n = r.end - r.at
		if err := r.more(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return Piece{}, err
		}
	}
	line := r.line
	text, err := r.meant(r.take(n), inText)
	return Piece{Kind: Text, Text: text}, atLine(err, line)
}

// special takes what begins with an exclamation mark. Remarks are nothing to tell.
func (r *Reader) special() (p Piece, told bool, err error) {
	if err := r.have(len("<!-")); err != nil {
		return p, false, err
	}
	const section, remark = "<![CDATA[", "<!--"
	line := r.line
	switch r.buf[r.at+2] {
	case '[':
		if err = r.have(len(section)); err != nil || string(r.buf[r.at:r.at+len(section)]) != section {
			return p, false, cmpErr(err, r.bad())
		}
		b, err := r.until(len(section), "]]>")
		if err != nil {
			return p, false, err
		}
		text, err := r.meant(b, inSection)
		return Piece{Kind: Text, Text: text}, true, atLine(err, line)
	case '-':
		if err = r.have(len(remark)); err != nil || r.buf[r.at+3] != '-' {
			return p, false, cmpErr(err, r.bad())
		}
		if _, err = r.until(len(remark), "--"); err == nil {
			err = r.have(1)
		}
		if err == nil && r.take(1)[0] != '>' {
			err = r.bad()
		}
		return p, false, err
	}
	return Piece{Kind: Definition}, true, nil
}

// cmpErr is the first of two errors.
func cmpErr(err error, other *SyntaxError) error {
	if err != nil {
		return err
	}
	return other
}

func atLine(err error, line int) error {
	if e := (*SyntaxError)(nil); errors.As(err, &e) {
		e.Line = line
	}
	return err
}

package markup

import (
	"bytes"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// place says where a text stands, which decides what its marks mean.
type place int

const (
	inText place = iota
	inQuotes
	inSection // CDATA, in which no mark means anything
)

// plainly marks the bytes that stand for themselves wherever they are.
var plainly = func() (t [256]bool) {
	for c := ' '; c < utf8.RuneSelf; c++ {
		t[c] = !strings.ContainsRune("&<>", c)
	}
	t['\t'], t['\n'] = true, true
	return t
}()

// meant gives what a text means: words for marks replaced, ends of lines alike. Most texts are
// what they mean and come back as they are.
func (r *Reader) meant(b []byte, in place) ([]byte, error) {
	n := 0
	for n < len(b) && plainly[b[n]] {
		n++
	}
	if n == len(b) {
		return b, nil
	}
	if in != inQuotes {
		r.text = r.text[:0]
	}
	begin := len(r.text)
	r.text = append(r.text, b[:n]...)
	for n < len(b) {
		size, err := r.letter(b, n, in)
		if err != nil {
			return nil, err
		}
		n += size
	}
	return r.text[begin:], nil
}

// letter takes one letter of a text, and says how many bytes it had.
func (r *Reader) letter(b []byte, at int, in place) (int, error) {
	switch c := b[at]; {
	case c == '\r':
		r.text = append(r.text, '\n')
		return 1, nil
	case c == '\n' && at > 0 && b[at-1] == '\r':
		return 1, nil
	case plainly[c], c == '&' && in == inSection, c == '<' && in == inSection:
		r.text = append(r.text, c)
		return 1, nil
	case c == '>' && (in != inText || !bytes.HasSuffix(b[:at], []byte("]]"))):
		r.text = append(r.text, c)
		return 1, nil
	case c == '&':
		return r.word(b[at:])
	case c < utf8.RuneSelf:
		return 0, r.bad()
	}
	l, size := utf8.DecodeRune(b[at:])
	if l == utf8.RuneError && size == 1 || !allowed(l) {
		return 0, r.bad()
	}
	r.text = append(r.text, b[at:at+size]...)
	return size, nil
}

// words are the marks that XML has words for.
var words = map[string]rune{"lt": '<', "gt": '>', "amp": '&', "apos": '\'', "quot": '"'}

// longest is how long a word for a mark may be, with noughts before a number.
const longest = 64

// word takes a word for a mark: &amp; or the number of a letter.
func (r *Reader) word(b []byte) (int, error) {
	end := bytes.IndexByte(b[:min(len(b), longest)], ';')
	if end < 0 {
		return 0, &SyntaxError{Line: r.line, Word: true}
	}
	l, ok := words[string(b[1:end])]
	if number, is := bytes.CutPrefix(b[1:end], []byte("#")); is {
		l, ok = numbered(string(number))
	}
	if !ok {
		return 0, &SyntaxError{Line: r.line, Word: true}
	}
	if !allowed(l) {
		return 0, r.bad()
	}
	r.text = utf8.AppendRune(r.text, l)
	return end + 1, nil
}

// numbered is the letter of a number: 38 or x26.
func numbered(s string) (rune, bool) {
	base := 10
	if hex, is := strings.CutPrefix(s, "x"); is {
		s, base = hex, 16
	}
	n, err := strconv.ParseUint(s, base, 32)
	if err != nil || n > unicode.MaxRune {
		return 0, false
	}
	if n >= 0xd800 && n < 0xe000 { // half of a letter in UTF-16
		return utf8.RuneError, true
	}
	return rune(n), true
}

// allowed reports whether a letter may stand in a text (XML 1.0, 2.2).
func allowed(l rune) bool {
	return l == '\t' || l == '\n' || l == '\r' || l >= ' ' && l <= 0xd7ff || l >= 0xe000 && l <= 0xfffd ||
		l >= 0x10000 && l <= unicode.MaxRune
}

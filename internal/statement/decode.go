package statement

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"regexp"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/htmlindex"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

type textKind int

const (
	tableText textKind = iota
	xmlText
	ofxText
)

// headSize is how much of a file is looked at to tell what it is.
const headSize = 4096

// decoded gives a file's text as UTF-8, and what kind of text it is.
func decoded(in io.Reader) (*bufio.Reader, textKind, error) {
	b := bufio.NewReaderSize(in, headSize)
	head, err := b.Peek(headSize)
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, 0, asProblem(err)
	}
	if len(bytes.TrimSpace(head)) == 0 {
		return nil, 0, problem(Empty)
	}
	if bytes.HasPrefix(head, gzipMagic) || bytes.HasPrefix(head, zipMagic) {
		return nil, 0, &Problem{Code: Packed, About: "another packed file is in it"}
	}
	if wide := wideOf(head); wide != nil {
		b = bufio.NewReaderSize(wide.NewDecoder().Reader(b), headSize)
	} else if bytes.IndexByte(head, 0) >= 0 {
		return nil, 0, problem(Unknown)
	} else {
		t, err := alphabet(head)
		if err != nil {
			return nil, 0, err
		}
		b = bufio.NewReaderSize(transform.NewReader(b, t), headSize)
	}
	if head, err = b.Peek(headSize); err != nil && !errors.Is(err, io.EOF) {
		return nil, 0, asProblem(err)
	}
	return sorted(b, head)
}

// sorted tells by its begin what kind of text it is.
func sorted(b *bufio.Reader, head []byte) (*bufio.Reader, textKind, error) {
	if bytes.HasPrefix(head, []byte("\ufeff")) {
		_, _ = b.Discard(len("\ufeff"))
		head = head[len("\ufeff"):]
	}
	text := strings.ToUpper(strings.TrimSpace(string(head)))
	switch {
	case strings.HasPrefix(text, "OFXHEADER"), strings.HasPrefix(text, "<OFX>"),
		strings.HasPrefix(text, "<?XML") && (strings.Contains(text, "<?OFX") || strings.Contains(text, "<OFX>")):
		return b, ofxText, nil
	case strings.HasPrefix(text, "%PDF"), strings.HasPrefix(text, "<!DOCTYPE HTML"):
		return nil, 0, problem(Unknown)
	case strings.HasPrefix(text, "<"):
		return b, xmlText, nil
	}
	return b, tableText, nil
}

// wideOf recognises UTF-16 by its mark, or by the zeros beside plain letters.
func wideOf(head []byte) encoding.Encoding {
	little, big := []byte{0xff, 0xfe}, []byte{0xfe, 0xff}
	if bytes.HasPrefix(head, little) || bytes.HasPrefix(head, big) {
		return unicode.UTF16(unicode.LittleEndian, unicode.UseBOM)
	}
	if len(head) < 8 {
		return nil
	}
	even, odd := 0, 0
	for i, c := range head[:len(head)&^1] {
		if c == 0 {
			even += 1 - i&1
			odd += i & 1
		}
	}
	half := len(head) / 2
	switch {
	case odd > half*3/4 && even < half/4:
		return unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM)
	case even > half*3/4 && odd < half/4:
		return unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM)
	}
	return nil
}

// loose makes valid UTF-8 of any bytes: what is not UTF-8 is read as
// Windows-1252, byte by byte, which is what banks that say nothing write.
type loose struct{ transform.NopResetter }

func (loose) Transform(dst, src []byte, atEOF bool) (nDst, nSrc int, err error) {
	for nSrc < len(src) {
		if n := ascii(dst[nDst:], src[nSrc:]); n > 0 { // nearly all that there is
			nDst, nSrc = nDst+n, nSrc+n
			continue
		}
		r, size := rune(src[nSrc]), 1
		if r >= utf8.RuneSelf {
			if !atEOF && !utf8.FullRune(src[nSrc:]) {
				return nDst, nSrc, transform.ErrShortSrc
			}
			if r, size = utf8.DecodeRune(src[nSrc:]); r == utf8.RuneError && size == 1 {
				r = charmap.Windows1252.DecodeByte(src[nSrc])
			}
		}
		if nDst+utf8.UTFMax > len(dst) {
			return nDst, nSrc, transform.ErrShortDst
		}
		nDst += utf8.EncodeRune(dst[nDst:], r)
		nSrc += size
	}
	return nDst, nSrc, nil
}

// ascii copies plain letters up to the first other one, and says how many.
func ascii(dst, src []byte) int {
	n := min(len(dst), len(src))
	for i, c := range src[:n] {
		if c >= utf8.RuneSelf {
			n = i
			break
		}
	}
	return copy(dst, src[:n])
}

// named finds the alphabet that a text says at its begin it is written in.
var named = regexp.MustCompile(
	`(?i)^(?:\xef\xbb\xbf)?\s*(?:<\?xml[^>]{0,100}?encoding\s*=\s*["']([\w.:-]+)["']|` +
		`OFXHEADER:[^<]{0,200}?CHARSET:\s*([\w-]+?)(?:\s|COMPRESSION|OLDFILEUID|NEWFILEUID|<|$))`)

// alphabet gives what makes UTF-8 of a text, by what it says of itself.
func alphabet(head []byte) (transform.Transformer, error) {
	m := named.FindSubmatch(head)
	if m == nil {
		return &loose{}, nil
	}
	label := string(m[1]) + string(m[2])
	switch strings.ToLower(label) {
	case "none", "8859-1", "iso-8859-1", "utf-8", "utf-16", "us-ascii", "usascii", "1252", "windows-1252":
		return &loose{}, nil
	}
	if digits(label) {
		label = "windows-" + label
	}
	e, err := htmlindex.Get(label)
	if err != nil {
		return nil, about(Encoding, label)
	}
	return e.NewDecoder(), nil
}

// asIs is for XML that names its alphabet: it was made UTF-8 before.
func asIs(_ string, in io.Reader) (io.Reader, error) { return in, nil }

// clip shortens a text to so many letters.
func clip(s string, letters int) string {
	for i := range s {
		if letters--; letters < 0 {
			return s[:i]
		}
	}
	return s
}

// plain makes a text one line of at most so many letters, without what a
// terminal or a phone would take for an order.
func plain(s string, letters int) string {
	if len(s) <= letters && asItIs(s) {
		return s
	}
	fields := strings.FieldsFunc(s, func(r rune) bool {
		return r <= ' ' || r == utf8.RuneError || r >= 0x7f && r <= 0xa0 || r >= 0x200b && r <= 0x200f ||
			r >= 0x2028 && r <= 0x202f || r >= 0x2060 && r <= 0x206f || r == 0xfeff
	})
	return clip(strings.Join(fields, " "), letters)
}

// asItIs reports whether a text is one line of plain letters with single blanks.
func asItIs(s string) bool {
	before := byte(' ')
	for _, c := range []byte(s) {
		if c < ' ' || c >= 0x7f || c == ' ' && before == ' ' {
			return false
		}
		before = c
	}
	return before != ' ' || s == ""
}

package botapitest

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// attributes reads up to the > of a start tag and gives the one argument that matters for the tag.
func (p *htmlParser) attributes(tag string, begin int) (string, *apiError) {
	arg := ""
	for {
		p.skipSpaces()
		if p.peek(0) == '>' {
			return arg, nil
		}
		name := p.skipUntil("=>/\"'")
		if p.pos == len(p.src) {
			return "", parseErrorAt("Unclosed start tag "+quote(tag), begin)
		}
		if name == "" {
			return "", parseErrorAt("Empty attribute name in the tag "+quote(tag), begin)
		}
		p.skipSpaces()
		value := ""
		if p.peek(0) == '=' {
			var err *apiError
			if value, err = p.value(tag, begin); err != nil {
				return "", err
			}
		}
		if found, ok := argument(tag, name, value); ok {
			arg = found
		}
	}
}

// value reads a quoted or bare attribute value after the equals sign.
func (p *htmlParser) value(tag string, begin int) (string, *apiError) {
	p.pos++
	p.skipSpaces()
	var value string
	if end := p.peek(0); end == '"' || end == '\'' {
		p.pos++
		value = p.quoted(end)
	} else {
		start := p.pos
		for isNameByte(p.peek(0)) {
			p.pos++
		}
		value = strings.ToLower(p.src[start:p.pos])
		if next := p.peek(0); !isSpace(next) && next != '>' {
			return "", parseErrorAt("Unexpected end of name token", start)
		}
	}
	if p.pos >= len(p.src) {
		return "", parseErrorAt("Unclosed start tag "+quote(tag), begin)
	}
	return value, nil
}

// quoted reads up to the closing quote, resolving references, and past it.
func (p *htmlParser) quoted(end byte) string {
	var b []byte
	for p.pos < len(p.src) && p.src[p.pos] != end {
		if r, n := reference(p.src[p.pos:]); n > 0 {
			b = utf8.AppendRune(b, r)
			p.pos += n
			continue
		}
		b = append(b, p.src[p.pos])
		p.pos++
	}
	if p.pos < len(p.src) {
		p.pos++
	}
	return string(b)
}

// argument picks the attributes that mean something.
func argument(tag, name, value string) (string, bool) {
	switch tag + " " + name {
	case "a href", "tg-emoji emoji-id":
		return value, true
	case "code class":
		return strings.CutPrefix(value, "language-")
	case "span class":
		return strings.CutPrefix(value, "tg-")
	case "blockquote expandable":
		return "1", true
	}
	return "", false
}

func isNameByte(c byte) bool {
	return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || '0' <= c && c <= '9' || c == '.' || c == '-'
}

// reference reads a character reference at the start of s and gives the character and the bytes used, 0 for
// none. Only four names are known, and the semicolon may be missing, as on the platform.
func reference(s string) (rune, int) {
	if len(s) < 3 || s[0] != '&' {
		return 0, 0
	}
	var r rune
	n := 1
	if s[1] == '#' {
		r, n = numericReference(s)
	} else {
		for n < len(s) && ('a' <= s[n] && s[n] <= 'z' || 'A' <= s[n] && s[n] <= 'Z') {
			n++
		}
		r = namedReference(s[1:n])
	}
	if r == 0 {
		return 0, 0
	}
	if n < len(s) && s[n] == ';' {
		n++
	}
	return r, n
}

func namedReference(name string) rune {
	switch name {
	case "lt":
		return '<'
	case "gt":
		return '>'
	case "amp":
		return '&'
	case "quot":
		return '"'
	}
	return 0
}

func numericReference(s string) (rune, int) {
	start, base := 2, 10
	if s[2] == 'x' {
		start, base = 3, 16
	}
	n := start
	for n < len(s) && n < 10 && isDigit(s[n], base) {
		n++
	}
	v, err := strconv.ParseUint(s[start:n], base, 32)
	if err != nil || v == 0 || v >= utf8.MaxRune || n >= 10 || !utf8.ValidRune(rune(v)) {
		return 0, 0
	}
	return rune(v), n
}

func isDigit(c byte, base int) bool {
	low := c | 0x20
	return '0' <= c && c <= '9' || base == 16 && 'a' <= low && low <= 'f'
}

package botapitest

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// htmlParser turns a text with parse_mode HTML into plain text and entities. The accepted tags, the leniency
// towards attributes and the error texts follow the platform's own parser (FACTS.md B and C); it is not an
// HTML parser in any wider sense.
type htmlParser struct {
	src  string
	pos  int
	out  []byte
	at   int // UTF-16 units written to out
	open []openTag
	list []Entity
}

type openTag struct {
	name, arg string
	at        int // UTF-16 offset of the content
	start     int // byte offset of the content in the output
}

// entityTypes gives the entity a tag makes (API MessageEntity; date_time from memory). It is only read.
var entityTypes = map[string]string{
	"b": "bold", "strong": "bold", "i": "italic", "em": "italic", "u": "underline", "ins": "underline",
	"s": "strikethrough", "strike": "strikethrough", "del": "strikethrough", "tg-spoiler": "spoiler",
	"span": "spoiler", "code": "code", "pre": "pre", "blockquote": "blockquote", "a": "text_link",
	"tg-emoji": "custom_emoji", "tg-time": "date_time",
}

// parseHTML gives the plain text and its entities by rising offset, the longer first.
func parseHTML(src string) (string, []Entity, *apiError) {
	if strings.IndexByte(src, '<') < 0 && strings.IndexByte(src, '&') < 0 {
		return src, nil, nil
	}
	p := &htmlParser{src: src, out: make([]byte, 0, len(src))}
	for p.pos < len(src) {
		if err := p.step(); err != nil {
			return "", nil, err
		}
	}
	if n := len(p.open); n > 0 {
		return "", nil, parseError("Can't find end tag corresponding to start tag " + quote(p.open[n-1].name))
	}
	for i := range p.list {
		if p.list[i].Type == "code" {
			p.list[i].Language = "" // a language counts inside pre only
		}
	}
	slices.SortStableFunc(p.list, func(a, b Entity) int {
		if a.Offset != b.Offset {
			return a.Offset - b.Offset
		}
		return b.Length - a.Length
	})
	return string(p.out), p.list, nil
}

func (p *htmlParser) step() *apiError {
	switch c := p.src[p.pos]; {
	case c == '&':
		if r, n := reference(p.src[p.pos:]); n > 0 {
			p.emit(r)
			p.pos += n
			return nil
		}
	case c == '<':
		if p.peek(1) == '/' {
			return p.endTag()
		}
		return p.startTag()
	}
	p.plain()
	return nil
}

// plain copies up to the next byte that may begin a tag or a reference, at least one.
func (p *htmlParser) plain() {
	run := p.src[p.pos:]
	if n := strings.IndexAny(run[1:], "<&"); n >= 0 {
		run = run[:n+1]
	}
	p.out = append(p.out, run...)
	p.at += utf16Len(run)
	p.pos += len(run)
}

func (p *htmlParser) emit(r rune) {
	p.out = utf8.AppendRune(p.out, r)
	p.at++
	if r > 0xFFFF {
		p.at++ // a surrogate pair
	}
}

// peek is the byte n after the current one, 0 past the end.
func (p *htmlParser) peek(n int) byte {
	if p.pos+n < len(p.src) {
		return p.src[p.pos+n]
	}
	return 0
}

func (p *htmlParser) skipSpaces() {
	for p.pos < len(p.src) && isSpace(p.src[p.pos]) {
		p.pos++
	}
}

// skipUntil moves to the first of the stop bytes, a white space or the end, and gives what it passed.
func (p *htmlParser) skipUntil(stop string) string {
	start := p.pos
	for p.pos < len(p.src) && !isSpace(p.src[p.pos]) && strings.IndexByte(stop, p.src[p.pos]) < 0 {
		p.pos++
	}
	return p.src[start:p.pos]
}

func (p *htmlParser) startTag() *apiError {
	begin := p.pos
	p.pos++
	name := strings.ToLower(p.skipUntil(">"))
	if p.peek(0) == 0 {
		return parseErrorAt("Unclosed start tag", begin)
	}
	if entityTypes[name] == "" {
		return parseErrorAt("Unsupported start tag "+quote(name), begin)
	}
	arg, err := p.attributes(name, begin)
	if err != nil {
		return err
	}
	p.pos++ // past >
	if name == "span" && arg != "spoiler" {
		return parseErrorAt(`Tag "span" must have class "tg-spoiler"`, begin)
	}
	p.open = append(p.open, openTag{name, arg, p.at, len(p.out)})
	return nil
}

func (p *htmlParser) endTag() *apiError {
	begin := p.pos
	if len(p.open) == 0 {
		return parseErrorAt("Unexpected end tag", begin)
	}
	p.pos += 2
	name := p.skipUntil(">")
	p.skipSpaces()
	if p.peek(0) != '>' {
		return parseErrorAt("Unclosed end tag", begin)
	}
	p.pos++
	tag := p.open[len(p.open)-1]
	if name != "" && name != tag.name {
		text := "Unmatched end tag at byte offset " + strconv.Itoa(begin)
		return parseError(text + `, expected "</` + tag.name + `>", found "</` + name + `>"`)
	}
	p.open = p.open[:len(p.open)-1]
	if p.at > tag.at {
		p.close(tag)
	}
	return nil
}

// close makes the entity of a tag that ended and is not empty.
func (p *htmlParser) close(tag openTag) {
	e := Entity{Type: entityTypes[tag.name], Offset: tag.at, Length: p.at - tag.at}
	last := len(p.list) - 1
	switch tag.name {
	case "a":
		target := tag.arg
		if target == "" {
			target = string(p.out[tag.start:])
		}
		if e.URL = checkLink(target); e.URL == "" {
			return
		}
	case "blockquote":
		if tag.arg != "" {
			e.Type = "expandable_blockquote"
		}
	case "code":
		e.Language = tag.arg
	case "pre":
		if last >= 0 && p.list[last].Language != "" && p.list[last].Type == "code" &&
			p.list[last].Offset == e.Offset && p.list[last].Length == e.Length {
			p.list[last].Type = "pre"
			return
		}
	}
	p.list = append(p.list, e)
}

func parseError(text string) *apiError { return badRequest("can't parse entities: " + text) }

func parseErrorAt(text string, at int) *apiError {
	return parseError(text + " at byte offset " + strconv.Itoa(at))
}

func quote(s string) string { return `"` + s + `"` }

func isSpace(c byte) bool { return c == ' ' || '\t' <= c && c <= '\r' || c == 0 }

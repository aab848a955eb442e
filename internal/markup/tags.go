package markup

import "bytes"

// tag takes a tag, whose end is the first mark outside of quotes, and gives what lies within it.
func (r *Reader) tag(from int) ([]byte, error) {
	quote := byte(0)
	for n := from; ; n++ {
		if r.at+n >= r.end {
			if err := r.have(n + 1); err != nil {
				return nil, err
			}
		}
		switch c := r.buf[r.at+n]; {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '"', c == '\'':
			quote = c
		case c == '>':
			b := r.take(n + 1)
			return b[from:n], nil
		}
	}
}

func (r *Reader) closing() (Piece, error) {
	line := r.line
	b, err := r.tag(len("</"))
	if err != nil {
		return Piece{}, err
	}
	name, rest := r.name(b)
	if name == "" || len(blanks(rest)) > 0 {
		return Piece{}, &SyntaxError{Line: line}
	}
	return Piece{Kind: End, Name: name}, nil
}

func (r *Reader) opening() (Piece, error) {
	line := r.line
	b, err := r.tag(len("<"))
	if err != nil {
		return Piece{}, err
	}
	p := Piece{Kind: Start}
	if p.Name, b = r.name(b); p.Name == "" {
		return p, &SyntaxError{Line: line}
	}
	if n := len(b); n > 0 && b[n-1] == '/' {
		r.shut, b = p.Name, b[:n-1]
	}
	r.attrs = r.attrs[:0]
	if len(b) > 0 {
		err = r.said(b)
	}
	p.Attrs = r.attrs
	return p, atLine(err, line)
}

// said reads what a tag says beside its name.
func (r *Reader) said(b []byte) error {
	r.text = r.text[:0] // values that are not meant as they stand
	for b = blanks(b); len(b) > 0; b = blanks(b) {
		var a Attr
		if a.Name, b = r.name(b); a.Name == "" {
			return r.bad()
		}
		if b = blanks(b); len(b) == 0 || b[0] != '=' {
			return r.bad()
		}
		if b = blanks(b[1:]); len(b) == 0 || b[0] != '"' && b[0] != '\'' {
			return r.bad()
		}
		end := bytes.IndexByte(b[1:], b[0]) + 1
		if end == 0 {
			return r.bad()
		}
		var err error
		if a.Value, err = r.meant(b[1:end], inQuotes); err != nil {
			return err
		}
		r.attrs = append(r.attrs, a)
		b = b[end+1:]
	}
	return nil
}

func blanks(b []byte) []byte {
	for len(b) > 0 && (b[0] == ' ' || b[0] == '\n' || b[0] == '\t' || b[0] == '\r') {
		b = b[1:]
	}
	return b
}

// name cuts a name off; empty: there is none.
func (r *Reader) name(b []byte) (string, []byte) {
	n, colons := 0, 0
	for n < len(b) && inName(b[n]) {
		if b[n] == ':' {
			colons++
		}
		n++
	}
	if n == 0 || colons > 1 || b[0] >= '0' && b[0] <= '9' || b[0] == '-' || b[0] == '.' {
		return "", b
	}
	s, ok := r.names[string(b[:n])]
	if !ok {
		if s = string(b[:n]); len(r.names) < maxNames {
			r.names[s] = s
		}
	}
	return s, b[n:]
}

// inName reports whether a byte may stand in a name. Letters beyond ASCII are not looked at.
func inName(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' ||
		c == '_' || c == ':' || c == '-' || c == '.' || c >= 0x80
}

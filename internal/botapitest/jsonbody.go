package botapitest

import (
	"bytes"
	"encoding/json"
	"unsafe"
)

var errJSONBody = badRequest("can't parse request body as JSON object")

// readJSON takes a JSON object apart at its first level only, which costs a fraction of decoding it.
// The body is checked as a whole before, so the scan below may rely on its grammar.
func (c *call) readJSON() *apiError {
	body := skipSpace(c.body)
	if len(body) == 0 {
		return nil
	}
	if body[0] != '{' || !json.Valid(body) {
		return errJSONBody
	}
	for rest := skipSpace(body[1:]); rest[0] != '}'; {
		var name, value []byte
		if rest[0] == ',' {
			rest = skipSpace(rest[1:])
		}
		name, rest = splitString(rest)
		rest = skipSpace(skipSpace(rest)[1:]) // past the colon
		value, rest = splitValue(rest)
		rest = skipSpace(rest)
		if string(value) != "null" || value[0] == '"' {
			c.params = append(c.params, param{view(unquote(name)), unquote(value)})
		}
	}
	return nil
}

// view gives b as a string without copying; b lives in the call's body and is not written to again.
func view(b []byte) string { return unsafe.String(unsafe.SliceData(b), len(b)) }

func skipSpace(b []byte) []byte {
	for len(b) > 0 && (b[0] == ' ' || b[0] == '\n' || b[0] == '\t' || b[0] == '\r') {
		b = b[1:]
	}
	return b
}

// splitString splits after the quoted string b starts with.
func splitString(b []byte) (quoted, rest []byte) {
	for i := 1; ; i++ {
		switch b[i] {
		case '\\':
			i++
		case '"':
			return b[:i+1], b[i+1:]
		}
	}
}

// splitValue splits after the value b starts with.
func splitValue(b []byte) (value, rest []byte) {
	switch b[0] {
	case '"':
		return splitString(b)
	case '{', '[':
		return splitNested(b)
	}
	n := bytes.IndexAny(b, ",} \n\t\r")
	return b[:n], b[n:]
}

func splitNested(b []byte) (value, rest []byte) {
	for i, depth := 0, 0; ; i++ {
		switch b[i] {
		case '"':
			quoted, _ := splitString(b[i:])
			i += len(quoted) - 1
		case '{', '[':
			depth++
		case '}', ']':
			if depth--; depth == 0 {
				return b[:i+1], b[i+1:]
			}
		}
	}
}

// unquote gives the text of a JSON string and any other value unchanged.
func unquote(b []byte) []byte {
	if b[0] != '"' {
		return b
	}
	if bytes.IndexByte(b, '\\') < 0 {
		return b[1 : len(b)-1]
	}
	var s string
	if err := json.Unmarshal(b, &s); err != nil {
		return nil // cannot happen: the body was valid
	}
	return []byte(s)
}

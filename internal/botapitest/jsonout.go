package botapitest

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// appendString appends s as a JSON string. It is on the path of every answer, hence not encoding/json.
func appendString(b []byte, s string) []byte {
	if !utf8.ValidString(s) {
		s = strings.ToValidUTF8(s, "\uFFFD")
	}
	b = append(b, '"')
	start := 0
	for i := 0; i < len(s); i++ {
		c := s[i]
		if c >= ' ' && c != '"' && c != '\\' {
			continue
		}
		b = append(b, s[start:i]...)
		b = appendEscape(b, c)
		start = i + 1
	}
	b = append(b, s[start:]...)
	return append(b, '"')
}

func appendEscape(b []byte, c byte) []byte {
	const hex = "0123456789abcdef"
	switch c {
	case '"', '\\':
		return append(b, '\\', c)
	case '\n':
		return append(b, '\\', 'n')
	}
	return append(b, '\\', 'u', '0', '0', hex[c>>4], hex[c&15])
}

// appendKey appends `,"name":`.
func appendKey(b []byte, name string) []byte {
	b = append(b, `,"`...)
	b = append(b, name...)
	return append(b, `":`...)
}

func appendIntField(b []byte, name string, n int64) []byte {
	return strconv.AppendInt(appendKey(b, name), n, 10)
}

func appendStringField(b []byte, name, value string) []byte {
	return appendString(appendKey(b, name), value)
}

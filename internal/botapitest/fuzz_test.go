package botapitest

import (
	"encoding/json"
	"strings"
	"testing"
	"unicode/utf8"
)

// Whatever the markup, entities lie inside the text, are not empty and come by rising offset.
func FuzzHTML(f *testing.F) {
	for _, s := range []string{"<b>a</b>", `<a href="x.y">é</a>`, "&#x1F600;<i>\U0001F600</i>",
		"<pre><code class=\"language-x\">a</code></pre>",
		"<b", "</", "&", "<span class=tg-spoiler>x</span>", "<blockquote expandable>a",
		"\xff<b>\xff</b>", "&#x110000"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		text, list, err := parseHTML(s)
		if err != nil {
			return
		}
		v := Version{Text: text, Entities: list}
		trim(&v)
		for _, e := range v.Entities {
			if e.Offset < 0 || e.Length <= 0 || e.Offset+e.Length > utf16Len(v.Text) {
				t.Fatalf("%q: entity %+v outside %q", s, e, v.Text)
			}
		}
		if strings.TrimRight(v.Text, " \n") != v.Text {
			t.Fatalf("%q: %q is not trimmed", s, v.Text)
		}
	})
}

// The short way through a JSON body gives what encoding/json gives.
func FuzzJSONBody(f *testing.F) {
	for _, s := range []string{`{}`, `{"a":1}`,
		` { "a" : "x\"\u0041" , "b":[1,{"c":"]}"}] , "d":null,"e":-1.5e3,"f":true } `,
		`{"a":{}}`, `[]`, `{"a":"`, `{"a":1}x`, `{"\u0061":[]}`, "{}\f"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		c := &call{body: []byte(s)}
		err := c.readJSON()
		var whole map[string]json.RawMessage
		bad := json.Unmarshal([]byte(s), &whole) != nil || whole == nil
		if strings.Trim(s, " \t\r\n") == "" {
			return // an empty body is no parameters
		}
		if bad != (err != nil) {
			t.Fatalf("%q: error %v, encoding/json bad %v", s, err, bad)
		}
		seen := map[string][]byte{}
		for _, p := range c.params {
			seen[p.name] = p.value
		}
		for name, raw := range whole {
			var text string
			if json.Unmarshal(raw, &text) != nil {
				text = string(raw)
			}
			if string(raw) == "null" || !utf8.ValidString(s) {
				continue // an absent parameter; invalid text is repaired by encoding/json only
			}
			if got, ok := seen[name]; !ok || string(got) != text {
				t.Fatalf("%q: %q is %q, want %q", s, name, got, text)
			}
		}
	})
}

// What goes out is JSON that reads back as the same text.
func FuzzString(f *testing.F) {
	for _, s := range []string{"", "a\"\\\n\t\x00é\U0001F600", "\xff", "</script>"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		var back string
		err := json.Unmarshal(appendString(nil, s), &back)
		if err != nil || back != strings.ToValidUTF8(s, "\uFFFD") {
			t.Fatalf("%q came back as %q, %v", s, back, err)
		}
	})
}

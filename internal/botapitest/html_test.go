package botapitest_test

import (
	"slices"
	"testing"

	"shopfloat/internal/botapitest"
)

type entities = []botapitest.Entity

// parse_mode HTML: accepted tags of FACTS.md C, error texts of B; entity types from API MessageEntity.
func TestHTML(t *testing.T) {
	one := func(kind string, offset, length int) entities {
		return entities{{Type: kind, Offset: offset, Length: length}}
	}
	for _, tt := range []struct {
		in, text string
		want     entities
	}{
		{"<b>x</b>", "x", one("bold", 0, 1)},
		{"<STRONG>x</>", "x", one("bold", 0, 1)},
		{"<i>x</i >", "x", one("italic", 0, 1)},
		{"<em >x</em>", "x", one("italic", 0, 1)},
		{"<u>x</u>", "x", one("underline", 0, 1)},
		{"<ins>x</ins>", "x", one("underline", 0, 1)},
		{"<s>x</s>", "x", one("strikethrough", 0, 1)},
		{"<strike>x</strike>", "x", one("strikethrough", 0, 1)},
		{"<del>x</del>", "x", one("strikethrough", 0, 1)},
		{"<tg-spoiler>x</tg-spoiler>", "x", one("spoiler", 0, 1)},
		{`<span class="tg-spoiler">x</span>`, "x", one("spoiler", 0, 1)},
		{"<code>x</code>", "x", one("code", 0, 1)},
		{"<pre>x</pre>", "x", one("pre", 0, 1)},
		{`<pre><code class="language-go">x</code></pre>`, "x",
			entities{{Type: "pre", Length: 1, Language: "go"}}},
		{`<code class='language-go'>x</code>`, "x", one("code", 0, 1)},
		{"<blockquote>x</blockquote>", "x", one("blockquote", 0, 1)},
		{"<blockquote expandable>x</blockquote>", "x", one("expandable_blockquote", 0, 1)},
		{`<a href="https://shop.example/?a=1&amp;b=2">x</a>`, "x",
			entities{{Type: "text_link", Length: 1, URL: "https://shop.example/?a=1&b=2"}}},
		{"<a>shop.example</a>", "shop.example",
			entities{{Type: "text_link", Length: 12, URL: "http://shop.example"}}},
		{`<a href="nowhere">x</a>`, "x", nil},
		{"a &lt;b&gt; &amp; &quot;c&quot;", `a <b> & "c"`, nil},
		{"&#8364;&#x20AC;&lt &apos; &#0; & &#xD800;", "€€< &apos; &#0; & &#xD800;", nil},
		{"\U0001F600<b>é\U0001F600</b>", "\U0001F600é\U0001F600", one("bold", 2, 3)},
		{"<b>a<i>b</i></b>", "ab",
			entities{{Type: "bold", Length: 2}, {Type: "italic", Offset: 1, Length: 1}}},
		{"<i><b>ab</b>c</i>", "abc", entities{{Type: "italic", Length: 3}, {Type: "bold", Length: 2}}},
		{"<b></b>x", "x", nil},
		{"  <b>x  </b>  ", "x", one("bold", 0, 1)},
		{"<b> x</b>", " x", one("bold", 0, 2)}, // the front is trimmed only up to the first entity
	} {
		srv := withAnn(t, botapitest.Options{})
		m := send(t, srv, "text", tt.in, "parse_mode", "HTML")
		if m.Text != tt.text || !slices.Equal(m.Entities, tt.want) {
			t.Errorf("%q: %q %+v", tt.in, m.Text, m.Entities)
		}
	}
}

// FACTS.md B: the markup errors. Offsets are bytes.
func TestHTMLErrors(t *testing.T) {
	for _, tt := range []struct{ in, want string }{
		{"fine <x>", `Unsupported start tag "x" at byte offset 5`},
		{"€ <x>", `Unsupported start tag "x" at byte offset 4`},
		{"1 < 2", `Unsupported start tag "" at byte offset 2`},
		{"a <b", "Unclosed start tag at byte offset 2"},
		{"a </b>", "Unexpected end tag at byte offset 2"},
		{"<b>a</i>", `Unmatched end tag at byte offset 4, expected "</b>", found "</i>"`},
		{"<i><b>a</i></b>", `Unmatched end tag at byte offset 7, expected "</b>", found "</i>"`},
		{"<b>a</b", "Unclosed end tag at byte offset 4"},
		{"<i><b>a", `Can't find end tag corresponding to start tag "b"`},
		{"<b>a</b><i>", `Can't find end tag corresponding to start tag "i"`},
		{"<span>a</span>", `Tag "span" must have class "tg-spoiler" at byte offset 0`},
		{"<b/>a", `Unsupported start tag "b/" at byte offset 0`},
		{"<b /x>a", `Empty attribute name in the tag "b" at byte offset 0`},
		{`<a href="x`, `Unclosed start tag "a" at byte offset 0`},
		{`<a href`, `Unclosed start tag "a" at byte offset 0`},
		{`<a href=`, `Unclosed start tag "a" at byte offset 0`},
		{`<a href=a/b>x</a>`, "Unexpected end of name token at byte offset 8"},
	} {
		srv := withAnn(t, botapitest.Options{})
		r := call(t, srv, "sendMessage", "chat_id", ann, "text", tt.in, "parse_mode", "HTML")
		want(t, tt.in, r, "Bad Request: can't parse entities: "+tt.want)
	}
}

package markup_test

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"shopfloat/internal/markup"
)

const bound = 200

// parted tells the pieces of a text, its texts joined, and how it ended.
func parted(src io.Reader) (string, error) {
	r := markup.New(src, bound)
	var b, text strings.Builder
	flush := func() {
		if text.Len() > 0 {
			fmt.Fprintf(&b, "%q\n", text.String())
		}
		text.Reset()
	}
	for {
		p, err := r.Next()
		if err == nil && p.Kind == markup.Text {
			text.Write(p.Text)
			continue
		}
		flush()
		switch {
		case errors.Is(err, io.EOF):
			return b.String(), nil
		case err != nil:
			return b.String(), err
		case p.Kind == markup.Definition:
			return b.String() + "definition\n", nil
		case p.Kind == markup.End:
			fmt.Fprintf(&b, "/%s\n", p.Name)
			continue
		}
		b.WriteString(p.Name)
		for _, a := range p.Attrs {
			fmt.Fprintf(&b, " %s=%q", a.Name, a.Value)
		}
		b.WriteByte('\n')
	}
}

// library is the same by encoding/xml.
func library(src string) (string, error) {
	d := xml.NewDecoder(strings.NewReader(src))
	d.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil }
	var b, text strings.Builder
	name := func(n xml.Name) string {
		if n.Space != "" {
			return n.Space + ":" + n.Local
		}
		return n.Local
	}
	for {
		t, err := d.RawToken()
		if c, is := t.(xml.CharData); is {
			text.Write(c)
			continue
		}
		switch t.(type) {
		case xml.Comment, xml.ProcInst:
			continue
		}
		if text.Len() > 0 {
			fmt.Fprintf(&b, "%q\n", text.String())
		}
		text.Reset()
		switch t := t.(type) {
		case xml.Directive:
			return b.String() + "definition\n", nil
		case xml.EndElement:
			fmt.Fprintf(&b, "/%s\n", name(t.Name))
		case xml.StartElement:
			b.WriteString(name(t.Name))
			for _, a := range t.Attr {
				fmt.Fprintf(&b, " %s=%q", name(a.Name), a.Value)
			}
			b.WriteByte('\n')
		}
		if errors.Is(err, io.EOF) {
			return b.String(), nil
		}
		if err != nil {
			return b.String(), err
		}
	}
}

// Each text is parted as its line says, whether it comes at once or a byte at a time.
func TestPieces(t *testing.T) {
	for src, want := range map[string]string{
		`<a>b</a>`:                         "a\n\"b\"\n/a\n",
		`<n:a x="1" n:y='2"3'/>`:           "n:a x=\"1\" n:y=\"2\\\"3\"\n/n:a\n",
		"<a\n b = 'c>d' >e</a >":           "a b=\"c>d\"\n\"e\"\n/a\n",
		`<?xml version="1.0"?><a/>`:        "a\n/a\n",
		`<a>1<!-- - > <b> -->2</a>`:        "a\n\"12\"\n/a\n",
		`<a><![CDATA[<b>&amp;]]]]></a>`:    "a\n\"<b>&amp;]]\"\n/a\n",
		`<a>&lt;&amp;&#65;&#x20ac;</a>`:    "a\n\"<&A€\"\n/a\n",
		`<a b="&quot;x&apos;" c='&gt;y'/>`: "a b=\"\\\"x'\" c=\">y\"\n/a\n",
		"<a>1\r\n2\r3\n</a>":               "a\n\"1\\n2\\n3\\n\"\n/a\n",
		"Łódź <a>€</a>":                    "\"Łódź \"\na\n\"€\"\n/a\n",
		`<!DOCTYPE a [<!ENTITY b "c">]>`:   "definition\n",
		"":                                 "",
	} {
		for how, in := range map[string]io.Reader{"at once": strings.NewReader(src),
			"by bytes":  iotest.OneByteReader(strings.NewReader(src)),
			"with ends": iotest.DataErrReader(strings.NewReader(src))} {
			if got, err := parted(in); got != want || err != nil {
				t.Errorf("%q %s: %v\n%swant\n%s", src, how, err, got, want)
			}
		}
	}
}

// What is no XML is said with its line, and whether a word of the file's own is the reason.
func TestNoXML(t *testing.T) {
	for src, want := range map[string]markup.SyntaxError{
		"<a>\n<b": {Line: 2}, "<a>&nbsp;</a>": {Line: 1, Word: true}, "\n\n<a>b & c</a>": {Line: 3, Word: true},
		"<a b=c/>": {Line: 1}, "<a b/>": {Line: 1}, "<a>]]></a>": {Line: 1}, "<a>\x01</a>": {Line: 1},
		"<a b='<'/>": {Line: 1}, "<!-- a -- b -->": {Line: 1}, "<![CDATA[a": {Line: 1}, "<1/>": {Line: 1},
		"<a>&#0;</a>": {Line: 1}, "<a>\xff</a>": {Line: 1}, "<": {Line: 1}, "</a b>": {Line: 1},
		"<a:b:c/>": {Line: 1},
	} {
		_, err := parted(strings.NewReader(src))
		var got *markup.SyntaxError
		if !errors.As(err, &got) || *got != want {
			t.Errorf("%q: %v, want %v", src, err, &want)
		}
	}
}

// A piece above the bound is read no further, wherever its end is.
func TestLongPieces(t *testing.T) {
	long := strings.Repeat("a", 100<<10)
	for _, src := range []string{"<" + long, "<!--" + long, "<a>" + long, "<a b='" + long, "<![CDATA[" + long,
		"<?" + long} {
		if _, err := parted(strings.NewReader(src)); !errors.Is(err, markup.ErrLong) {
			t.Errorf("%.8q: %v", src, err)
		}
	}
	broken := errors.New("broken")
	src := io.MultiReader(strings.NewReader("<a>"), iotest.ErrReader(broken))
	if _, err := parted(src); !errors.Is(err, broken) {
		t.Errorf("an error of the source comes back as %v", err)
	}
}

// The library of the language parts every text alike, but for what it looks at and this does not:
// letters beyond ASCII in names, what instructions say, and the rest of a definition.
func FuzzAsTheLibrary(f *testing.F) {
	for _, src := range []string{`<?xml version="1.0" encoding="UTF-8"?><a:b c="d" e='f'>g&amp;h<i/></a:b>`,
		"<a>\r\n<!-- b --><![CDATA[ c ]]>&#x41;</a>", "<!DOCTYPE a>", "<a b = 'c' >d</a >", "]]>", "<a b='&lt;'/>",
		"<a>&#0000000065;&#xD800;&#x110000;</a>", "<a/ >", "<a>\xed\xa0\x80</a>", "<a/b>", "<a></a/>"} {
		f.Add(src)
	}
	f.Fuzz(func(t *testing.T, src string) {
		got, err := parted(strings.NewReader(src))
		slow, again := parted(iotest.OneByteReader(strings.NewReader(src)))
		if errors.Is(err, markup.ErrLong) || errors.Is(again, markup.ErrLong) {
			return
		}
		if slow != got || fmt.Sprint(again) != fmt.Sprint(err) {
			t.Fatalf("by bytes otherwise: %v %v\n%s\n%s", err, again, got, slow)
		}
		if strings.Contains(src, "<?") || inNames(src) || strings.HasSuffix(got, "definition\n") {
			return
		}
		want, wrong := library(src)
		if (err == nil) != (wrong == nil) || err == nil && got != want {
			t.Fatalf("%q: %v\n%s\nthe library: %v\n%s", src, err, got, wrong, want)
		}
	})
}

// inNames reports whether letters beyond ASCII stand outside of texts and quotes, or may.
func inNames(src string) bool {
	for _, part := range strings.Split(src, "<")[1:] {
		tag, _, _ := strings.Cut(part, ">")
		for _, c := range []byte(tag) {
			if c >= 0x80 {
				return true
			}
		}
	}
	return strings.Contains(src, "&") && strings.ContainsFunc(src, func(c rune) bool { return c >= 0x80 })
}

package texts

import (
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"golang.org/x/text/language"
)

// The forms are those of the Unicode CLDR's chart of plural rules: English and
// French differ at nought, Polish has four forms, Japanese one.
func TestForm(t *testing.T) {
	var say map[string]sentence
	const all = `s = { zero = "zero", one = "one", two = "two", few = "few", many = "many", other = "other" }`
	if err := toml.Unmarshal([]byte(all), &say); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		lang  string
		count any
		want  string
	}{
		{"en", int64(0), "other"}, {"en", int64(1), "one"}, {"en", int64(-1), "one"}, {"en", int64(21), "other"},
		{"fr", int64(0), "one"}, {"fr", int64(2), "other"},
		{"pl", int64(1), "one"}, {"pl", int64(3), "few"}, {"pl", int64(12), "many"}, {"pl", int64(22), "few"},
		{"pl", int64(30_000_000_000_022), "few"}, {"ar", int64(2), "two"}, {"ja", int64(1), "other"},
		{"en", nil, "other"},
	} {
		lang := tongue{tag: language.MustParse(c.lang)}
		if got := say["s"][lang.form(say["s"], c.count)]; got != c.want {
			t.Errorf("%s %v: %s, want %s", c.lang, c.count, got, c.want)
		}
	}
	lone := sentence{0: "other"}
	if got := lone[(tongue{tag: language.English}).form(lone, int64(1))]; got != "other" {
		t.Errorf("a form that is missing: %q", got)
	}
}

func TestSentenceErr(t *testing.T) {
	for _, text := range []string{
		`s = "{{.name"`, `s = "{{.}}"`, `s = "{{.a b}}"`, `s = "{{.a{{.b}}"`, `s = { one = "x" }`, `s = 5`,
		`s = { other = "x", several = "y" }`, `s = { other = 1 }`, `s = { one = "{{.n", other = "x" }`,
	} {
		var say map[string]sentence
		if err := toml.Unmarshal([]byte(text), &say); err == nil {
			t.Errorf("took %s", text)
		}
	}
}

func TestFilled(t *testing.T) {
	for _, c := range []struct {
		text string
		fill []any
		want string
	}{
		{"plain }} {{", nil, "plain }} {{"},
		{"{{.a}} and {{.b}}, {{.a}}", []any{"a", 1, "b", "{{.a}}"}, "1 and {{.a}}, 1"},
		{"{{.a}}{{.missing}}.", []any{"a", int64(-2)}, "-2{{.missing}}."},
	} {
		if got := filled(c.text, c.fill, nil); got != c.want {
			t.Errorf("%q: %q, want %q", c.text, got, c.want)
		}
	}
}

// A sentence that is taken fills in: nothing around the names is lost, and no
// name that has a value stays.
func FuzzFilled(f *testing.F) {
	f.Add("{{.a}} notes of {{.b}}")
	f.Add("}}{{.a}}{{")
	f.Fuzz(func(t *testing.T, text string) {
		s := sentence{}
		if s.UnmarshalTOML(text) != nil {
			return
		}
		if got := filled(text, nil, nil); got != text {
			t.Errorf("%q without values: %q", text, got)
		}
		if got, want := filled(text, []any{"a", "x"}, nil), strings.ReplaceAll(text, "{{.a}}", "x"); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	})
}

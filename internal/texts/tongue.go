package texts

import (
	"fmt"
	"path"
	"strings"

	"github.com/BurntSushi/toml"
	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
)

// tongue is one language: its sentences by name.
type tongue struct {
	tag language.Tag
	say map[string]sentence
}

// readTongue reads an embedded file; its name is the language's tag.
func readTongue(name string) (t tongue, err error) {
	if t.tag, err = language.Parse(strings.TrimSuffix(name, path.Ext(name))); err != nil {
		return t, err
	}
	data, err := files.ReadFile(name)
	if err != nil {
		return t, err
	}
	return t, toml.Unmarshal(data, &t.say)
}

// form picks how the language says a count (Unicode CLDR plural rules); a
// sentence without that form, or without a count, has only the other one.
func (t tongue) form(say sentence, count any) plural.Form {
	n, ok := count.(int64)
	if !ok {
		return plural.Other
	}
	const enough = 10_000_000 // no rule looks at more digits than these
	f := plural.Cardinal.MatchPlural(t.tag, int(max(n, -n)%enough), 0, 0, 0, 0)
	if _, ok := say[f]; !ok {
		return plural.Other
	}
	return f
}

// sentence has a wording for each plural form, or the other one alone.
type sentence map[plural.Form]string

// forms are the keys of a sentence with plurals, as the Unicode CLDR names them.
var forms = map[string]plural.Form{
	"zero": plural.Zero, "one": plural.One, "two": plural.Two,
	"few": plural.Few, "many": plural.Many, "other": plural.Other,
}

// UnmarshalTOML reads a text, or a table of texts by plural form.
func (s *sentence) UnmarshalTOML(value any) error {
	*s = sentence{}
	switch v := value.(type) {
	case string:
		(*s)[plural.Other] = v
	case map[string]any:
		for name, text := range v {
			form, known := forms[name]
			wording, isText := text.(string)
			if !known || !isText {
				return fmt.Errorf("plural form %q: want one of the CLDR's with a text", name)
			}
			(*s)[form] = wording
		}
	default:
		return fmt.Errorf("want a text or plural forms, got %v", v)
	}
	return s.check()
}

// check finds what a slip of the pen would leave in a message.
func (s *sentence) check() error {
	if _, ok := (*s)[plural.Other]; !ok {
		return fmt.Errorf("the form \"other\" is missing: %v", *s)
	}
	for _, text := range *s {
		for _, after := range strings.Split(text, open)[1:] {
			name, _, closed := strings.Cut(after, shut)
			if !closed || name == "" || strings.ContainsAny(name, " .{}\n") {
				return fmt.Errorf("{{. without a name and }} in %q", text)
			}
		}
	}
	return nil
}

// Marks around the name of a value to fill in.
const open, shut = "{{.", "}}"

// filled puts values in the place of their names, at need those of examples. A name
// without a value stays to be seen.
func filled(text string, fill, examples []any) string {
	if !strings.Contains(text, open) {
		return text
	}
	var b strings.Builder
	for {
		before, after, found := strings.Cut(text, open)
		b.WriteString(before)
		if !found {
			return b.String()
		}
		name, rest, _ := strings.Cut(after, shut) // there is one, says check
		word, ok := value(name, fill)
		if !ok {
			word, _ = value(name, examples)
		}
		b.WriteString(word)
		text = rest
	}
}

// value writes the one that follows its name in fill.
func value(name string, fill []any) (word string, found bool) {
	for i := 0; i+1 < len(fill); i += 2 {
		if fill[i] == name {
			return fmt.Sprint(fill[i+1]), true
		}
	}
	return open + name + shut, false
}

// Package texts holds the sentences people read in a chat, one file a language,
// and writes numbers and money as the locale does; times are 15:04 everywhere.
// A language is one more file beside en.toml.
package texts

import (
	"embed"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/bojanz/currency"
	"github.com/shopspring/decimal"
	"golang.org/x/text/language"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/names"
)

//go:embed *.toml
var files embed.FS

// Catalogue is every language at hand.
type Catalogue struct {
	tongues []tongue // English first
	choose  language.Matcher

	mu     sync.Mutex
	voices map[[3]string]*Voice
}

// Load gives what the embedded files say, which are read once. It fails when one
// of them is not well formed. Several goroutines may use one catalogue.
func Load() (*Catalogue, error) { return load() }

var load = sync.OnceValues(read)

func read() (*Catalogue, error) {
	list, err := files.ReadDir(".")
	if err != nil {
		return nil, err
	}
	c := &Catalogue{voices: map[[3]string]*Voice{}}
	for _, f := range list {
		t, err := readTongue(f.Name())
		if err != nil {
			return nil, fmt.Errorf("%s: %w", f.Name(), err)
		}
		c.tongues = append(c.tongues, t)
	}
	english := slices.IndexFunc(c.tongues, func(t tongue) bool { return t.tag == language.English })
	if english < 0 {
		return nil, errors.New("no file en.toml, which stands in for every other language")
	}
	c.tongues[0], c.tongues[english] = c.tongues[english], c.tongues[0]
	tags := make([]language.Tag, len(c.tongues))
	for i, t := range c.tongues {
		tags[i] = t.tag
	}
	c.choose = language.NewMatcher(tags)
	return c, nil
}

// tongue picks a person's language; English stands in for an unknown one.
func (c *Catalogue) tongue(lang string) tongue {
	_, i := language.MatchStrings(c.choose, lang)
	return c.tongues[i]
}

// In gives the voice for a person's language in a shop's country and currency.
// An unknown language is answered in English.
func (c *Catalogue) In(lang, country, code string) *Voice {
	key := [3]string{lang, country, code}
	c.mu.Lock()
	defer c.mu.Unlock()
	if v := c.voices[key]; v != nil {
		return v
	}
	locale := currency.NewLocale(lang + "-" + country)
	numbers := currency.NewFormatter(locale)
	numbers.CurrencyDisplay, numbers.MinDigits = currency.DisplayNone, 0
	v := &Voice{
		speaks: []tongue{c.tongue(lang), c.tongues[0]}, numbers: numbers,
		money: currency.NewFormatter(locale), code: code, plain: map[string]string{}, amounts: map[string]string{},
		lists: map[string][]string{}, said: map[string]string{}, examples: examples(code),
	}
	if cur, err := cashmath.LookupCurrency(code); err == nil {
		v.digits = uint8(cur.Digits())
	}
	if len(c.voices) < maxVoices {
		c.voices[key] = v
	}
	return v
}

// maxVoices bounds the cache: languages come from people's phones.
const maxVoices = 256

// Voice speaks one language in one currency.
type Voice struct {
	speaks  []tongue // the second where the first lacks a sentence
	numbers *currency.Formatter
	money   *currency.Formatter
	code    string
	digits  uint8
	// what sentences have for examples where nobody fills it in: kinds of note of the currency
	examples []any

	mu      sync.Mutex
	plain   map[string]string // sentences without anything to fill in
	lists   map[string][]string
	said    map[string]string // sentences filled in before
	amounts map[string]string // money written before: the same few amounts come again and again
}

// maxAmounts bounds that memory; it is emptied when full.
const maxAmounts = 2048

// Say gives a sentence. The rest are names and values to fill in, in turn. A
// sentence that is missing shows its name; a test keeps that from happening.
func (v *Voice) Say(id string, fill ...any) string {
	if len(fill) > 0 {
		return v.localize(id, nil, fill)
	}
	v.mu.Lock()
	defer v.mu.Unlock()
	s, ok := v.plain[id]
	if !ok {
		s = v.render(id, nil, nil)
		v.plain[id] = s
	}
	return s
}

// List gives the words of a list that the catalogue writes with commas. It is
// not to be changed.
func (v *Voice) List(id string) []string {
	v.mu.Lock()
	list, ok := v.lists[id]
	v.mu.Unlock()
	if ok {
		return list
	}
	list = strings.Split(v.Say(id), ", ")
	v.mu.Lock()
	defer v.mu.Unlock()
	v.lists[id] = list
	return list
}

// Count gives a sentence in the plural form for n; {{.n}} is n as the locale writes it.
func (v *Voice) Count(id string, n int64, fill ...any) string {
	return v.localize(id, n, append([]any{"n", v.Number(n)}, fill...))
}

// localize says a sentence, from memory when it has been said before: a shop's
// figures and names are few, and the catalogue's templates cost much more.
func (v *Voice) localize(id string, count any, fill []any) string {
	key, plain := sayKey(id, count, fill)
	if !plain {
		return v.render(id, count, fill)
	}
	v.mu.Lock()
	s, ok := v.said[key]
	v.mu.Unlock()
	if ok {
		return s
	}
	s = v.render(id, count, fill)
	v.mu.Lock()
	defer v.mu.Unlock()
	if len(v.said) >= maxSaid {
		clear(v.said)
	}
	v.said[key] = s
	return s
}

// foreign are the names under which a sentence has what somebody typed, or what is
// called so elsewhere. It stands in the sentence's own line, whatever it holds.
var foreign = []string{"near", "typed", "why", "ref", "account", "name", "who"}

// breaks are the ends of a line.
const breaks = "\n\r\u2028\u2029\u0085"

// maxSaid bounds that memory; it is emptied when full.
const maxSaid = 1024

// sayKey writes down what makes a sentence; plain is false where a value is of
// a kind whose form is not known here.
func sayKey(id string, count any, fill []any) (key string, plain bool) {
	var room [256]byte
	b := append(room[:0], id...)
	if n, ok := count.(int64); ok {
		b = strconv.AppendInt(append(b, 1), n, 10)
	}
	for i := 1; i < len(fill); i += 2 {
		b = append(append(append(b, 0), fill[i-1].(string)...), 0)
		switch f := fill[i].(type) {
		case string:
			b = append(b, f...)
		case int:
			b = strconv.AppendInt(b, int64(f), 10)
		case int64:
			b = strconv.AppendInt(b, f, 10)
		default:
			return "", false
		}
	}
	return string(b), len(b) <= cap(room)
}

func (v *Voice) render(id string, count any, fill []any) string {
	for i := 1; i < len(fill); i += 2 {
		s, ok := fill[i].(string)
		if ok && strings.ContainsAny(s, breaks) && slices.Contains(foreign, fill[i-1].(string)) {
			fill = slices.Clone(fill)
			fill[i] = names.Seen(s)
		}
	}
	for _, t := range v.speaks {
		if say, ok := t.say[id]; ok {
			return strings.TrimSuffix(filled(say[t.form(say, count)], fill, v.examples), "\n")
		}
	}
	return id
}

// examples are the names under which a sentence has an example: the kinds of a machine as they
// are typed, and one of them.
func examples(code string) []any {
	kinds := cashmath.UsualKinds(code)
	if len(kinds) == 0 {
		kinds = cashmath.UsualKinds("EUR")
	}
	words := make([]string, len(kinds))
	for i, f := range kinds {
		words[i] = string(f)
	}
	return []any{"eg-kinds", strings.Join(words, " "), "eg", words[len(words)-2]}
}

// Number writes a count as the locale does: 1,500.
func (v *Voice) Number(n int64) string {
	if n > -1000 && n < 1000 {
		return strconv.FormatInt(n, 10)
	}
	a, err := currency.NewAmountFromInt64(n, plainCode)
	if err != nil {
		return strconv.FormatInt(n, 10)
	}
	return v.numbers.Format(a)
}

// plainCode is a currency without minor digits, under which the formatter
// takes an integer as it is; its sign is not shown.
const plainCode = "JPY"

// Money writes an amount as the locale does, without minor digits when it has none: €2,000.
func (v *Voice) Money(d decimal.Decimal) string {
	key := d.String()
	v.mu.Lock()
	defer v.mu.Unlock()
	if s, ok := v.amounts[key]; ok {
		return s
	}
	a, err := currency.NewAmount(key, v.code)
	if err != nil {
		return key + " " + v.code
	}
	digits := v.digits
	if d.IsInteger() {
		digits = 0
	}
	v.money.MinDigits, v.money.MaxDigits = digits, max(digits, v.digits)
	if len(v.amounts) >= maxAmounts {
		clear(v.amounts)
	}
	s := v.money.Format(a)
	v.amounts[key] = s
	return s
}

// Kind names a kind of note by its face value: 20s.
func (v *Voice) Kind(f cashmath.Face) string { return v.Say("kind", "face", string(f)) }

// Clock writes the time of day.
func (v *Voice) Clock(t time.Time) string { return t.Format("15:04") }

// Day writes a day of the week and month: Wed 25 Nov.
func (v *Voice) Day(t time.Time) string {
	return v.Say("day", "weekday", v.Say("weekday."+strconv.Itoa(int(t.Weekday()))),
		"day", t.Day(), "month", v.Say("month."+strconv.Itoa(int(t.Month()))))
}

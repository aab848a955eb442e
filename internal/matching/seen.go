package matching

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"
	"unicode"

	"shopfloat/internal/shop"
	"shopfloat/internal/statement"
)

// Key is what a line is known by once it was booked.
type Key struct {
	Account string    `json:"account,omitempty"`
	Ref     string    `json:"ref,omitempty"`    // digest of the bank's own reference
	Day     shop.Date `json:"day,omitempty"`    // booked by the bank
	Digest  string    `json:"digest,omitempty"` // of day, amount and words
}

// KeyOf gives a line's key.
func KeyOf(l statement.Line) Key {
	k := Key{Account: l.Account, Day: l.Day, Digest: short(string(l.Day), l.Amount.String(), l.Currency,
		words(l))}
	switch {
	case l.Loose && l.Ref != "":
		k.Ref = short(l.Account, l.Ref, l.Amount.String(), string(l.Day))
	case l.Ref != "":
		k.Ref = short(l.Account, l.Ref, l.Amount.String())
	}
	return k
}

func short(parts ...string) string {
	sum := sha256.Sum256([]byte(strings.Join(parts, "\x00")))
	return hex.EncodeToString(sum[:12])
}

// words are a line's words without what formats change: blanks, case, signs.
func words(l statement.Line) string {
	var b strings.Builder
	for _, r := range l.Name + l.Text {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			b.WriteRune(unicode.ToLower(r))
		}
	}
	return b.String()
}

// near is how many days a person's note of a payment and the bank's may be apart.
const near = 3

// group is lines that cannot be told apart but by reference or number.
type group struct {
	day      shop.Date
	amount   string
	currency string
}

// Seen says which lines are booked already: by the bank's own reference, else by
// how many of the same day and amount are booked; also what a person typed
// before the statement came. What a table calls a reference may be one that several
// payments bear: it says which of a day's lines is booked, and no more.
func Seen(lines []statement.Line, booked []Booked) map[int]bool {
	refs, counts := map[string]int{}, map[group]int{}
	var typed []*Booked
	for i := range booked {
		b := &booked[i]
		switch k := b.Key; {
		case k == (Key{}):
			typed = append(typed, b)
		default:
			refs[k.Ref]++
			counts[group{k.Day, b.Amount.String(), b.Currency}]++
		}
	}
	seen, twice := map[int]bool{}, map[string]bool{}
	for _, l := range lines {
		k, g := KeyOf(l), group{l.Day, l.Amount.String(), l.Currency}
		if k.Ref == "" {
			continue
		}
		again := twice[k.Ref] && !l.Loose
		if twice[k.Ref] = true; again || refs[k.Ref] > 0 {
			seen[l.No] = true
			if !again {
				counts[g]--
			}
			if l.Loose {
				refs[k.Ref]--
			}
		}
	}
	for _, l := range lines {
		if g := (group{l.Day, l.Amount.String(), l.Currency}); !seen[l.No] && counts[g] > 0 {
			counts[g]--
			seen[l.No] = true
		}
	}
	for _, b := range typed {
		if l := sameAs(b, lines, seen); l != nil {
			seen[l.No] = true
		}
	}
	return seen
}

// sameAs finds the line of a payment that a person typed: the sum, and the
// nearest day.
func sameAs(b *Booked, lines []statement.Line, seen map[int]bool) (best *statement.Line) {
	apart := near + 1
	for i := range lines {
		l := &lines[i]
		if seen[l.No] || !l.Amount.Equal(b.Amount) || l.Currency != b.Currency {
			continue
		}
		d := between(l.Day, b.Day)
		if d = max(d, -d); d < apart {
			best, apart = l, d
		}
	}
	return best
}

// Payer is by what the one who pays is known: the name, else the first words,
// without what changes from line to line.
func Payer(l statement.Line) string {
	from := l.Name
	if from == "" {
		from = l.Text
	}
	var list []string
	for _, w := range strings.FieldsFunc(strings.ToLower(from), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r)
	}) {
		if len(w) > 2 && !strings.ContainsAny(w, "0123456789") && len(list) < 4 && !calendar[w] {
			list = append(list, w)
		}
	}
	return strings.Join(list, " ")
}

// calendar are words of dates, which change.
var calendar = func() map[string]bool {
	m := map[string]bool{}
	const short = "jan feb mar apr may jun jul aug sep oct nov dec mon tue wed thu fri sat sun"
	for w := range strings.FieldsSeq(short) {
		m[w] = true
	}
	return m
}()

// Package cashmath is the arithmetic of a cash machine's day: notes per kind,
// what should be inside, what was counted, what differs and what the bank owes.
//
// Notes are counted in int64; money appears only as decimal.Decimal at the edges
// and is never divided or rounded. The package knows no clock, file or network.
package cashmath

import (
	"cmp"
	"errors"
	"fmt"
	"regexp"
	"strings"

	"github.com/shopspring/decimal"
)

// MaxNotes is the largest plausible count of one kind of note in one entry.
// Anything above is a slip of the fingers, not a machine's stock.
const MaxNotes = 1_000_000

// Sentinel errors of the package.
var (
	// ErrFace: a text is not a face value.
	ErrFace = errors.New("not a face value, write it like 20 or 0.5")
	// ErrCurrency: a code is not money in ISO 4217.
	ErrCurrency = errors.New("not an ISO 4217 currency code, write it like EUR")
)

// Face is the face value of a kind of note in units of its currency, as plain
// decimal text without trailing zeros: "20", "0.5". Equal values have equal texts,
// so a Face compares with == and serves as a map key. Make one with ParseFace or
// as a literal in that form; the zero value is no face.
type Face string

// faceForm bounds a face value to nine digits before the mark and four after it:
// above every note in circulation and as fine as ISO 4217 gets.
var faceForm = regexp.MustCompile(`^(0|[1-9][0-9]{0,8})(\.[0-9]{1,4})?$`)

// ParseFace reads a positive face value such as "20", "20.00" or "0.5".
// Signs, exponents, separators and leading zeros are refused with ErrFace.
func ParseFace(s string) (Face, error) {
	if !faceForm.MatchString(s) {
		return "", ErrFace
	}
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "0" {
		return "", ErrFace
	}
	return Face(s), nil
}

// Decimal returns the face value as an amount. It panics on a Face that breaks
// the form ParseFace guarantees.
func (f Face) Decimal() decimal.Decimal {
	if n := f.whole(); n > 0 {
		return decimal.NewFromInt(n)
	}
	return decimal.RequireFromString(string(f))
}

// whole is the face value where it is whole units, as that of nearly every note is; else 0.
func (f Face) whole() (n int64) {
	if len(f) > 9 {
		return 0
	}
	for i := range len(f) {
		if f[i] < '0' || f[i] > '9' {
			return 0
		}
		n = 10*n + int64(f[i]-'0')
	}
	return n
}

// Cmp returns -1, 0 or +1 as f is worth less than, the same as or more than other.
func (f Face) Cmp(other Face) int {
	whole, part, _ := strings.Cut(string(f), ".")
	otherWhole, otherPart, _ := strings.Cut(string(other), ".")
	return cmp.Or(
		cmp.Compare(len(whole), len(otherWhole)), // no leading zeros: longer is more
		cmp.Compare(whole, otherWhole),
		cmp.Compare(part, otherPart),
	)
}

// UnmarshalText lets JSON read a Face, as a value or a key, under ParseFace's rules.
// Writing needs no method: a Face is its own text.
func (f *Face) UnmarshalText(text []byte) error {
	face, err := ParseFace(string(text))
	if err != nil {
		return fmt.Errorf("face %.20q: %w", text, err)
	}
	*f = face
	return nil
}

// Value is what notes of one face are worth, exactly. Notes may be negative.
func Value(face Face, notes int64) decimal.Decimal {
	if n := face.whole(); n > 0 && small(notes) {
		return decimal.NewFromInt(n * notes)
	}
	return face.Decimal().Mul(decimal.NewFromInt(notes))
}

// small reports whether a number of notes is such that an int64 holds what nine thousand
// kinds of them are worth.
func small(notes int64) bool { return -MaxNotes <= notes && notes <= MaxNotes }

// NotesFor returns how many notes of face make up value. It is false if value is
// negative, is not a whole number of notes, or needs more than MaxNotes.
func NotesFor(value decimal.Decimal, face Face) (notes int64, exact bool) {
	quotient, rest := value.QuoRem(face.Decimal(), 0)
	whole := rest.IsZero() && !value.IsNegative() && quotient.LessThanOrEqual(decimal.NewFromInt(MaxNotes))
	if !whole {
		return 0, false
	}
	return quotient.IntPart(), true
}

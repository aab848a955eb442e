package telling

import (
	"errors"
	"unicode/utf8"

	"shopfloat/internal/names"
)

// ReadName takes a name as it was typed in its one form, of at most so many letters, or says what is
// wrong with it.
func ReadName(t *Teller, s string, form func(string) (string, error), most int) (value, problem string) {
	name, err := form(s)
	switch {
	case errors.Is(err, names.ErrMixed):
		return "", t.V.Say("name-mixed")
	case errors.Is(err, names.ErrSigns), errors.Is(err, names.ErrFormat):
		return "", t.V.Say("name-signs")
	case errors.Is(err, names.ErrCount):
		return "", t.V.Say("name-count")
	}
	if err != nil || utf8.RuneCountInString(name) > most {
		return "", t.V.Say("name-length", "max", most)
	}
	return name, ""
}

// Package dayfile reads and writes a day's figures as JSON, strictly: what is not
// understood to the last character is refused, with the name of the field.
package dayfile

import (
	"fmt"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/diagnosis"
)

// SizeMax is the longest day in bytes.
const SizeMax = 1 << 20

// File is a day as it stands in a file.
type File struct {
	Currency cashmath.Currency
	Facts    diagnosis.Facts
	before   string // currency code of the period before, if it names one
}

// FieldError says which field of a file is unusable and what to write instead.
type FieldError struct {
	Field   string // as a path: "loaded.20", "topups[1].10"
	Problem string
}

// Error is one line: the field, a colon, the problem.
func (e *FieldError) Error() string { return e.Field + ": " + e.Problem }

func refuse(field, format string, args ...any) error {
	return &FieldError{Field: field, Problem: fmt.Sprintf(format, args...)}
}

// whole names a fault of the file as such rather than of one field.
const whole = "day"

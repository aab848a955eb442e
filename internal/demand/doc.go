// Package demand says how many notes of one kind a shop's cash machine will
// pay out on the coming days, and how many to load so that they last.
//
// The model works on logarithms, so that every term is a factor a person can
// read: a usual Friday 150 notes, month's end +9 %, quiet since Tuesday -4 %.
//
//	log(notes) = usual level of that weekday + calendar + last year's movement
//	             + what the last days were above or below usual + noise
//
// The package is pure: it reads no clock, no file and no random number, and
// the same history always gives the same advice. How good it is, and against
// which simple habits it was measured, stands in VALIDATION.md.
package demand

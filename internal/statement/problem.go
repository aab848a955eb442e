package statement

import (
	"errors"
	"fmt"
	"strings"
)

// Code says what is wrong with a file.
type Code string

// What can be wrong with a file.
const (
	Empty     Code = "empty"     // no statement in it
	TooLarge  Code = "too-large" // more than is read
	Unknown   Code = "unknown"   // none of the formats
	Broken    Code = "broken"    // ends in the middle or is damaged
	Packed    Code = "packed"    // packed twice, or with a password
	Doctype   Code = "doctype"   // defines words of its own
	TooDeep   Code = "too-deep"  // nested, or a word too long
	Encoding  Code = "encoding"  // letters of an alphabet that is not known
	BadAmount Code = "amount"    // an amount cannot be read
	BadDate   Code = "date"      // a date cannot be read
	Formula   Code = "formula"   // a formula stands where a figure belongs
	NoColumns Code = "columns"   // the columns of a table are not understood
	DateOrder Code = "order"     // day and month cannot be told apart
	Ragged    Code = "ragged"    // a row has more cells than the table has columns
	Another   Code = "another"   // a table with other columns begins within one
	NotBooked Code = "intraday"  // a report of the day, which may still change
)

// sentences say it to a person; %s is the word or place it is about.
var sentences = map[Code]string{
	Empty:     "The file has no statement in it.",
	TooLarge:  "The file is too large: %s at most, unpacked too. Ask the bank for a shorter time.",
	Unknown:   "This is no statement that I can read: send camt.053, camt.054, OFX or CSV.",
	Broken:    "The file is damaged or ends in the middle%s. Fetch it from the bank again.",
	Packed:    "The packed file cannot be opened: %s. Send the statement itself.",
	Doctype:   "The file defines words of its own, which no bank's statement does. Nothing was read.",
	TooDeep:   "The file is built as no statement is (%s). Nothing was read.",
	Encoding:  "The file says it is written in %s, which I cannot read. Ask the bank for UTF-8.",
	BadAmount: "I cannot read the amount %s.",
	BadDate:   "I cannot read the date %s.",
	Formula:   "A formula stands where a figure belongs: %s. Export the table with values only.",
	NoColumns: "I cannot tell which column holds %s. Headings such as Date, Amount and Text help.",
	DateOrder: "I cannot tell day and month apart in %s.",
	Ragged:    "More cells stand here than the table has columns. Export it with semicolons, or send OFX.",
	Another:   "A table with other columns begins here. Send it as a file of its own.",
	NotBooked: "This is a report of the running day (%s), which may still change. Send the statement.",
}

// Problem is what is wrong with a file, for the person who sent it.
type Problem struct {
	Code  Code
	About string // a word of the file or a limit
	Where string // "line 7"; empty: nowhere in particular
}

// Error is one sentence, or two short ones, on one line.
func (p *Problem) Error() string {
	s := sentences[p.Code]
	if strings.Contains(s, "%s") {
		s = fmt.Sprintf(s, p.About)
	}
	if p.Where != "" {
		s = strings.ToUpper(p.Where[:1]) + p.Where[1:] + ": " + s
	}
	return s
}

func problem(c Code) *Problem { return &Problem{Code: c} }

// about names a word of the file, shortened and on one line.
func about(c Code, word string) *Problem { return &Problem{Code: c, About: quoted(word)} }

// at says where it is.
func (p *Problem) at(what string, n int) *Problem {
	if p.Where == "" {
		p.Where = fmt.Sprintf("%s %d", what, n)
	}
	return p
}

// quotedMax bounds how much of a word of the file is repeated.
const quotedMax = 40

// quoted repeats a word of the file so that a terminal takes no harm.
func quoted(word string) string {
	short := clip(word, quotedMax)
	if short != word {
		short += "…"
	}
	return fmt.Sprintf("%q", short)
}

// asProblem makes what a library says a sentence for a person.
func asProblem(err error) error {
	var p *Problem
	var own *stopped
	if err == nil || errors.As(err, &p) || errors.As(err, &own) {
		return err
	}
	return problem(Broken)
}

// stopped carries an error of the caller past what readers make of theirs.
type stopped struct{ err error }

func (s *stopped) Error() string { return s.err.Error() }
func (s *stopped) Unwrap() error { return s.err }

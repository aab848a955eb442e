package dayfile

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"io"
	"slices"
	"strings"

	"shopfloat/internal/cashmath"
)

// previousMax bounds how many periods may be told one inside the other.
const previousMax = 8

// Decode reads exactly one day. Every error is a *FieldError.
func Decode(data []byte) (File, error) {
	if len(data) > SizeMax {
		return File{}, refuse(whole, "more than %d bytes", SizeMax)
	}
	tokens := json.NewDecoder(bytes.NewReader(data))
	tokens.UseNumber()
	d := decoder{json: tokens}
	file, err := d.day("", 0)
	if err != nil {
		return File{}, err
	}
	if _, err := d.json.Token(); !errors.Is(err, io.EOF) {
		return File{}, refuse(whole, "more text after the closing brace")
	}
	return file, d.checkFaces(file.Currency)
}

// decoder walks the tokens of one file and knows at every step which field it is in.
type decoder struct {
	json  *json.Decoder
	faces []faceAt
}

// faceAt is a face value and where it stood.
type faceAt struct {
	face cashmath.Face
	path string
}

// checkFaces refuses face values that a currency cannot have, no note is worth half
// a yen, and those that it has not, where its notes are known.
func (d *decoder) checkFaces(currency cashmath.Currency) error {
	notes := append(cashmath.Denominations(currency.Code()), issuedBeside[currency.Code()]...)
	known := len(notes) > 0
	for _, at := range d.faces {
		if !currency.Holds(at.face.Decimal()) || known && !slices.Contains(notes, at.face) {
			return refuse(at.path, "%s has no such face value", currency.Code())
		}
	}
	return nil
}

// issuedBeside are notes that circulate beside those of the central bank: banks in
// Scotland and Northern Ireland issue notes of 1 and of 100 pounds (from memory).
var issuedBeside = map[string][]cashmath.Face{"GBP": {"1", "100"}}

// day reads an object with the fields of a period. Inside it, depth counts the
// periods around it.
func (d *decoder) day(path string, depth int) (File, error) {
	var file File
	slots := slotsOf(&file)
	err := d.object(path, func(key, path string) error {
		if key == "currency" {
			return d.currency(path, &file)
		}
		if key == "previous" {
			return d.previous(path, depth, &file)
		}
		if notes := slots.notes[key]; notes != nil {
			return d.notes(path, notes)
		}
		if lots := slots.lots[key]; lots != nil {
			return d.lots(path, lots)
		}
		if count := slots.counts[key]; count != nil {
			return d.count(path, count)
		}
		return refuse(path, "unknown field")
	})
	if err != nil {
		return File{}, err
	}
	return file, checkCurrencies(file, path, depth)
}

// checkCurrencies wants one currency for a day and the periods before it. Only the
// day itself must name it.
func checkCurrencies(file File, path string, depth int) error {
	code, before := file.Currency.Code(), file.before
	if code == "" && depth == 0 {
		return refuse("currency", `missing, write it like "EUR"`)
	}
	if before != "" && code != "" && before != code {
		return refuse(join(path, "previous.currency"), "%s, but the day after is in %s", before, code)
	}
	return nil
}

// slots say where the value of each field goes.
type slots struct {
	notes  map[string]*cashmath.Notes
	lots   map[string]*[]cashmath.Notes
	counts map[string]*int64
}

func slotsOf(file *File) slots {
	facts := &file.Facts
	day := &facts.Day
	return slots{
		notes: map[string]*cashmath.Notes{
			"loaded": &day.Loaded, "dispensed": &day.Dispensed, "reversed": &day.Reversed,
			"remaining": &day.Remaining, "rejects": &day.Rejects, "found": &day.Found, "test": &day.Test,
			"declared": &facts.Declared, "capacity": &facts.Capacity, "bundle": &facts.Bundle,
			"machine_rejected": &facts.MachineRejected,
		},
		lots:   map[string]*[]cashmath.Notes{"topups": &day.Topups, "removed": &day.Removed},
		counts: map[string]*int64{"jams": &facts.Jams, "largest_dispense": &facts.LargestDispense},
	}
}

func (d *decoder) currency(path string, file *File) error {
	token, err := d.token(path)
	if err != nil {
		return err
	}
	code, isText := token.(string)
	if !isText {
		return refuse(path, `must be text, write it like "EUR"`)
	}
	file.Currency, err = cashmath.LookupCurrency(code)
	if err != nil {
		return refuse(path, "%s: %v", quoted(code), err)
	}
	file.Facts.Currency = code
	return nil
}

func (d *decoder) previous(path string, depth int, file *File) error {
	if depth == previousMax {
		return refuse(path, "too many periods inside each other")
	}
	before, err := d.day(path, depth+1)
	if err != nil {
		return err
	}
	file.Facts.Previous = &before.Facts.Day
	file.before = cmp.Or(before.Currency.Code(), before.before)
	return nil
}

// object reads an object and calls visit for each key, which must read the value.
func (d *decoder) object(path string, visit func(key, path string) error) error {
	if err := d.open(path, '{', "an object in braces"); err != nil {
		return err
	}
	seen := map[string]bool{}
	for d.json.More() {
		token, err := d.token(path)
		if err != nil {
			return err
		}
		key, isText := token.(string)
		if !isText {
			return refuse(named(path), "not valid JSON")
		}
		inner := join(path, key)
		if seen[key] {
			return refuse(inner, "given twice")
		}
		seen[key] = true
		if err := visit(key, inner); err != nil {
			return err
		}
	}
	_, err := d.token(path)
	return err
}

func (d *decoder) open(path string, want json.Delim, text string) error {
	token, err := d.token(path)
	if err != nil {
		return err
	}
	if token != want {
		return refuse(named(path), "must be %s", text)
	}
	return nil
}

func (d *decoder) token(path string) (json.Token, error) {
	token, err := d.json.Token()
	switch {
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return nil, refuse(named(path), "not valid JSON, the text ends too early")
	case err != nil:
		return nil, refuse(named(path), "not valid JSON")
	}
	return token, nil
}

// notes reads an object of counts by face value.
func (d *decoder) notes(path string, into *cashmath.Notes) error {
	notes := cashmath.Notes{}
	*into = notes
	return d.object(path, func(key, path string) error {
		face, err := cashmath.ParseFace(key)
		if err != nil {
			return refuse(path, "%v", err)
		}
		if _, given := notes[face]; given {
			return refuse(path, "face value %s given twice", face)
		}
		d.faces = append(d.faces, faceAt{face, path})
		var count int64
		err = d.upTo(mostOf(face), path, &count)
		notes[face] = count
		return err
	})
}

// lots reads a list of objects of counts.
func (d *decoder) lots(path string, into *[]cashmath.Notes) error {
	if err := d.open(path, '[', "a list in square brackets"); err != nil {
		return err
	}
	for d.json.More() {
		var lot cashmath.Notes
		if err := d.notes(index(path, len(*into)), &lot); err != nil {
			return err
		}
		*into = append(*into, lot)
	}
	_, err := d.token(path)
	return err
}

// mostOf is the largest number that may stand for notes of a face: money typed
// instead of them is to be seen, and a full box of high notes is worth more than
// any number of notes.
func mostOf(face cashmath.Face) int64 {
	const fullBox = 10_000 // notes; larger ones are not built (common practice, no source)
	return max(cashmath.MaxNotes, face.Decimal().IntPart()*fullBox)
}

// count reads a number of events: a plain whole number.
func (d *decoder) count(path string, into *int64) error { return d.upTo(cashmath.MaxNotes, path, into) }

// upTo reads a plain whole number that is not above another.
func (d *decoder) upTo(most int64, path string, into *int64) error {
	token, err := d.token(path)
	if err != nil {
		return err
	}
	number, isNumber := token.(json.Number)
	if !isNumber {
		return refuse(path, "must be a whole number")
	}
	switch text := number.String(); {
	case strings.HasPrefix(text, "-"):
		return refuse(path, "%s is below 0", quoted(text))
	case strings.ContainsAny(text, ".eE"):
		return refuse(path, "%s is not a plain whole number", quoted(text))
	}
	count, err := number.Int64()
	if err != nil || count > most {
		return refuse(path, "%s is more than %d", quoted(number.String()), most)
	}
	*into = count
	return nil
}

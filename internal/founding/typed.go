package founding

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/counts"
	"shopfloat/internal/guides"
	"shopfloat/internal/holidays"
	"shopfloat/internal/lands"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// What is typed for an answer is read here, in view of those that were given before.

// ReadCountry takes a country by a name that people give it, or by its two letters. Of one that
// is not in the table of the program clock and money are asked.
// What is a part of it, too, is kept until the country is taken.
func (d *Answers) ReadCountry(t *telling.Teller, s string) (code, problem string) {
	d.Meant, d.Part = "", s
	land, ok := lands.Find(s)
	if !ok {
		if land, ok = lands.Near(s); !ok {
			return "", t.V.Say("country-unknown")
		}
		d.Meant = land.Code
	}
	return land.Code, ""
}

// TakePart answers the question for the part of the country, where a part was typed for the
// country: Scotland.
func (d *Answers) TakePart() {
	d.Region = nil
	if r, ok := holidays.RegionCalled(Said(d.Country), d.Part); ok && holidays.Differ(Said(d.Country)) {
		d.Region = &r.Code
	}
	d.Part = ""
}

// DoubtCountry asks back a country whose name was not quite typed.
func (d *Answers) DoubtCountry(t *telling.Teller, code string) string {
	if d.Meant != code {
		return ""
	}
	return t.V.Say("country-meant", "country", CountryName(code))
}

// LittleKnown says what is not known of the country; empty where all is.
func (d *Answers) LittleKnown(t *telling.Teller) string {
	if _, known := shop.CountryOf(Said(d.Country)); known {
		return texts.Either(holidays.Known(Said(d.Country)), "", t.V.Say("hours.holidays-unknown"))
	}
	return t.V.Say("country-little", "country", CountryName(Said(d.Country)))
}

// Examples are what questions have for examples, in the money and with the boxes of the draft.
func (d *Answers) Examples() []any {
	kinds := cashmath.UsualKinds(Said(d.Currency))
	if len(kinds) == 0 {
		kinds = cashmath.UsualKinds("EUR")
	}
	faces := d.Faces()
	if len(faces) == 0 {
		faces = kinds
	}
	const notes = 800 // of the highest kind, a round sum for many shops; nothing rests on it
	sizes := make([]string, max(len(Said(d.Boxes)), 1))
	for i := range sizes {
		sizes[i] = strconv.Itoa(2000)
	}
	if last := len(sizes) - 1; last > 0 {
		sizes[last] = strconv.Itoa(1500)
	}
	words := make([]string, len(kinds))
	for i, f := range kinds {
		words[i] = string(f)
	}
	return []any{"eg-kinds", strings.Join(words, " "), "eg-sizes", strings.Join(sizes, " "),
		"eg-limit", faces[0].Decimal().Mul(decimal.NewFromInt(notes)).String()}
}

// OfferedBoxes are kinds of note that machines of the country's money often hold.
func (d *Answers) OfferedBoxes() (list [][]cashmath.Face) {
	kinds := cashmath.UsualKinds(Said(d.Currency))
	if len(kinds) == 0 {
		return nil
	}
	if list = append(list, kinds); len(kinds) > 2 {
		list = append(list, kinds[1:])
	}
	return list
}

// ReadBoxes takes face values from the top box to the bottom one: "50 20 10", fifties and twenties.
func (d *Answers) ReadBoxes(t *telling.Teller, s string) (faces []cashmath.Face, problem string) {
	parted := func(r rune) bool { return unicode.IsSpace(r) || r == ',' || r == ';' }
	named := t.V.List("words.kinds-by-name") // twenties 20
	for _, word := range strings.FieldsFunc(s, parted) {
		low := texts.Fold(word)
		if slices.Contains(t.V.List("words.between-kinds"), low) {
			continue
		}
		at := slices.IndexFunc(named, func(n string) bool { return strings.HasPrefix(n, low+" ") })
		if at >= 0 {
			low = named[at]
		}
		f, err := cashmath.ParseFace(strings.TrimFunc(low, func(r rune) bool { return !unicode.IsDigit(r) }))
		if err != nil {
			return nil, t.V.Say("boxes-unread", append(d.Examples(), "near", word)...)
		}
		faces = append(faces, f)
	}
	if len(faces) == 0 || len(faces) > maxBoxes {
		return nil, t.V.Say("boxes-number", append(d.Examples(), "max", maxBoxes)...)
	}
	return faces, ""
}

// DoubtBoxes asks back a face value that is not in circulation as far as is known.
func (d *Answers) DoubtBoxes(t *telling.Teller, faces []cashmath.Face) string {
	known := cashmath.Denominations(Said(d.Currency))
	for _, f := range faces {
		if len(known) > 0 && !slices.Contains(known, f) {
			return t.V.Say("boxes-doubt", "kind", t.V.Kind(f), "kinds", Kinds(t, known))
		}
	}
	return ""
}

// forAll drops the words behind a number that say that it is for each: 2000 in each.
func forAll(t *telling.Teller, s string) string {
	for _, w := range t.V.List("words.in-each") {
		if rest, ok := strings.CutSuffix(texts.Fold(s), " "+w); ok {
			return rest
		}
	}
	return s
}

// ReadCapacity takes how many notes fit, one number for all boxes or one for each.
func (d *Answers) ReadCapacity(t *telling.Teller, s string) (list []int64, problem string) {
	boxes := d.boxLines(t)
	list, ok := numbers(forAll(t, s), boxes, AsRoom)
	if !ok {
		problem = t.V.Say("capacity-unread", "n", len(boxes), "max", t.V.Number(MaxCapacity))
	}
	return list, problem
}

// lowPercent of the capacity is offered as the number at which a box counts as
// nearly empty. Common practice, no source.
const lowPercent = 2

// OfferedLow are numbers at which boxes of such a capacity count as nearly empty.
func (d *Answers) OfferedLow() (low []int64) {
	for _, n := range Said(d.Capacity) {
		low = append(low, max(n*lowPercent/100, 1))
	}
	return low
}

// ReadLow takes at how many notes a box is nearly empty, for all or for each.
func (d *Answers) ReadLow(t *telling.Teller, s string) (list []int64, problem string) {
	boxes, capacity := d.boxLines(t), Said(d.Capacity)
	below := func(i int, n int64) bool { return n >= 0 && n < At(capacity, i) }
	list, ok := numbers(forAll(t, s), boxes, below)
	if !ok {
		problem = t.V.Say("low-unread", "n", len(boxes))
	}
	return list, problem
}

// ReadBundle takes how many notes a bundle has, for all kinds or for each.
func (d *Answers) ReadBundle(t *telling.Teller, s string) (list []int64, problem string) {
	faces := d.Faces()
	kinds := make([]counts.Line, len(faces)) // which lie in no box: top and bottom say nothing here
	for i, f := range faces {
		kinds[i].Face = string(f)
	}
	list, ok := numbers(forAll(t, s), kinds, AsRoom)
	if !ok {
		problem = t.V.Say("bundle-unread", "kinds", Kinds(t, faces))
	}
	return list, problem
}

// thousands are the ways to write so many: £40k, 40 thousand.
var thousands = []string{"thousand", "thsd", "tsd", "mille", "mil", "k"}

// inThousands takes that word from a sum; what is left ends in a digit.
func inThousands(s, currency string) (rest string, ok bool) {
	for _, sign := range []string{"", "€", "£", "$", strings.ToLower(currency)} {
		bare := strings.TrimSpace(strings.TrimSuffix(s, sign))
		for _, word := range thousands {
			rest, ok := strings.CutSuffix(bare, word)
			if rest = strings.TrimSpace(rest); ok && rest != "" && unicode.IsDigit(rune(rest[len(rest)-1])) {
				return rest, true
			}
		}
	}
	return s, false
}

// ReadLimit takes a sum of money.
func (d *Answers) ReadLimit(t *telling.Teller, s string) (limit decimal.Decimal, problem string) {
	digits := int32(2)
	if cur, err := cashmath.LookupCurrency(Said(d.Currency)); err == nil {
		digits = int32(cur.Digits())
	}
	sum, thousand := inThousands(strings.ToLower(strings.TrimSpace(s)), Said(d.Currency))
	amount, code := counts.ParseAmount(sum, int(digits))
	limit, err := decimal.NewFromString(amount)
	if thousand {
		limit = limit.Mul(decimal.NewFromInt(1000))
	}
	if err != nil || code != counts.OK || !limit.IsPositive() {
		return decimal.Zero, t.V.Say("limit-unread", d.Examples()...)
	}
	return limit, ""
}

// ReadProvider takes the telephone number of whoever looks after the machine.
func (d *Answers) ReadProvider(t *telling.Teller, s string) (number, problem string) {
	number, ok := guides.PhoneNumber(s)
	if !ok {
		return "", t.V.Say("number-unclear")
	}
	return number, ""
}

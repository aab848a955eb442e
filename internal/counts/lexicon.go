package counts

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// class is what a word does in count language.
type class uint8

const (
	unknownWord class = iota
	numberWord        // seven; value. Those that also name a note (twenty) are found by their value
	scaleWord         // hundred, thousand
	articleWord       // a, an: one, but only before a bundle or a note
	faceWord          // twenties, fivers; value
	bundleWord
	notesWord // says only that notes are meant
	fillWord  // says nothing
	ofWord    // of, in: links a count to the kind of note
	andWord
	plusWord
	minusWord
	timesWord
	zeroWord
	halfWord
	allWord
	totalWord
	boxWord // a number after it is the box's position
	ordinalWord
	pluralWord // the s of 20s
	thenWord   // parts a count from the next
	eachWord
	bothWord
)

type meaning struct {
	class class
	value int16
}

// lexicon holds the words of count language, in lower case. English; the words people type are not the words
// the program says, so they are not part of the message catalogue.
var lexicon = worded(map[class]string{
	fillWord: `loose single singles the is are has have got there i we it put counted left
		remaining inside only just exactly ok grand paid out dispensed printed says shows
		please thanks with at was were so its yes yeah yep today tonight now time slip`,
	notesWord:  `note notes bill bills banknote banknotes pc pcs piece pieces`,
	bundleWord: `b bdl bundle bundles pack packs packet packets strap straps`,
	ofWord:     `of in for`,
	andWord:    `and`,
	plusWord:   `plus`,
	minusWord:  `minus`,
	timesWord:  `x times`,
	zeroWord:   `none no zero nope empty nothing nil`,
	halfWord:   `half`,
	allWord:    `all everything`,
	totalWord:  `total sum`,
	boxWord:    `box boxes cassette number nr`,
	pluralWord: `s`,
	thenWord:   `then`,
	eachWord:   `each apiece`,
	bothWord:   `both`,
}, map[string]meaning{
	"one": {numberWord, 1}, "two": {numberWord, 2}, "three": {numberWord, 3}, "four": {numberWord, 4},
	"five": {numberWord, 5}, "six": {numberWord, 6}, "seven": {numberWord, 7}, "eight": {numberWord, 8},
	"nine": {numberWord, 9}, "ten": {numberWord, 10}, "eleven": {numberWord, 11}, "twelve": {numberWord, 12},
	"thirteen": {numberWord, 13}, "fourteen": {numberWord, 14}, "fifteen": {numberWord, 15},
	"sixteen": {numberWord, 16}, "seventeen": {numberWord, 17}, "eighteen": {numberWord, 18},
	"nineteen": {numberWord, 19}, "twenty": {numberWord, 20}, "thirty": {numberWord, 30},
	"forty": {numberWord, 40}, "fourty": {numberWord, 40}, "fifty": {numberWord, 50},
	"sixty": {numberWord, 60}, "seventy": {numberWord, 70}, "eighty": {numberWord, 80},
	"ninety": {numberWord, 90}, "hundred": {scaleWord, 100}, "thousand": {scaleWord, 1000},
	"a": {articleWord, 1}, "an": {articleWord, 1}, "ones": {faceWord, 1}, "twos": {faceWord, 2},
	"fives": {faceWord, 5}, "fiver": {faceWord, 5}, "fivers": {faceWord, 5}, "tens": {faceWord, 10},
	"tenner": {faceWord, 10}, "tenners": {faceWord, 10}, "twenties": {faceWord, 20},
	"twentys": {faceWord, 20}, "fifties": {faceWord, 50}, "fiftys": {faceWord, 50},
	"hundreds": {faceWord, 100}, "thousands": {faceWord, 1000}, "first": {ordinalWord, 1},
	"second": {ordinalWord, 2}, "third": {ordinalWord, 3}, "fourth": {ordinalWord, 4},
	"fifth": {ordinalWord, 5}, "sixth": {ordinalWord, 6},
})

// worded adds words without a value, set apart by blanks.
func worded(words map[class]string, all map[string]meaning) map[string]meaning {
	for class, list := range words {
		for w := range strings.FieldsSeq(list) {
			all[w] = meaning{class: class}
		}
	}
	return all
}

// maxWordBytes is the longest word of the lexicon.
const maxWordBytes = len("everything")

// meaningOf looks a word up without regard to case.
func meaningOf(word string) meaning {
	var low [maxWordBytes]byte
	if len(word) > maxWordBytes {
		return meaning{}
	}
	for i := range len(word) {
		c := word[i]
		if c >= 'A' && c <= 'Z' {
			c += 'a' - 'A'
		}
		low[i] = c
	}
	return lexicon[string(low[:len(word)])]
}

// dollars and the other lists name the usual currencies behind a sign or a word.
const (
	dollars = "USD CAD AUD NZD SGD HKD MXN"
	pounds  = "GBP GIP FKP EGP"
	francs  = "CHF XOF XAF"
	kronor  = "SEK NOK DKK ISK"
)

// currencies gives the ISO 4217 codes a sign or word may stand for (common usage, from memory).
var currencies = map[string]string{
	"€": "EUR", "eur": "EUR", "euro": "EUR", "euros": "EUR", "£": pounds, "gbp": "GBP", "pound": pounds,
	"pounds": pounds, "quid": "GBP", "$": dollars, "usd": "USD", "dollar": dollars, "dollars": dollars,
	"bucks": dollars, "cad": "CAD", "aud": "AUD", "chf": "CHF", "fr": francs, "franc": francs,
	"francs": francs,
	"¥":      "JPY CNY", "jpy": "JPY", "yen": "JPY", "₹": "INR", "inr": "INR", "rupee": "INR PKR LKR NPR",
	"rupees": "INR PKR LKR NPR", "kr": kronor, "sek": "SEK", "nok": "NOK", "dkk": "DKK", "zł": "PLN",
	"pln": "PLN",
}

// currencyOf returns the codes a currency sign or word may stand for; codes is empty for a sign that is known
// to be money but not whose.
func currencyOf(s string) (codes string, known bool) {
	if codes, known = currencies[strings.ToLower(s)]; known {
		return codes, true
	}
	r, n := utf8.DecodeRuneInString(s)
	return "", n == len(s) && unicode.Is(unicode.Sc, r)
}

// isCurrency reports whether the codes may be the machine's currency. With either unknown they may.
func isCurrency(codes, own string) bool {
	return codes == "" || own == "" || strings.Contains(codes, own)
}

package search

import (
	"strings"
	"unicode"
)

// textBytesMax bounds the work one question can cause; a phone message is at
// most 4,096 characters (Bot API, sendMessage.text).
const textBytesMax = 4096

// wordsMax bounds the number of words looked at; pairs grow with its square.
const wordsMax = 40

// split cuts a text into plain lower-case words: accents off, sums of money as
// the name of the note, other numbers out.
func split(text string) []string {
	if len(text) > textBytesMax {
		text = strings.ToValidUTF8(text[:textBytesMax], "")
	}
	var out []string
	for _, w := range strings.FieldsFunc(plain.Replace(strings.ToLower(text)), notWordRune) {
		if len(out) == wordsMax {
			break
		}
		if isNumber(w) {
			w = noteNames[strings.TrimSuffix(w, "s")]
		}
		if w != "" {
			out = append(out, w)
		}
	}
	return out
}

// expand writes out what people shorten.
func expand(words []string) []string {
	var out []string
	for _, w := range words {
		if long := longForms[w]; long != "" {
			out = append(out, strings.Fields(long)...)
		} else {
			out = append(out, w)
		}
	}
	return out
}

// tokens reads a text whose spelling can be trusted.
func tokens(text string) []string { return expand(split(text)) }

func notWordRune(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }

// content leaves out the words that carry no meaning of their own. It is used
// on questions and on the word lists alike, so that "lost the key" is found in
// "i have lost my key".
func content(words []string) []string {
	var out []string
	for _, w := range words {
		if !filling[w] {
			out = append(out, w)
		}
	}
	return out
}

// isNumber takes 20, 20s and 200 for numbers, and leaves 4g alone.
func isNumber(w string) bool {
	w = strings.TrimSuffix(w, "s")
	return w != "" && strings.Trim(w, "0123456789") == ""
}

// noteNames folds the ways to write a note's value.
var noteNames = map[string]string{
	"5": "fives", "10": "tens", "20": "twenties", "50": "fifties", "100": "hundreds", "200": "hundreds",
}

// plain strips accents and apostrophes, as people on phones do.
var plain = strings.NewReplacer(
	"'", "", "’", "", "‘", "", "`", "", "´", "",
	"à", "a", "á", "a", "â", "a", "ä", "a", "ã", "a", "å", "a", "ą", "a", "æ", "ae",
	"ç", "c", "ć", "c", "č", "c", "è", "e", "é", "e", "ê", "e", "ë", "e", "ę", "e",
	"ì", "i", "í", "i", "î", "i", "ï", "i", "ı", "i", "ł", "l", "ñ", "n", "ń", "n",
	"ò", "o", "ó", "o", "ô", "o", "ö", "o", "õ", "o", "ø", "o", "œ", "oe",
	"ś", "s", "š", "s", "ş", "s", "ß", "ss",
	"ù", "u", "ú", "u", "û", "u", "ü", "u", "ý", "y", "ź", "z", "ż", "z", "ž", "z",
)

// longForms writes out what people shorten. Every "can not" becomes "not":
// what cannot be done and what is not done call for the same guide.
var longForms = map[string]string{
	"cant": "not", "cannot": "not", "couldnt": "not", "wont": "not", "wouldnt": "not", "dont": "not",
	"doesnt": "not", "didnt": "not", "isnt": "not", "arent": "not", "aint": "not", "wasnt": "not",
	"werent": "not", "hasnt": "not", "havent": "not", "hadnt": "not", "shouldnt": "not", "doesn": "not",
	"never": "never not", "dnt": "not", "doesent": "not", "dosent": "not", "dosnt": "not", "didn": "not",
	"im": "i am", "ive": "i have", "ill": "i will", "its": "it", "theres": "there is", "whats": "what is",
	"wheres": "where is", "whos": "who is", "hows": "how is", "thats": "that is", "theyre": "they are",
	"were": "were", "youre": "you are", "shes": "she", "hes": "he", "weve": "we have", "outta": "out of",
	"kinda": "kind of", "gonna": "going to", "wanna": "want to", "gotta": "got to", "pls": "please",
	"plz": "please", "u": "you", "ur": "your", "r": "are", "y": "why", "wat": "what", "wot": "what",
	"wen": "when", "b4": "before", "2moro": "tomorrow", "tmrw": "tomorrow", "tmr": "tomorrow",
	"2day": "today", "msg": "message", "mins": "minutes", "min": "minutes", "hrs": "hours",
	"wknd": "weekend", "smth": "something", "smthg": "something", "sth": "something", "sb": "somebody",
	"ppl": "people", "cuz": "because", "cos": "because", "coz": "because", "bc": "because", "w": "with",
	"wo": "without", "conn": "connection", "cust": "customer", "custs": "customers", "mach": "machine",
	"mc": "machine", "tn": "night", "tonite": "tonight", "nite": "night", "thru": "through",
	"rcpt": "receipt", "eng": "engineer", "pwr": "power", "elec": "electric", "lecky": "electric",
	"leccy": "electric", "nowt": "nothing", "summat": "something", "owt": "anything", "tho": "though",
	"wid": "with", "da": "the", "dis": "this", "dat": "that", "de": "the", "d": "the", "n": "and",
	"k": "ok",
}

// filling are the fillers, to be looked up.
var filling = func() map[string]bool {
	set := make(map[string]bool, len(fillers))
	for _, w := range fillers {
		set[w] = true
	}
	return set
}()

// fillers are words that stand in questions of every kind.
var fillers = []string{
	"a", "an", "the", "is", "are", "was", "were", "be", "been", "being", "am", "i", "to", "of", "and",
	"or", "that", "this", "these", "those", "there", "with", "have", "has", "had", "do", "does", "did",
	"will", "would", "could", "my", "your", "his", "their", "our", "please", "just", "so", "very",
	"really", "then", "some", "any", "also", "but", "if", "me", "you", "get", "gets", "got", "getting",
	"gotten", "as", "by", "because", "about", "quite", "think", "im", "sir", "madam", "maam", "mate",
	"guys", "actually", "though", "again", "even", "still", "now", "here", "when", "while", "which",
	"into", "after", "seem", "seems", "both", "keep", "keeps", "kind", "sort", "trying", "try", "tried",
	"tries", "everything", "anything",
}

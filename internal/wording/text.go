// Package wording cuts what people write into plain words and clauses, drops what is only polite, and finds
// words and phrases of a list in them.
package wording

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
)

// Bounds of the work that one text can cause.
const (
	BytesMax   = 4096 // a message is at most 4,096 characters (Bot API, sendMessage.text)
	WordsMax   = 60
	clausesMax = 8
)

// plain strips accents and apostrophes, as people on phones do.
var plain = strings.NewReplacer(
	"'", "", "’", "", "‘", "", "`", "", "´", "",
	"à", "a", "á", "a", "â", "a", "ä", "a", "ã", "a", "å", "a", "ą", "a", "ă", "a", "æ", "ae",
	"ç", "c", "ć", "c", "č", "c", "è", "e", "é", "e", "ê", "e", "ë", "e", "ę", "e",
	"ì", "i", "í", "i", "î", "i", "ï", "i", "ı", "i", "ł", "l", "ñ", "n", "ń", "n",
	"ò", "o", "ó", "o", "ô", "o", "ö", "o", "õ", "o", "ø", "o", "œ", "oe",
	"ś", "s", "š", "s", "ş", "s", "ș", "s", "ß", "ss", "ț", "t", "ţ", "t", "ğ", "g",
	"ù", "u", "ú", "u", "û", "u", "ü", "u", "ý", "y", "ź", "z", "ż", "z", "ž", "z",
)

// longForms writes out what people shorten.
var longForms = map[string]string{
	"cant": "can not", "cannot": "can not", "couldnt": "could not", "wont": "will not",
	"wouldnt": "would not", "dont": "do not", "doesnt": "does not", "didnt": "did not", "isnt": "is not",
	"arent": "are not", "aint": "is not", "wasnt": "was not", "werent": "were not", "hasnt": "has not",
	"havent": "have not", "hadnt": "had not", "shouldnt": "should not", "dnt": "do not",
	"dosent": "does not", "dosnt": "does not", "im": "i am", "ive": "i have", "its": "it is",
	"theres": "there is", "whats": "what is", "wats": "what is", "wheres": "where is", "whos": "who is",
	"hows": "how is", "thats": "that is", "theyre": "they are", "youre": "you are", "shes": "she is",
	"hes": "he is", "weve": "we have", "theyve": "they have", "lets": "let us", "whens": "when is",
	"outta": "out of", "gonna": "going to", "wanna": "want to", "gotta": "have to", "gimme": "give me",
	"lemme": "let me", "pls": "please", "plz": "please", "u": "you", "ur": "your", "r": "are", "y": "why",
	"wat": "what", "wot": "what", "wen": "when", "b4": "before", "2moro": "tomorrow", "tmrw": "tomorrow",
	"tmr": "tomorrow", "tomoz": "tomorrow", "2day": "today", "2nite": "tonight", "yday": "yesterday",
	"mins": "minutes", "hrs": "hours", "sth": "something", "ppl": "people", "cuz": "because",
	"cos": "because", "coz": "because", "bc": "because", "cust": "customer", "mach": "machine",
	"tn": "tonight", "tonite": "tonight", "thru": "through", "rcpt": "receipt", "eng": "engineer",
	"tho": "though", "da": "the", "dis": "this", "dat": "that", "n": "and", "k": "ok", "abt": "about",
	"amt": "amount", "acc": "account", "msg": "message", "mgr": "manager", "wk": "week", "wks": "weeks",
	"mth": "month", "hv": "have", "hav": "have", "nd": "and", "ty": "thanks", "thx": "thanks",
	"thnx": "thanks", "tnx": "thanks", "sry": "sorry", "soz": "sorry", "xls": "excel", "xlsx": "excel",
	"csv": "excel", "spreadsheet": "excel", "id": "i would", "well": "well", "youve": "you have",
	"ill": "i will",
}

// Clause is a part of a text that can mean something by itself.
type Clause struct {
	Text  string   // as typed
	Words []string // plain, shortened forms written out
}

// Clauses parts a text where people part what they say, and drops what is
// only polite. Of a long text the first parts count.
func Clauses(text string) []Clause {
	if len(text) > BytesMax {
		text = strings.ToValidUTF8(text[:BytesMax], "")
	}
	var out []Clause
	for _, piece := range Pieces(text) {
		words := Of(piece)
		if len(words) == 0 {
			continue
		}
		if out = append(out, Clause{Text: strings.TrimSpace(piece), Words: words}); len(out) == clausesMax {
			break
		}
	}
	return out
}

// Pieces cuts at ends of sentences and at lines; a full stop or a colon between
// figures is part of a number.
func Pieces(text string) []string {
	var out []string
	from, runes := 0, []rune(text)
	digit := func(i int) bool { return i >= 0 && i < len(runes) && unicode.IsDigit(runes[i]) }
	for i, r := range runes {
		var ends bool
		switch r {
		case '\n', ';', '!', '?', '…':
			ends = true
		case '.':
			ends = !digit(i-1) && (i+1 == len(runes) || unicode.IsSpace(runes[i+1]))
		}
		if ends {
			out = append(out, string(runes[from:i+1]))
			from = i + 1
		}
	}
	return append(out, string(runes[from:]))
}

// Of cuts a text into plain lower-case words.
func Of(text string) []string {
	var out []string
	fields := strings.FieldsFunc(plain.Replace(strings.ToLower(text)), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.Is(unicode.Mn, r) &&
			!unicode.Is(unicode.Mc, r)
	})
	for _, w := range fields {
		if len(out) >= WordsMax {
			break
		}
		if w == "ill" && (len(out) == 0 || len(fields) <= 2 || slices.Contains([]string{"am", "is", "feel",
			"feeling", "are", "be", "im", "hes", "shes", "very", "too"}, out[len(out)-1])) {
			out = append(out, w)
			continue
		}
		if long := longForms[w]; long != "" {
			out = append(out, strings.Fields(long)...)
		} else {
			out = append(out, w)
		}
	}
	return out
}

// polite are beginnings that ask for nothing, longest first within a letter.
// They are cut as long as something is left behind them.
var polite = Rows(
	"hi", "hello", "hey", "hiya", "hallo", "hi there", "hello there", "hey there", "good morning",
	"good afternoon", "good evening", "good day", "morning", "evening", "afternoon", "morning all", "yo",
	"alright",
	"ok", "okay", "oki", "okey", "right", "well", "so", "um", "uhm", "er", "erm", "hmm", "hm", "ah", "oh",
	"please", "kindly", "thanks", "thank you", "many thanks", "thank you very much", "thanks a lot", "cheers",
	"ta", "sorry", "so sorry", "sorry to bother you", "sorry to bother you again", "sorry to disturb you",
	"sorry for bothering you", "sorry to ask", "sorry for asking", "sorry for the question", "excuse me",
	"pardon", "pardon me", "quick question", "just a quick question", "one quick question", "one question",
	"question", "a question", "i have a question", "another question", "stupid question", "silly question",
	"dumb question", "maybe a stupid question", "just wondering", "i was wondering", "i was just wondering",
	"i wonder", "was wondering", "wondering", "just checking", "just to check", "can i ask",
	"could i ask", "may i ask", "can i just ask", "let me ask", "can you tell me", "could you tell me",
	"can you please tell me", "could you please tell me", "please tell me", "tell me", "tell me please",
	"would you mind telling me", "do you know", "do you happen to know", "by the way", "btw", "boss", "mate",
	"dear", "sir", "madam", "guys", "team", "everyone", "all", "there", "hope you are well",
	"hope you are ok", "hope all is well", "how are you", "yes", "yeah", "yep", "yes please", "no", "now then",
	"listen", "look", "actually", "basically", "anyway", "and", "but", "then", "also",
	"i need your help", "help", "help me",
	"i need help", "need some help", "can you help", "can you help me", "could you help me", "please help",
	"help me please", "need help", "when you have a minute", "when you have a moment", "if you have a minute",
	"if you do not mind", "if it is ok", "if that is ok", "if possible", "not sure if this is the right place",
	"for me", "me again", "it is me", "it is me again", "hi again", "hello again", "just", "to be honest",
	"i am new", "i am new here", "sorry i am new", "sorry i am new here", "first day here", "my first day",
)

// trailing are ends that ask for nothing.
var trailing = Rows(
	"please", "thanks", "thank you", "many thanks", "thank you very much", "thank you so much", "thanks a lot",
	"thanks in advance", "thank you in advance", "cheers", "ta", "mate", "boss", "sir", "madam", "love",
	"for me", "for me please", "if you can", "if possible", "if you do not mind", "if that is ok", "asap",
	"sorry", "x", "xx", "bye", "lol", "haha", "ok", "okay", "if you could", "when you can", "will you",
	"sorry to bother you", "sorry to ask", "have a good day", "have a nice day",
)

// Rows cuts phrases into words, the longest first.
func Rows(list ...string) [][]string {
	out := make([][]string, len(list))
	for i, p := range list {
		out[i] = strings.Fields(p)
	}
	slices.SortStableFunc(out, func(a, b []string) int { return len(b) - len(a) })
	return out
}

// Unpolite cuts what asks for nothing from both ends, unless nothing is left.
func Unpolite(words []string) []string {
	for again := true; again; {
		again = false
		for _, p := range polite {
			if len(p) < len(words) && slices.Equal(words[:len(p)], p) {
				words, again = words[len(p):], true
				break
			}
		}
		for _, p := range trailing {
			if n := len(words) - len(p); n > 0 && slices.Equal(words[n:], p) {
				words, again = words[:n], true
				break
			}
		}
	}
	return words
}

// OnlyPolite reports whether nothing but courtesy is said.
func OnlyPolite(words []string) bool {
	for len(words) > 0 {
		n := 0
		for _, list := range [][][]string{polite, trailing} {
			for _, p := range list {
				if len(p) > n && len(p) <= len(words) && slices.Equal(words[:len(p)], p) {
					n = len(p)
				}
			}
		}
		if n == 0 {
			return false
		}
		words = words[n:]
	}
	return true
}

// Wordy reports whether a text has a word in it, not only figures and units.
func Wordy(s string) bool { return lettered.MatchString(s) }

var lettered = regexp.MustCompile(`\p{L}{3}`)

// DaysWork reports whether what stands behind "open" or "close" still means the day's work, like "up the
// machine now".
func DaysWork(rest string) bool { return daysWork.MatchString(strings.Trim(rest, ".!? ")) }

var daysWork = regexp.MustCompile(
	`^(?:up )?(?:(?:the|our|my|this) )?(?:cash )?(?:machine|atm|till|shop|day)` +
		`(?: (?:now|please|today|tonight|up|again|for the (?:day|night)))*$`,
)

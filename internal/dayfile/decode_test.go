package dayfile_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/dayfile"
)

func TestDecodeOK(t *testing.T) {
	file, err := dayfile.Decode([]byte(` {"currency":"KWD","loaded":{"20.0":150,"0.50":3},
		"topups":[{"20":50},{}],"removed":[],"dispensed":{"20":1000000},"jams":1,"largest_dispense":40,
		"bundle":{"20":100},
		"previous":{"remaining":{"20":7},"previous":{"currency":"KWD"}}}` + "\n"))
	if err != nil {
		t.Fatal(err)
	}
	day := file.Facts.Day
	if file.Currency.Code() != "KWD" || file.Facts.Currency != "KWD" || day.Loaded["20"] != 150 ||
		day.Loaded["0.5"] != 3 || len(day.Topups) != 2 || day.Topups[0]["20"] != 50 ||
		day.Dispensed["20"] != cashmath.MaxNotes || file.Facts.Jams != 1 || file.Facts.LargestDispense != 40 ||
		file.Facts.Bundle["20"] != 100 || file.Facts.Previous.Remaining["20"] != 7 {
		t.Errorf("read as %+v", file)
	}
}

// What can be is read: a note beside those of the central bank, one of a currency
// whose notes are not known here, and money where notes were meant, to be diagnosed.
func TestFacesThatAre(t *testing.T) {
	for _, in := range []string{
		`{"currency":"GBP","loaded":{"100":2,"1":2}}`, `{"currency":"THB","loaded":{"7":1}}`,
		`{"currency":"JPY","loaded":{"10000":3000000}}`,
	} {
		if _, err := dayfile.Decode([]byte(in)); err != nil {
			t.Errorf("%s: %v", in, err)
		}
	}
}

// refused lists what must not be read, and the one line that says so.
var refused = []struct{ name, in, want string }{
	{"empty", ``, `day: not valid JSON, the text ends too early`},
	{"blank", " \n", `day: not valid JSON, the text ends too early`},
	{"not JSON", `hello`, `day: not valid JSON`},
	{"a list", `[]`, `day: must be an object in braces`},
	{"null", `null`, `day: must be an object in braces`},
	{"cut short", `{"currency":"EUR","loaded":{"20":`, `loaded.20: not valid JSON, the text ends too early`},
	{"no value", `{"currency":"EUR","loaded":{"20":}}`, `loaded.20: not valid JSON`},
	{"trailing comma", `{"currency":"EUR","loaded":{"20":1,}}`, `loaded: not valid JSON`},
	{"single quotes", `{'currency':'EUR'}`, `day: not valid JSON`},
	{"comment", `{"currency":"EUR" /* x */}`, `day: not valid JSON`},
	{"garbage after", `{"currency":"EUR"} x`, `day: more text after the closing brace`},
	{"two days", `{"currency":"EUR"}{"currency":"EUR"}`, `day: more text after the closing brace`},
	{"extra brace", `{"currency":"EUR"}}`, `day: more text after the closing brace`},
	{"no currency", `{}`, `currency: missing, write it like "EUR"`},
	{"currency a number", `{"currency":978}`, `currency: must be text, write it like "EUR"`},
	{"currency null", `{"currency":null}`, `currency: must be text, write it like "EUR"`},
	{"unknown currency", `{"currency":"EUX"}`,
		`currency: "EUX": not an ISO 4217 currency code, write it like EUR`},
	{"small letters", `{"currency":"eur"}`, `currency: "eur": not an ISO 4217 currency code, write it like EUR`},
	{"currency twice", `{"currency":"EUR","currency":"EUR"}`, `currency: given twice`},
	{"unknown field", `{"currency":"EUR","loadde":{}}`, `loadde: unknown field`},
	{"field in capitals", `{"currency":"EUR","Loaded":{}}`, `Loaded: unknown field`},
	{"field with a line break", `{"currency":"EUR","a\nb":{}}`, `"a\nb": unknown field`},
	{"field without a name", `{"currency":"EUR","":{}}`, `"": unknown field`},
	{"field twice", `{"currency":"EUR","loaded":{},"loaded":{}}`, `loaded: given twice`},
	{"face twice", `{"currency":"EUR","loaded":{"20":1,"20":1}}`, `loaded.20: given twice`},
	{"face twice, once with decimals", `{"currency":"EUR","loaded":{"20":1,"20.0":1}}`,
		`loaded.20.0: face value 20 given twice`},
	{"face twice in a top-up", `{"currency":"EUR","topups":[{"10":1},{"0.5":1,"0.50":1}]}`,
		`topups[1].0.50: face value 0.5 given twice`},
	{"no face", `{"currency":"EUR","loaded":{"twenty":1}}`,
		`loaded.twenty: not a face value, write it like 20 or 0.5`},
	{"face 0", `{"currency":"EUR","loaded":{"0":1}}`, `loaded.0: not a face value, write it like 20 or 0.5`},
	{"negative face", `{"currency":"EUR","loaded":{"-20":1}}`,
		`loaded."-20": not a face value, write it like 20 or 0.5`},
	{"face with exponent", `{"currency":"EUR","loaded":{"2e1":1}}`,
		`loaded.2e1: not a face value, write it like 20 or 0.5`},
	{"face too fine", `{"currency":"JPY","loaded":{"0.5":1}}`, `loaded.0.5: JPY has no such face value`},
	{"a note that was never issued", `{"currency":"EUR","loaded":{"20":1,"7":1}}`,
		`loaded.7: EUR has no such face value`},
	{"one in a top-up", `{"currency":"USD","topups":[{"25":1}]}`, `topups[0].25: USD has no such face value`},
	{"more than money for a full box", `{"currency":"JPY","loaded":{"10000":100000001}}`,
		`loaded.10000: "100000001" is more than 100000000`},
	{"face too fine, currency last", `{"test":{"0.125":1},"currency":"EUR"}`,
		`test.0.125: EUR has no such face value`},
	{"negative", `{"currency":"EUR","dispensed":{"20":-1}}`, `dispensed.20: "-1" is below 0`},
	{"negative nought", `{"currency":"EUR","dispensed":{"20":-0}}`, `dispensed.20: "-0" is below 0`},
	{"fraction", `{"currency":"EUR","reversed":{"20":1.5}}`, `reversed.20: "1.5" is not a plain whole number`},
	{"whole with decimals", `{"currency":"EUR","reversed":{"20":2.0}}`,
		`reversed.20: "2.0" is not a plain whole number`},
	{"exponent", `{"currency":"EUR","remaining":{"20":1e3}}`, `remaining.20: "1e3" is not a plain whole number`},
	{"absurd", `{"currency":"EUR","rejects":{"20":1000001}}`, `rejects.20: "1000001" is more than 1000000`},
	{"beyond any integer", `{"currency":"EUR","found":{"20":99999999999999999999}}`,
		`found.20: "99999999999999999999" is more than 1000000`},
	{"text for a count", `{"currency":"EUR","test":{"20":"5"}}`, `test.20: must be a whole number`},
	{"null for a count", `{"currency":"EUR","test":{"20":null}}`, `test.20: must be a whole number`},
	{"leading nought", `{"currency":"EUR","test":{"20":05}}`, `test: not valid JSON`},
	{"null for a field", `{"currency":"EUR","loaded":null}`, `loaded: must be an object in braces`},
	{"number for a field", `{"currency":"EUR","loaded":150}`, `loaded: must be an object in braces`},
	{"object for a list", `{"currency":"EUR","topups":{"20":1}}`, `topups: must be a list in square brackets`},
	{"list in a list", `{"currency":"EUR","removed":[[]]}`, `removed[0]: must be an object in braces`},
	{"text in a list", `{"currency":"EUR","removed":[{"20":1},"x"]}`, `removed[1]: must be an object in braces`},
	{"negative jams", `{"currency":"EUR","jams":-1}`, `jams: "-1" is below 0`},
	{"jams a list", `{"currency":"EUR","jams":[]}`, `jams: must be a whole number`},
	{"fault in the period before", `{"currency":"EUR","previous":{"loaded":{"20":-3}}}`,
		`previous.loaded.20: "-3" is below 0`},
	{"other currency before", `{"currency":"EUR","previous":{"currency":"USD"}}`,
		`previous.currency: USD, but the day after is in EUR`},
	{"other currency long before", `{"currency":"EUR","previous":{"previous":{"currency":"USD"}}}`,
		`previous.currency: USD, but the day after is in EUR`},
	{"too deep", strings.Repeat(`{"previous":`, 20), strings.TrimSuffix(strings.Repeat("previous.", 9), ".") +
		`: too many periods inside each other`},
}

func TestDecodeErrField(t *testing.T) {
	for _, c := range refused {
		t.Run(c.name, func(t *testing.T) {
			_, err := dayfile.Decode([]byte(c.in))
			var field *dayfile.FieldError
			if !errors.As(err, &field) || err.Error() != c.want {
				t.Errorf("got  %v\nwant %s", err, c.want)
			}
		})
	}
}

func TestDecodeSize(t *testing.T) {
	day := `{"currency":"EUR"}`
	fits := day + strings.Repeat(" ", dayfile.SizeMax-len(day))
	if _, err := dayfile.Decode([]byte(fits)); err != nil {
		t.Errorf("a day of exactly the longest size: %v", err)
	}
	_, err := dayfile.Decode([]byte(fits + " "))
	if err == nil || err.Error() != "day: more than 1048576 bytes" {
		t.Errorf("a longer one: %v", err)
	}
}

// A foreign text in an error is cut and quoted: one line, whatever the file holds.
func TestErrorsStayShort(t *testing.T) {
	for _, text := range []string{strings.Repeat("x", 10_000), "\u2028\x7f", strings.Repeat("ü", 500)} {
		_, err := dayfile.Decode(fmt.Appendf(nil, `{"currency":"EUR",%q:1}`, text))
		if err == nil || len(err.Error()) > 250 || strings.ContainsAny(err.Error(), "\n\r\u2028") {
			t.Errorf("error %q", err)
		}
	}
}

// FuzzDecode: whatever comes in, the answer is a day or one line that names a field,
// and a day once read is answered with one line.
func FuzzDecode(f *testing.F) {
	for _, c := range refused {
		f.Add(c.in)
	}
	f.Add(`{"currency":"EUR","loaded":{"20":150,"10":200},"topups":[{"20":50}],"remaining":{"20":108}}`)
	f.Fuzz(func(t *testing.T, in string) {
		file, err := dayfile.Decode([]byte(in))
		if err != nil {
			text := err.Error()
			if strings.ContainsAny(text, "\n\r") || !strings.Contains(text, ": ") {
				t.Errorf("error %q", text)
			}
			return
		}
		var out strings.Builder
		if err := dayfile.Answer(&out, file); err != nil {
			t.Fatal(err)
		}
		if text := out.String(); strings.Count(text, "\n") != 1 || !strings.HasSuffix(text, "]}\n") {
			t.Errorf("answer %q", text)
		}
	})
}

package statement_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"shopfloat/internal/statement"
)

// dialect is a file as a bank would write it, and what it comes to.
type dialect struct {
	name, text, want string
	ways             []string // how it is written
}

// ways are the words behind a name in the file of dialects.
const ways = " bom cr crlf mixed utf16 utf16be 1252 doc "

func dialects(t *testing.T) (list []dialect) {
	t.Helper()
	data, err := os.ReadFile("testdata/dialects.txt")
	if err != nil {
		t.Fatal(err)
	}
	for part := range strings.SplitSeq("\n"+string(data), "\n--- ") {
		head, rest, _ := strings.Cut(part, "\n")
		text, want, is := strings.Cut(rest, "\n=== ")
		if !is {
			continue // what stands above the first
		}
		d := dialect{text: text + "\n", want: strings.TrimSpace(want)}
		words := strings.Fields(head)
		for len(words) > 0 && strings.Contains(ways, " "+words[len(words)-1]+" ") {
			d.ways, words = append(d.ways, words[len(words)-1]), words[:len(words)-1]
		}
		d.name = strings.Join(words, " ")
		list = append(list, d)
	}
	return list
}

// file writes a dialect's bytes.
func (d *dialect) file(t *testing.T) []byte {
	text := d.text
	has := func(way string) bool { return strings.Contains(strings.Join(d.ways, " ")+" ", way+" ") }
	if has("doc") {
		text = `<?xml version="1.0" encoding="UTF-8"?><Document xmlns="urn:iso:std:iso:20022:tech:xsd:` +
			`camt.053.001.08"><BkToCstmrStmt><GrpHdr><MsgId>1</MsgId></GrpHdr><Stmt><Id>1</Id><Acct><Id><Othr>` +
			`<Id>A1</Id></Othr></Id><Ccy>EUR</Ccy></Acct>` + text + `</Stmt></BkToCstmrStmt></Document>`
	}
	switch {
	case has("mixed"):
		for i, end := range []string{"\r", "\r\n"} { // the first ends, and all others stay
			at := strings.Index(text, "\n") + 1
			for range i {
				at += strings.Index(text[at:], "\n") + 1
			}
			text = text[:at-1] + end + text[at:]
		}
	case has("crlf"):
		text = strings.ReplaceAll(text, "\n", "\r\n")
	case has("cr"):
		text = strings.ReplaceAll(text, "\n", "\r")
	}
	switch {
	case has("bom"):
		return []byte("\ufeff" + text)
	case has("utf16"):
		return wide(text, false)
	case has("utf16be"):
		return wide(text, true)[2:]
	case has("1252"):
		return windows(t, text)
	}
	return []byte(text)
}

// A bank's way to write a file changes nothing of what is in it, packed or not.
func TestDialects(t *testing.T) {
	list := dialects(t)
	if len(list) < 50 {
		t.Fatalf("only %d dialects", len(list))
	}
	for _, d := range list {
		file := d.file(t)
		for _, packed := range [][]byte{file, gzipped(t, file), zipped(t, map[string][]byte{"a": file})} {
			lines, rep, err := read(packed, statement.Options{Currency: "EUR", Dates: statement.DayFirst})
			got := fmt.Sprintf("%s %d %s", rep.Balance, rep.Pending, strings.Join(rep.Accounts, " "))
			got = strings.TrimSpace(got) + "\n" + strings.TrimSpace(lines)
			if err != nil || strings.TrimSpace(got) != d.want {
				t.Errorf("%s: %v\n%s\nwant\n%s", d.name, err, got, d.want)
				break
			}
		}
	}
}

package texts_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/shopspring/decimal"

	"shopfloat/internal/texts"
)

func english(t *testing.T) map[string]string {
	t.Helper()
	files, err := filepath.Glob("*en.toml")
	if err != nil || len(files) == 0 {
		t.Fatal("no catalogue", err)
	}
	all := map[string]string{}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		var raw map[string]any
		if err := toml.Unmarshal(data, &raw); err != nil {
			t.Fatal(err)
		}
		for id, v := range raw {
			if _, twice := all[id]; twice {
				t.Errorf("%s: %s stands twice", f, id)
			}
			switch v := v.(type) {
			case string:
				all[id] = v
			case map[string]any:
				all[id] = v["one"].(string) + "\n" + v["other"].(string)
			}
		}
	}
	return all
}

// speakers lists the source files that say something.
func speakers(t *testing.T) []string {
	t.Helper()
	var files []string
	for _, dir := range []string{"../dialogs", "../telling", "../counsel", "../incidents", "../letters",
		"../owing", "../bygone", "../across", "../monthfile", "../founding", "../helping",
		"../rota", "../staff", "../sheet", "../sheets", "../stated", "../readback", "../wording", "../beside",
		"../telegram", "../trust", "../lessons", "../recall",
		"../leaks", "../filed", "../pictures", "../../cmd/bot"} {
		err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
			if err == nil && !d.IsDir() && strings.HasSuffix(path, ".go") && !strings.HasSuffix(path, "_test.go") {
				files = append(files, path)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if len(files) < 60 {
		t.Fatalf("found only %d files", len(files))
	}
	return files
}

// used finds the names of sentences in the source of whoever says them: whole ones,
// and beginnings that are completed at run time.
func used(t *testing.T) (whole, begun map[string]bool) {
	t.Helper()
	files := speakers(t)
	whole, begun = map[string]bool{}, map[string]bool{}
	literal := regexp.MustCompile(`"([a-z]+(?:[.-][a-z0-9-]+)*[.-]?)"`)
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		src, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range literal.FindAllStringSubmatch(string(src), -1) {
			whole[m[1]], whole["button."+m[1]] = true, true
			if strings.HasSuffix(m[1], ".") || strings.HasSuffix(m[1], "-") {
				begun[m[1]], begun["button."+m[1]] = true, true
			}
		}
	}
	return whole, begun
}

func TestEverySentenceIsUsed(t *testing.T) {
	whole, begun := used(t)
	for id := range english(t) {
		ok := whole[id]
		for b := range begun {
			ok = ok || strings.HasPrefix(id, b)
		}
		if !ok && !strings.HasPrefix(id, "weekday.") && !strings.HasPrefix(id, "month.") && id != "kind" &&
			id != "day" {
			t.Errorf("%s is said nowhere", id)
		}
	}
}

// Every name in a call of Say or Count stands in the catalogue.
func TestEverySentenceExists(t *testing.T) {
	all := english(t)
	files := speakers(t)
	call := regexp.MustCompile(
		`(?:Say|Count)\("([a-z][a-z0-9.-]*[a-z0-9])"[,)]|What: +"([a-z.-]*[a-z])"|Intro: ` +
			`+"([a-z.-]*[a-z])"|Button\("([a-z-]+[a-z])"`,
	)
	n := 0
	for _, f := range files {
		src, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range call.FindAllStringSubmatch(string(src), -1) {
			id := m[1] + m[2] + m[3]
			if m[4] != "" {
				id = "button." + m[4]
			}
			n++
			if _, ok := all[id]; !ok {
				t.Errorf("%s says %q, which is in no catalogue", filepath.Base(f), id)
			}
		}
	}
	if n < 150 {
		t.Fatalf("found only %d calls; the pattern no longer fits the source", n)
	}
}

// Staff screens use everyday words. A word of the trade may stand only where
// it explains what the machine's own slip shows.
func TestNoJargon(t *testing.T) {
	jargon := regexp.MustCompile(
		`(?i)denominat|cassette|reject|dispens|settle|reconcil|variance|revers|declar|replenish|discrepan|` +
			`float\b|quantit|invalid|error|successful`,
	)
	explains := map[string]bool{"drawing.slip.may": true, "what.paid": true, "what.back": true}
	for id, s := range english(t) {
		if word := jargon.FindString(s); word != "" && !explains[id] && !strings.HasPrefix(id, "words.") {
			t.Errorf("%s: %q in %q", id, word, s)
		}
	}
}

func TestFormats(t *testing.T) {
	cat, err := texts.Load()
	if err != nil {
		t.Fatal(err)
	}
	// The forms are those of the Unicode CLDR for en-IE, en-DE, de-AT, en-JP.
	for _, c := range []struct{ lang, country, code, amount, want string }{
		{"en", "IE", "EUR", "2000", "€2,000"},
		{"en", "IE", "EUR", "-20.5", "-€20.50"},
		{"en", "DE", "EUR", "2000", "2.000\u00a0€"},
		{"en", "JP", "JPY", "2000", "¥2,000"},
		{"en", "US", "USD", "1234567.89", "$1,234,567.89"},
	} {
		got := cat.In(c.lang, c.country, c.code).Money(decimal.RequireFromString(c.amount))
		if got != c.want {
			t.Errorf("%s-%s %s %s: %q, want %q", c.lang, c.country, c.code, c.amount, got, c.want)
		}
	}
	v := cat.In("en", "IE", "EUR")
	if got := v.Count("notes", 1); got != "1 note" {
		t.Errorf("one: %q", got)
	}
	if got := v.Count("notes", 1500); got != "1,500 notes" {
		t.Errorf("many: %q", got)
	}
	if got := cat.In("xx", "IE", "EUR").Say("button.confirm"); got != "Confirm" {
		t.Errorf("unknown language: %q", got)
	}
}

func BenchmarkCount(b *testing.B) {
	cat, err := texts.Load()
	if err != nil {
		b.Fatal(err)
	}
	v := cat.In("en", "IE", "EUR")
	for b.Loop() {
		v.Count("notes", 1500)
	}
}

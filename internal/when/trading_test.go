package when_test

import (
	"bufio"
	"os"
	"strings"
	"testing"

	"shopfloat/internal/shop"
	"shopfloat/internal/when"
)

// The ways people say hours, each with its reading.
func TestTrading(t *testing.T) {
	f, err := os.Open("testdata/hours.tsv")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	r, n := reader(t, "2026-11-26", "IE"), 0
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		text, want, is := strings.Cut(lines.Text(), "\t")
		if strings.HasPrefix(text, "#") || !is {
			continue
		}
		n++
		said, why := r.Trading(text)
		got := "! " + string(why)
		if why == when.OK {
			got = tradingWord(said)
		}
		if got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
	if n < 55 {
		t.Errorf("%d ways", n)
	}
}

func tradingWord(said when.Trading) string {
	word := ""
	if said.Since != "" {
		word = "since " + string(said.Since) + " "
	}
	if said.From != "" {
		word = said.From + ".." + said.To + " "
	}
	word += weekWord(said.Week)
	if !said.Doubt {
		return word
	}
	for d, h := range said.Literal {
		if h != said.Week[d] || h.Close <= h.Open && h != (shop.Hours{}) {
			return word + " ?" + hoursWord(h)
		}
	}
	return word + " ?"
}

var shortDays = strings.Fields("sun mon tue wed thu fri sat sun")

// weekWord writes days that are alike together, Monday first.
func weekWord(week [7]shop.Hours) string {
	var list []string
	for from := 1; from <= 7; {
		last := from
		for last < 7 && week[(last+1)%7] == week[from%7] {
			last++
		}
		days := shortDays[from]
		if last > from {
			days += "-" + shortDays[last]
		}
		if from == 1 && last == 7 {
			days = "*"
		}
		if h := week[from%7]; h != (shop.Hours{}) {
			word := days + " " + hoursWord(h)
			if h.Split() {
				word += " pause " + clockWord(h.PauseFrom) + "-" + clockWord(h.PauseTo)
			}
			list = append(list, word)
		}
		from = last + 1
	}
	return strings.Join(list, ", ")
}

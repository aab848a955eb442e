package guides_test

import (
	"bufio"
	"encoding/csv"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/guides"
	"shopfloat/internal/shop"
)

// every lists all guides, the cards among them.
func every(lib guides.Library) []string { return append(lib.IDs(), guides.Cards()...) }

// rule is one of testdata/rules.tsv, which says what each column means.
type rule struct {
	scope, name string
	when, must  *regexp.Regexp
	used        int
}

func rules(t *testing.T) []*rule {
	t.Helper()
	f, err := os.Open("testdata/rules.tsv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var list []*rule
	for sc := bufio.NewScanner(f); sc.Scan(); {
		if strings.HasPrefix(sc.Text(), "#") {
			continue
		}
		cells := strings.Split(sc.Text(), "\t")
		if len(cells) != 4 {
			t.Fatalf("%d cells in %q", len(cells), sc.Text())
		}
		list = append(list, &rule{scope: cells[0], name: cells[1],
			when: regexp.MustCompile(cells[2]), must: regexp.MustCompile(cells[3])})
	}
	return list
}

// words are all a step may say, in whatever shop.
func words(s guides.Step) string {
	var all []string
	for _, c := range s.Cautions {
		all = append(all, c.Text)
	}
	for _, l := range s.Lines {
		all = append(all, l.Text)
	}
	return strings.Join(all, "\n")
}

// into lists the buttons that lead to a step, and the text of the steps they are on.
func into(g guides.Guide, name string) (labels []string, before string) {
	for _, s := range g.Steps {
		for _, ch := range s.Choices {
			if ch.To == name {
				labels = append(labels, ch.Text)
				before += words(s) + "\n"
			}
		}
	}
	return labels, before
}

// The same hazard has the same caution everywhere, nothing asks for two people who
// are not there, and no machine goes out of service without its provider and its count.
func TestRulesOfTheGuides(t *testing.T) {
	lib, list := builtin(t), rules(t)
	for _, id := range every(lib) {
		g, _ := lib.Guide(id)
		for _, r := range list {
			for _, fault := range r.broken(g) {
				t.Errorf("%s, %s: %s", id, r.name, fault)
			}
		}
	}
	for _, r := range list {
		if r.used == 0 && r.scope != "never" {
			t.Errorf("rule %q fits no guide: nothing is held to it", r.name)
		}
	}
}

func (r *rule) broken(g guides.Guide) (faults []string) {
	if r.scope == "hazard" {
		return r.uncautioned(g)
	}
	for _, s := range g.Steps {
		labels, before := into(g, s.Name)
		if !r.fits(s, labels) {
			continue
		}
		r.used++
		if !r.kept(g, s, before) {
			faults = append(faults, "step "+s.Name)
		}
	}
	return faults
}

func (r *rule) uncautioned(g guides.Guide) (faults []string) {
	for _, s := range g.Steps {
		for _, c := range s.Cautions {
			if !r.when.MatchString(string(c.Hazard)) {
				continue
			}
			r.used++
			if !r.must.MatchString(c.Text) {
				faults = append(faults, "step "+s.Name+" words it in its own way")
			}
		}
	}
	return faults
}

// warned reports whether who comes to a step has read of a hazard: in the first step,
// or in the step itself.
func warned(g guides.Guide, s guides.Step, of *regexp.Regexp) bool {
	start, _ := g.Step(guides.StartStep)
	return slices.ContainsFunc(g.Hazards, func(h guides.Hazard) bool {
		return of.MatchString(string(h)) && (start.Warns(h) || s.Warns(h))
	})
}

func (r *rule) fits(s guides.Step, labels []string) bool {
	switch r.scope {
	case "out":
		return s.End == guides.EndOutOfService
	case "step":
		return r.when.MatchString(words(s)) || slices.ContainsFunc(labels, r.when.MatchString)
	}
	return r.when.MatchString(words(s))
}

func (r *rule) kept(g guides.Guide, s guides.Step, before string) bool {
	switch r.scope {
	case "never":
		return false
	case "guide":
		return warned(g, s, r.must)
	case "start":
		start, _ := g.Step(guides.StartStep)
		return slices.ContainsFunc(start.Choices, r.offered)
	case "calls":
		return len(s.Call) == 0 || slices.ContainsFunc(s.Call, func(c guides.Contact) bool {
			return r.must.MatchString(string(c))
		})
	case "choice":
		return slices.ContainsFunc(s.Choices, r.offered)
	case "out":
		return slices.Contains(s.Call, guides.Provider) && r.must.MatchString(words(s)+"\n"+before)
	}
	return r.must.MatchString(words(s))
}

func (r *rule) offered(ch guides.Choice) bool { return r.must.MatchString(ch.Text) }

// careless breaks a rule of every scope.
const careless = `guide: careless
title: Done carelessly
hazards: fingers
record: nothing

== start
! fingers: Mind your fingers.
Open the safe with its key. Two people count. If you can reach the plug, pull it.
- Done -> more

== more
Restart the machine once. Ask the insurer.
call: bank
- Smoke, smell or sparks -> smoke
- Done -> out

== smoke
Have a look inside.
call: provider
end: call for help

== out
Leave it.
call: engineer
end: out of service
`

func TestRulesCatchTheCareless(t *testing.T) {
	g, err := guides.Parse("careless.guide", []byte(careless))
	if err != nil {
		t.Fatal(err)
	}
	var broken []string
	for _, r := range rules(t) {
		if len(r.broken(g)) > 0 {
			broken = append(broken, r.name)
		}
	}
	want := "fingers, smoke, smoke grows, the safe is opened, switched off and on, smoke has a way out, " +
		"the insurer is rung, two people, counts, reaching for the plug"
	if got := strings.Join(broken, ", "); got != want {
		t.Errorf("broken: %s\nwant    %s", got, want)
	}
}

// The manager stands first among whom to ring, but for the emergency number.
func TestManagerComesFirst(t *testing.T) {
	lib := builtin(t)
	for _, id := range every(lib) {
		g, _ := lib.Guide(id)
		for _, s := range g.Steps {
			call := s.Call
			if len(call) > 0 && call[0] == guides.Emergency {
				call = call[1:]
			}
			if len(call) > 0 && call[0] != guides.Manager {
				t.Errorf("%s, step %s: %s comes first", id, s.Name, call[0])
			}
		}
	}
	set := guides.Settings{Contacts: map[guides.Contact]string{
		guides.Manager: "01 5550101", guides.Deputy: "01 5550102", guides.Provider: "01 5550103"}}
	v := firstView(t, "caller", set)
	run, _ := lib.Start("caller")
	for v.End == guides.EndNone {
		run, _ = lib.Choose(run, set, 0)
		v, _ = lib.View(run, set)
	}
	if len(v.Call) != 3 || v.Call[0].Contact != guides.Manager || v.Call[1].Contact != guides.Deputy {
		t.Errorf("got %v", v.Call)
	}
}

// Each number is one that the metadata of libphonenumber knows as an emergency number
// of the country; see the head of the file.
func TestEmergencyNumbersAreReal(t *testing.T) {
	f, err := os.Open("testdata/emergency_numbers.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	patterns := map[string]*regexp.Regexp{}
	for _, row := range rows[1:] {
		patterns[row[0]] = regexp.MustCompile("^(?:" + row[1] + ")$")
	}
	digits, unnamed := regexp.MustCompile(`\d+`), []string(nil)
	for _, c := range shop.Countries() {
		named := digits.FindAllString(guides.EmergencyNumber(c.Code), -1)
		if len(named) == 0 {
			unnamed = append(unnamed, c.Code)
		}
		for _, n := range named {
			if p := patterns[c.Code]; p == nil || !p.MatchString(n) {
				t.Errorf("%s: %s is not known as an emergency number", c.Code, n)
			}
		}
	}
	if got := strings.Join(unnamed, " "); got != "MA NG SA" {
		t.Errorf("no number for %s", got)
	}
}

// noteRules says where the rule on a suspect note comes from. Every other country
// of set-up is told whom to ask.
var noteRules = map[string]string{
	"GB":   "Bank of England advice to retailers, as reported by bira.co.uk (2021)",
	"US":   "Secret Service advice, as reported by abc4.com",
	"euro": "National Bank of Belgium, questions and answers (nbb.be)",
	"CA":   "Bank of Canada, advice to retailers, from memory",
	"AU":   "Reserve Bank of Australia, banknotes, from memory",
	"NZ":   "Reserve Bank of New Zealand, from memory",
	"CH":   "Swiss federal police and national bank, from memory",
	"JP":   "Bank of Japan and National Police Agency, from memory",
}

func TestEveryCountryHasANoteRule(t *testing.T) {
	lib := builtin(t)
	said := map[string]bool{}
	for _, c := range shop.Countries() {
		set := guides.Settings{Country: c.Code}
		region := c.Code
		if noteRules[region] == "" && c.Currency == "EUR" {
			region = "euro"
		}
		for _, step := range []string{"offered", "hand-in"} {
			v, err := lib.View(guides.Run{Guide: "suspect-note", Step: step}, set)
			if err != nil {
				t.Fatal(err)
			}
			asks := strings.Contains(v.Text, "Ask the police or your central bank")
			if known := noteRules[region] != ""; asks == known {
				t.Errorf("%s, %s: a source %t, and it says %q", c.Code, step, known, v.Text)
			}
		}
		said[region] = true
	}
	for region := range noteRules {
		if !said[region] {
			t.Errorf("%s is no country of set-up", region)
		}
	}
}

package hearing_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"
)

// A said is one line of a phrase file or of a held-out set.
type said struct {
	ids   []string
	voice string
	text  string
	rest  []string
	at    string
}

var voices = []string{"beginner", "second", "voice", "worried", "terse", "owner", "bookkeeper", "older"}

// lines reads the lines of a file that are not comments, cut at tabs.
func lines(t *testing.T, file string) [][]string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var all [][]string
	for line := range strings.Lines(string(text)) {
		line = strings.TrimRight(line, "\n")
		if line != "" && !strings.HasPrefix(line, "#") {
			all = append(all, strings.Split(line, "\t"))
		}
	}
	return all
}

// held reads a held-out set: ids, voice, sentence, and what a set has besides.
func held(t *testing.T, name string) []said {
	t.Helper()
	return labelled(t, filepath.Join("testdata", "held", name))
}

// labelled reads a file of sentences with what they are.
func labelled(t *testing.T, file string) (all []said) {
	t.Helper()
	for _, cut := range lines(t, file) {
		if len(cut) < 3 {
			t.Fatalf("%s: %q has no three columns", file, cut)
		}
		all = append(all, said{strings.Split(cut[0], ","), cut[1], cut[2], cut[3:], file + ": " + cut[2]})
	}
	return all
}

// phrases reads what the room learns from: a file for each class, voice and phrase a line.
func phrases(t *testing.T) []said {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("phrases", "*.txt"))
	for _, folder := range []string{"more", "meant", "wider"} {
		more, also := filepath.Glob(filepath.Join("phrases", folder, "*.txt"))
		if err != nil || also != nil || len(files) == 0 || len(more) == 0 {
			t.Fatalf("no phrase files: %v, %v", err, also)
		}
		files = append(files, more...)
	}
	var all []said
	for _, file := range files {
		class := strings.TrimSuffix(filepath.Base(file), ".txt")
		for _, cut := range lines(t, file) {
			if len(cut) != 2 {
				t.Errorf("%s: %q has no two columns", file, cut)
				continue
			}
			all = append(all, said{[]string{class}, cut[0], cut[1], nil, file + ": " + cut[1]})
		}
	}
	return all
}

var sets = map[string]int{
	"commands.tsv": 400, "chatter.tsv": 200, "danger.tsv": 200,
	"notdanger.tsv": 200, "guides.tsv": 200, "slots.tsv": 150,
}

// fresh are held out too, in voices that no phrase has.
var fresh = map[string]int{"commands.tsv": 200, "chatter.tsv": 150, "guides.tsv": 150, "danger.tsv": 140}

// apart are those that were set apart when the latest phrases were written, of other topics.
var apart = map[string]int{"chatter.tsv": 120, "danger.tsv": 80}

// judges are those that were written before the phrases of phrases/wider, and of which half is looked at.
var judges = map[string]int{"chatter.tsv": 150, "danger.tsv": 290, "commands.tsv": 100}

// everyday are sentences of ten more, of all kinds.
var everyday = filepath.Join("testdata", "fresh3", "everyday.tsv")

// words are a sentence's words without case and signs.
func words(s string) []string {
	return strings.FieldsFunc(strings.ToLower(s), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsNumber(r) && !unicode.IsMark(r) && r < 0x2190
	})
}

// TestFreshSets are as large as they have to be, and nobody who speaks there is learnt from.
func TestFreshSets(t *testing.T) {
	talk := map[string]int{}
	for _, s := range labelled(t, everyday) {
		if talk[s.voice]++; slices.Contains(voices, s.voice) {
			t.Errorf("%s: the voice %q is learnt from", s.at, s.voice)
		}
	}
	if len(talk) != 10 {
		t.Errorf("%d voices: %v", len(talk), talk)
	}
	for name, least := range fresh {
		all := labelled(t, filepath.Join("testdata", "fresh", name))
		if len(all) < least {
			t.Errorf("%s: %d lines, want %d", name, len(all), least)
		}
		for _, s := range all {
			if slices.Contains(voices, s.voice) {
				t.Errorf("%s: the voice %q is learnt from", s.at, s.voice)
			}
		}
	}
}

// TestHeldOutSets are as large and as many-voiced as they have to be, and their slots can be read.
func TestHeldOutSets(t *testing.T) {
	for name, least := range sets {
		all := held(t, name)
		if len(all) < least {
			t.Errorf("%s: %d lines, want %d", name, len(all), least)
		}
		heard := map[string]int{}
		for _, s := range all {
			heard[s.voice]++
			if !slices.Contains(voices, s.voice) {
				t.Errorf("%s: voice %q", s.at, s.voice)
			}
			if name == "slots.tsv" {
				checkSlots(t, s)
			} else if len(s.rest) != 0 {
				t.Errorf("%s: more than three columns", s.at)
			}
		}
		if len(heard) < len(voices)-1 {
			t.Errorf("%s: only the voices %v", name, heard)
		}
	}
}

func checkSlots(t *testing.T, s said) {
	t.Helper()
	if len(s.rest) != 2 {
		t.Errorf("%s: no time and slots", s.at)
		return
	}
	if _, err := time.Parse("2006-01-02T15:04", s.rest[0]); err != nil {
		t.Errorf("%s: %v", s.at, err)
	}
	var slots struct {
		Date, From, To, Time, Money, Person, Text string
		Counts                                    map[string]int
	}
	read := json.NewDecoder(strings.NewReader(s.rest[1]))
	read.DisallowUnknownFields()
	if err := read.Decode(&slots); err != nil {
		t.Errorf("%s: %v", s.at, err)
	}
	for _, day := range []string{slots.Date, slots.From, slots.To} {
		if _, err := time.Parse(time.DateOnly, day); day != "" && err != nil {
			t.Errorf("%s: %v", s.at, err)
		}
	}
}

// TestPhraseFiles have at least eight voices for every class, and say nothing twice.
func TestPhraseFiles(t *testing.T) {
	heard, seen := map[string]map[string]int{}, map[string]string{}
	for _, s := range phrases(t) {
		class := s.ids[0]
		if heard[class] == nil {
			heard[class] = map[string]int{}
		}
		heard[class][s.voice]++
		if !slices.Contains(voices, s.voice) {
			t.Errorf("%s: voice %q", s.at, s.voice)
		}
		key := strings.Join(words(s.text), " ")
		if before, twice := seen[key]; twice || key == "" {
			t.Errorf("%s: empty, or also in %s", s.at, before)
		}
		seen[key] = s.at
	}
	for class, counted := range heard {
		if strings.HasPrefix(class, "guide-") || strings.HasPrefix(class, "taught-") {
			continue
		}
		for _, voice := range voices {
			if counted[voice] == 0 {
				t.Errorf("%s: nothing in the voice %s", class, voice)
			}
		}
	}
}

// TestNothingHeldOutIsLearnt: no sentence of a held-out set, and no near copy of one, stands among the
// phrases. A near copy has four fifths of its words, whatever their order.
func TestNothingHeldOutIsLearnt(t *testing.T) {
	var kept []said
	for name := range sets {
		kept = append(kept, held(t, name)...)
	}
	for name := range fresh {
		kept = append(kept, labelled(t, filepath.Join("testdata", "fresh", name))...)
	}
	for name, least := range apart {
		all := labelled(t, filepath.Join("testdata", "apart", name))
		if kept = append(kept, all...); len(all) < least {
			t.Errorf("%s: %d lines, want %d", name, len(all), least)
		}
	}
	for name, least := range judges {
		for _, half := range []string{"judge", "dev"} {
			all := labelled(t, filepath.Join("testdata", half, name))
			if kept = append(kept, all...); len(all) < least {
				t.Errorf("%s %s: %d lines, want %d", half, name, len(all), least)
			}
			for _, s := range all {
				if slices.Contains(voices, s.voice) {
					t.Errorf("%s: the voice %q is learnt from", s.at, s.voice)
				}
			}
		}
	}
	kept = append(kept, labelled(t, everyday)...)
	for _, cut := range lines(t, filepath.Join("testdata", "fresh3", "harmless.tsv")) {
		kept = append(kept, said{text: cut[1], at: "fresh3/harmless.tsv: " + cut[1]})
	}
	for _, cut := range lines(t, filepath.Join("..", "..", "testdata", "questions", "held.tsv")) {
		kept = append(kept, said{text: cut[1], at: "questions/held.tsv: " + cut[1]})
	}
	exact, by, size := map[string]string{}, map[string][]int{}, make([]int, len(kept))
	for i, s := range kept {
		exact[strings.Join(words(s.text), " ")] = s.at
		distinct := set(s.text)
		size[i] = len(distinct)
		for _, w := range distinct {
			by[w] = append(by[w], i)
		}
	}
	shared := make([]int, len(kept))
	for _, p := range phrases(t) {
		if at, same := exact[strings.Join(words(p.text), " ")]; same {
			t.Errorf("%s\n  stands held out in %s", p.at, at)
			continue
		}
		distinct := set(p.text)
		clear(shared)
		for _, w := range distinct {
			for _, i := range by[w] {
				shared[i]++
			}
		}
		for i, n := range shared {
			if n >= 3 && 5*n >= 4*(len(distinct)+size[i]-n) {
				t.Errorf("%s\n  is nearly %s", p.at, kept[i].at)
			}
		}
	}
}

func set(s string) []string {
	w := words(s)
	slices.Sort(w)
	return slices.Compact(w)
}

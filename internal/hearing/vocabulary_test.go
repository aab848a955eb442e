package hearing

import (
	"maps"
	"testing"

	"shopfloat/internal/hearing/phrases"
)

// A word is of a kind once it stands in two phrases of it, so that what is learnt from has strange
// words as what is heard has.
func TestVocabulary(t *testing.T) {
	all := []phrases.Said{{ID: dangerID + Fire,
		Phrases: []phrases.Phrase{{Text: "flames here"}, {Text: "a flame"}}}}
	v, err := vocabularyOf(all, taught{ids: []string{"do:day", None}, rows: [][]string{
		{"show tuesday", "showing wednesday"}, {"nice flames", "so nice"}}})
	if err != nil {
		t.Fatal(err)
	}
	for stem, want := range map[string]kind{"show": inTrade, "nice": inTalk, "flam": inDanger, "flame": inDanger,
		"tuesday": 0} {
		if got := v.kinds[stem]; got != want && stem != "flam" && stem != "flame" {
			t.Errorf("%s: %d, want %d", stem, got, want)
		}
	}
	if v.kinds["flam"]|v.kinds["flame"] != inDanger || v.uses["flames"] == 0 {
		t.Errorf("flames: %v", v.kinds)
	}
	back, err := readVocabulary(string(v.text()))
	if err != nil || !maps.Equal(back.uses, v.uses) || !maps.Equal(back.kinds, v.kinds) {
		t.Errorf("written and read: %v, %v", back.kinds, err)
	}
	for _, bad := range []string{"", "word", "word x\n\nstem 1\n", "word 1\n\nstem 999\n"} {
		if _, err := readVocabulary(bad); err == nil {
			t.Errorf("%q is taken for a vocabulary", bad)
		}
	}
}

// A file of what was learnt that is cut short, or says what is not so, is refused.
func TestDamagedFileIsRefused(t *testing.T) {
	e := ear(t)
	for name, file := range map[string][]byte{
		"empty": nil, "not packed": []byte("{}\n"), "cut": learntFile[:len(learntFile)/2],
		"no head": learntFile[1:],
	} {
		if _, err := remembered(file, e.find); err == nil {
			t.Errorf("%s: taken for what was learnt", name)
		}
	}
}

package hearing

import (
	"testing"
)

// What is kept of a text: its plain words, without figures and courtesy. What tells of
// people, illness, theft or danger, what has a name in it or is a count is never kept.
func TestPhrase(t *testing.T) {
	hears, sit := ear(t), closed(t)
	for text, want := range map[string]string{
		"Feed the old badger, please":         "feed the old badger",
		"hi, feed the old badger!":            "feed the old badger",
		"don't wobble the curtain":            "do not wobble the curtain",
		"wobble the curtain 4411":             "wobble the curtain",
		"Wobble the curtain on Monday":        "wobble the curtain on monday",
		"nourrir le vieux blaireau dès midi":  "nourrir le vieux blaireau des midi",
		"Ben wobbled the curtain":             "", // he works there
		"wobble the curtain for Quentin":      "",
		"he wobbled the curtain":              "",
		"the boss wobbled the curtain":        "",
		"a customer wobbled the curtain":      "",
		"I am ill and wobble":                 "",
		"i wobble, i have a fever":            "",
		"i have to go to the doctor":          "",
		"who stole the badger":                "",
		"was the badger nicked":               "",
		"somebody helps themselves to badger": "",
		"a man with a knife wobbles":          "",
		"smoke from the badger":               "",
		"my badger has a gun":                 "",
		"give me the badger or i kill you":    "",
		"there was a robbery last week":       "",
		"20 x 50 into the badger":             "",
		"40 150 200":                          "",
		"50s 40 20s 150":                      "",
		"thanks, hello":                       "",
		"k":                                   "",
		"4411":                                "",
		"feed the badger and then wobble the curtain and then go round the house twice":             "",
		"supercalifragilistic extraordinarilylongword unpronounceableconstruction incomprehensible": "",
	} {
		if got := hears.Phrase(text, sit); got != want {
			t.Errorf("%q is kept as %q, want %q", text, got, want)
		}
	}
}

// What a shop taught is done, behind dangers, counts and the words of commands; nothing of
// what is never kept can be taught, even where a file says so.
func TestTaught(t *testing.T) {
	hears, sit := ear(t), closed(t)
	asked := map[string]string{}
	sit.Taught = func(phrase string) string { return asked[phrase] }
	for _, x := range []struct{ text, phrase, means, want string }{
		{"feed the old badger", "feed the old badger", "do:topup", "do:topup"},
		{"ok please feed the old badger", "feed the old badger", "do:topup", "do:topup"},
		{"feed the old badger", "feed the old badger", "note-jam", "note-jam"},
		{"feed the old badger", "feed the old badger", "none", "none"},
		{"feed the old badger", "feed the old badger", "danger:fire", ""},
		{"feed the old badger", "feed the old badger", "robbery", ""},
		{"close", "close", "do:topup", "do:close"},
		{"there is a man with a knife", "there is a man with a knife", "do:topup", "danger:robbery"},
		{"smoke from the badger", "smoke from the badger", "none", ""},
		{"he took the money", "he took the money", "do:topup", ""},
		{"added 20 x 50 to the badger", "added to the badger", "do:close", "do:topup"},
	} {
		clear(asked)
		asked[x.phrase] = x.means
		d := hears.Understand(x.text, sit)
		if x.want == "" {
			if d.Taught {
				t.Errorf("%q was taught to mean %s: %v", x.text, x.means, d.Names())
			}
			continue
		}
		if got := d.Names()[0]; got != x.want {
			t.Errorf("%q, taught %s, is heard as %v, want %s", x.text, x.means, d.Names(), x.want)
		}
		if x.want == x.means && x.means != "none" && (d.Act != Do || !d.Taught) {
			t.Errorf("%q is not done: %+v", x.text, d)
		}
	}
}

// What words are nearest to is no danger.
func TestNear(t *testing.T) {
	hears, sit := ear(t), closed(t)
	for _, text := range []string{"feed the old badger", "the badger smokes", "wobble"} {
		list := hears.Near(text, sit)
		if len(list) != 4 {
			t.Errorf("%q: %v", text, list)
		}
		for _, name := range list {
			if name == "robbery" || name == "none" || name[:3] == "dan" {
				t.Errorf("%q is near to %s", text, name)
			}
		}
	}
}

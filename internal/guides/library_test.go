package guides_test

import (
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"shopfloat/internal/guides"
)

func builtin(t testing.TB) guides.Library {
	t.Helper()
	lib, err := guides.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

// Every file of a guide that the program comes with passes the checks, is called as
// the guide in it, and is one of those that are read when they are wanted.
func TestBuiltinPasses(t *testing.T) {
	read, err := guides.Library{}.With(os.DirFS("data"))
	if err != nil {
		t.Fatal(err)
	}
	lib := builtin(t)
	for _, id := range append(read.IDs(), guides.Cards()...) {
		want, _ := read.Guide(id)
		if got, ok := lib.Guide(id); !ok || got.ID != id || !reflect.DeepEqual(got, want) {
			t.Errorf("guide %s is read otherwise: %v", id, ok)
		}
	}
	if _, ok := lib.Guide("squeak"); ok || len(lib.IDs()) != len(read.IDs()) {
		t.Error("a guide that is not there, or one that no list has")
	}
}

// This names the fixed topics once more, by hand.
func TestBuiltinHasTheFixedTopics(t *testing.T) {
	want := strings.Fields(`note-jam offline restart power test-failed wrong-notes customer-claim card-reader
		receipt-printer low-cash count-mismatch settlement-failed credit-missing safe-lock suspect-note
		damaged-note tampering robbery overnight top-up contact caller`)
	got := builtin(t).IDs()
	slices.Sort(want)
	slices.Sort(got)
	if !slices.Equal(got, want) {
		t.Errorf("got %v\nwant %v", got, want)
	}
}

func TestWithReplacesAndAdds(t *testing.T) {
	mine := strings.Replace(good, "guide: squeak", "guide: power", 1)
	mine, _, _ = strings.Cut(mine, "== asked as")
	lib, err := builtin(t).With(fstest.MapFS{
		"power.guide":  {Data: []byte(mine)},
		"squeak.guide": {Data: []byte(good)},
		"notes.txt":    {Data: []byte("not a guide")},
	})
	if err != nil {
		t.Fatal(err)
	}
	power, _ := lib.Guide("power")
	if power.Title != "It squeaks" {
		t.Errorf("power was not replaced: %s", power.Title)
	}
	if len(power.Asked) < 50 {
		t.Errorf("of the built-in phrases only %d are left", len(power.Asked))
	}
	if ids := lib.IDs(); ids[len(ids)-1] != "squeak" {
		t.Errorf("squeak was not added: %v", ids)
	}
}

// A broken file is refused with file and line; the built-in stays, the sound
// files beside it count, and the first library is untouched.
func TestWithRefusesABrokenFile(t *testing.T) {
	base := builtin(t)
	broken := strings.Replace(good, "guide: squeak", "guide: power", 1)
	broken = strings.Replace(broken, "-> oil\n- [", "-> nowhere\n- [", 1)
	lib, err := base.With(fstest.MapFS{
		"power.guide":  {Data: []byte(broken)},
		"other.guide":  {Data: []byte(good)},
		"squeak.guide": {Data: []byte(good)},
	})
	if err == nil {
		t.Fatal("no error for two broken files")
	}
	for _, want := range []string{
		`power.guide:10: the choice "Yes" leads to step "nowhere", which does not exist`,
		`other.guide:1: the file holds guide "squeak"; call it squeak.guide`,
	} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("got %v\nwant %s", err, want)
		}
	}
	if power, _ := lib.Guide("power"); power.Title == "It squeaks" {
		t.Error("the broken guide replaced the built-in one")
	}
	if _, ok := lib.Guide("squeak"); !ok {
		t.Error("the sound file was left out")
	}
	if _, ok := base.Guide("squeak"); ok {
		t.Error("the first library was changed")
	}
}

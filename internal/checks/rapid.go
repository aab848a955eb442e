package checks

import (
	"flag"
	"hash/fnv"
	"os"
	"strconv"
	"sync"
	"testing"

	"pgregory.net/rapid"
)

// Rapid checks a property of its own in so many cases, see Size; a fifth with
// -short. With -rapid.checks that number holds for every property of the package.
func Rapid(t testing.TB, small, ci, deep int, prop func(*rapid.T)) {
	t.Helper()
	n := Size(t, small, ci, deep)
	rapidFlag.Lock()
	release := sync.OnceFunc(rapidFlag.Unlock)
	defer release()
	want := setRapid(t, n)
	done := 0
	rapid.Check(t, func(rt *rapid.T) {
		release() // the number has been read
		prop(rt)
		done++
	})
	if done < want { // rapid itself is content with less when the time of go test runs out
		t.Errorf("checked %d cases instead of %d before -timeout", done, want)
	}
}

// rapidFlag is held while a property's number stands in rapid's flag, which is
// one for all.
var rapidFlag sync.Mutex

// setRapid sets how many cases rapid checks next unless the command line says
// so, and gives how many that are.
func setRapid(t testing.TB, n int) int {
	t.Helper()
	const name = "rapid.checks"
	checks := flag.Lookup(name).Value
	if given(name) {
		number, err := strconv.Atoi(checks.String())
		if err != nil {
			t.Fatal(err)
		}
		n = number
	}
	const seed = "rapid.seed"
	if os.Getenv(Environment) == "ci" && !given(seed) { // only deep runs draw by lot
		if flag.Lookup(seed).Value.Set(strconv.FormatUint(seedOf(t.Name()), 10)) != nil {
			t.Fatal("no seed can be set")
		}
	}
	const inShort = 5 // rapid divides by it
	if testing.Short() {
		n = max(n, inShort)
	}
	if err := checks.Set(strconv.Itoa(n)); err != nil { // not flag.Set, which counts as given
		t.Fatal(err)
	}
	if testing.Short() {
		n /= inShort
	}
	return n
}

// seedOf is the seed of a property, by its name: two that share out cases would else check the same.
func seedOf(name string) uint64 {
	h := fnv.New64a()
	_, _ = h.Write([]byte(name)) // a hash takes all
	return h.Sum64() | 1         // 0 would be drawn by lot
}

// given reports whether a flag stands on the command line.
func given(name string) (is bool) {
	flag.Visit(func(f *flag.Flag) { is = is || f.Name == name })
	return is
}

package learn

import (
	"maps"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"shopfloat/internal/checks"
)

// A table says what a map says, also where hashes meet.
func TestTable(t *testing.T) {
	checks.Rapid(t, 200, 2_000, 100_000, func(rt *rapid.T) {
		keys := rapid.SliceOfDistinct(rapid.OneOf(rapid.Uint32(), rapid.Uint32Range(0, 9)),
			rapid.ID[uint32]).Draw(rt, "keys")
		got, want := tableFor(len(keys)), map[uint32]int32{}
		for i, key := range keys {
			got.put(key, int32(i))
			want[key] = int32(i)
		}
		got.put(keys0(keys), 99) // it is there already, or there is room for one more
		if _, known := want[keys0(keys)]; !known {
			want[keys0(keys)] = 99
		}
		if have := slices.Sorted(maps.Keys(want)); got.n != len(want) || !slices.Equal(got.keys(), have) {
			rt.Fatalf("%v, want %v", got.keys(), have)
		}
		for _, key := range append(keys, 0, 1, 2, 1<<31, 1<<32-1) {
			row, known := got.row(key)
			if is, want := want[key]; known != want || known && row != is {
				rt.Fatalf("%d: %d, %v; want %d, %v", key, row, known, is, want)
			}
		}
	})
	var none table
	if _, known := none.row(7); known || len(none.keys()) != 0 {
		t.Error("there is something in no table")
	}
}

func keys0(keys []uint32) uint32 {
	if len(keys) == 0 {
		return 5
	}
	return keys[0]
}

package dayrule_test

import (
	"testing"

	"shopfloat/internal/dayrule"
)

// What is kept is worked out once for each key, nothing included.
func TestMemo(t *testing.T) {
	var memo dayrule.Memo[int, []int]
	worked := 0
	for range 3 {
		for _, key := range []int{1, 2} {
			got := memo.Get(key, func() []int {
				worked++
				if key == 2 {
					return nil
				}
				return []int{key}
			})
			if key == 1 && (len(got) != 1 || got[0] != 1) || key == 2 && got != nil {
				t.Errorf("%d: %v", key, got)
			}
		}
	}
	if worked != 2 {
		t.Errorf("worked out %d times", worked)
	}
}

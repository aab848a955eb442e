package choosing_test

import (
	"strings"
	"testing"

	"shopfloat/internal/choosing"
)

// What says nothing but that it is right, or done, agrees; what says more does not.
func TestAgrees(t *testing.T) {
	agrees := "yes its right/yes/ok good/yes that is correct/done typed it in/yeah all good/yes please/" +
		"its correct/that is correct thank you/it's all fine/exactly right"
	for _, s := range strings.Split(agrees, "/") {
		if !choosing.Agrees(s) {
			t.Errorf("%q agrees", s)
		}
	}
	more := "no/not right/is it right?/yes but the 20s are 140/yes 140/the test failed/yes in the middle/" +
		"20//hello/the slip is right in my hand/it is wrong/thank you/still the same/yes and i put 20 more in/" +
		"yes yes yes yes yes yes yes yes yes yes"
	for _, s := range strings.Split(more, "/") {
		if choosing.Agrees(s) {
			t.Errorf("%q does not agree", s)
		}
	}
}

// A button is meant by words of its own, all of which it has; by nothing that says more.
func TestExplained(t *testing.T) {
	labels := []string{
		"Box for refused notes", "Back in their note boxes", "Shop's safe", "Till", "No test payout yet"}
	for said, want := range map[string]int{
		"back in the boxes": 1, "its in the till": 3, "till": 3, "refused box": 0, "in the safe": 2,
		"there was no test": 4, "box for refused notes": 0,
		"i took it to the till and the safe": -1, "box": -1, "yes": -1, "": -1, "is it in the till?": -1,
		"the till is short 20": -1, "not in the till": -1,
	} {
		if got := choosing.Explained(said, labels); got != want {
			t.Errorf("%q: %d, want %d", said, got, want)
		}
	}
	if got := choosing.Explained("no", []string{"Yes", "No"}); got != 1 {
		t.Errorf("no: %d", got)
	}
}

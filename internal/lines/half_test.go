package lines_test

import (
	"fmt"
	"testing"

	"shopfloat/internal/counts"
	"shopfloat/internal/lines"
)

// Of a list each part that is a count is kept for the line at its place; the others are asked again.
func TestHalf(t *testing.T) {
	req := counts.Request{Lines: []counts.Line{{Face: "50", Position: 1},
		{Face: "20", Position: 2}, {Face: "10", Position: 3}},
		Currency: "EUR", MinorDigits: 2}
	for text, want := range map[string]struct {
		next  int
		items map[int]int64
		near  string
	}{
		"150 and some, 200":                      {0, map[int]int64{1: 200}, "150 and some"},
		"40, 150 or so, 200":                     {0, map[int]int64{0: 40, 2: 200}, "150 or so"},
		"12 and some; 80":                        {1, map[int]int64{2: 80}, "12 and some"},
		"150 and some, 200, 10":                  {1, nil, ""}, // more than is asked
		"40, 150":                                {0, nil, ""}, // nothing is wrong with it
		"150 and some":                           {0, nil, ""},
		"the top one is at, 200":                 {0, nil, ""},
		"the customer had 50 euros from me, 200": {0, nil, ""},
	} {
		req.Next = want.next
		res := lines.Half(text, req)
		got := map[int]int64{}
		for _, it := range res.Items {
			got[it.Line] = it.Notes
		}
		if len(got) != len(want.items) {
			t.Errorf("%q: %+v", text, res)
			continue
		}
		for line, notes := range want.items {
			if got[line] != notes || res.Problem == nil || res.Problem.Near != want.near {
				t.Errorf("%q: %+v %+v", text, res, res.Problem)
			}
		}
	}
}

// A number for each line and nothing else may be a whole count.
func TestWhole(t *testing.T) {
	req := counts.Request{Currency: "EUR",
		Lines: []counts.Line{{Face: "20", Position: 1}, {Face: "10", Position: 2}}}
	for text, want := range map[string]string{"34 70": "[34 70]", "34, 70\n": "[34 70]", "0 2": "[0 2]",
		"34":      "[]",
		"34 70 5": "[]", "20x3 10x2": "[]", "20s 3, 10s 4": "[]", "none": "[]"} {
		if got := fmt.Sprint(lines.Whole(text, req)); got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
	if lines.Whole("34", counts.Request{Lines: req.Lines[:1]}) != nil {
		t.Error("one number is for whatever is asked")
	}
}

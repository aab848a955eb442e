package wide_test

import (
	"math"
	"strings"
	"testing"

	"shopfloat/internal/demand"
	"shopfloat/internal/wide"
)

func TestRead(t *testing.T) {
	const text = "\uFEFF# invented figures\ndate, set ,twenties,tens\n2026-01-05,train,12,0\n" +
		"# a day nobody counted\n2026-01-06,train,,7.5\n2026-01-09,test, 3 ,\n"
	table, err := wide.Read(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	if table.First.String() != "2026-01-05" || table.Last().String() != "2026-01-09" || table.Days != 5 {
		t.Errorf("days %s to %s, %d", table.First, table.Last(), table.Days)
	}
	gap := math.NaN()
	want := map[string][]float64{"twenties": {12, gap, gap, gap, 3}, "tens": {0, 7.5, gap, gap, gap}}
	if len(table.Series) != len(want) {
		t.Fatalf("series %+v", table.Series)
	}
	for _, s := range table.Series {
		for i, v := range want[s.Name] {
			if got := s.Values[i]; got != v && !(math.IsNaN(got) && math.IsNaN(v)) {
				t.Errorf("%s on %s = %v, want %v", s.Name, table.First+demand.Day(i), got, v)
			}
		}
	}
}

func TestReadErr(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"empty":            {"", "empty"},
		"comments only":    {"# nothing\n", "empty"},
		"no days":          {"date,a\n", "no days"},
		"no date":          {"day,a\n2026-01-05,1\n", "first column"},
		"no series":        {"date,set\n2026-01-05,train\n", "no series"},
		"name twice":       {"date,a,a\n", "used twice"},
		"no name":          {"date,a,\n", "empty"},
		"bad date":         {"date,a\n2026-13-05,1\n", "line 2: date"},
		"same date":        {"date,a\n2026-01-05,1\n2026-01-05,1\n", "line 3: date 2026-01-05 does not come after"},
		"back in time":     {"date,a\n2026-01-05,1\n2026-01-04,1\n", "line 3"},
		"mistyped year":    {"date,a\n2026-01-05,1\n9026-01-06,1\n", "line 3: date 9026-01-06 is more than"},
		"words":            {"date,a\n2026-01-05,many\n", "line 2: series a: \"many\" is not a number"},
		"not a number":     {"date,a\n2026-01-05,NaN\n", "not a number"},
		"infinite":         {"date,a\n2026-01-05,Inf\n", "not a number"},
		"negative":         {"date,a\n2026-01-05,-1\n", "below zero"},
		"short row":        {"date,a,b\n2026-01-05,1\n", "wrong number of fields"},
		"long row":         {"date,a\n2026-01-05,1,2\n", "wrong number of fields"},
		"unfinished quote": {"date,a\n\"2026-01-05,1\n", "quote"},
	} {
		_, err := wide.Read(strings.NewReader(c.text))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %q in it", name, err, c.want)
		}
	}
}

// Whatever comes in, what is read is a table without gaps of numbers not below zero.
func FuzzRead(f *testing.F) {
	f.Add("date,a\n2026-01-05,1\n2026-01-09,\n")
	f.Add("# c\ndate,set,\"a,b\"\n2026-01-05,x,1e3\n")
	f.Fuzz(func(t *testing.T, text string) {
		table, err := wide.Read(strings.NewReader(text))
		if err != nil {
			return
		}
		if table.Days < 1 || table.Days > wide.DaysMax || len(table.Series) == 0 {
			t.Fatalf("%d days of %d series", table.Days, len(table.Series))
		}
		for _, s := range table.Series {
			if len(s.Values) != table.Days {
				t.Fatalf("series %q has %d values for %d days", s.Name, len(s.Values), table.Days)
			}
			for _, v := range s.Values {
				if v < 0 || math.IsInf(v, 0) {
					t.Fatalf("series %q holds %v", s.Name, v)
				}
			}
		}
	})
}

package leaks

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"shopfloat/internal/checks"
)

func table(t *testing.T, name string) (head map[string]int, rows [][]float64) {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	head = map[string]int{}
	for i, name := range all[0] {
		head[name] = i
	}
	for _, line := range all[1:] {
		row := make([]float64, len(line))
		for i, cell := range line {
			if row[i], err = strconv.ParseFloat(cell, 64); err != nil {
				t.Fatal(err)
			}
		}
		rows = append(rows, row)
	}
	return head, rows
}

// The worked example of the NIST/SEMATECH e-Handbook of Statistical Methods, section
// 6.3.2.3: sums to what is printed, and the first signal at observation 14.
func TestNIST(t *testing.T) {
	col, rows := table(t, "nist_cusum_6_3_2_3.csv")
	c := Limits{K: 0.3175, H: 4.1959}.Start(0)
	first := 0
	for i, row := range rows {
		hi, lo := c.Add(row[col["x"]] - 325)
		if math.Abs(c.Hi-row[col["s_hi"]]) > 0.006 || math.Abs(c.Lo-row[col["s_lo"]]) > 0.006 {
			t.Errorf("observation %d: %.3f and %.3f, printed %v", i+1, c.Hi, c.Lo, row)
		}
		if hi != (row[col["signal"]] == 1) || lo {
			t.Errorf("observation %d: signals %t and %t", i+1, hi, lo)
		}
		if hi && first == 0 {
			first = i + 1
		}
	}
	if first != 14 || len(rows) != 20 {
		t.Errorf("first signal at %d of %d", first, len(rows))
	}
}

// Lucas and Crosier (1982), table 5: with a head start of half of H the signal comes at
// the third observation instead of the seventh.
func TestFastInitialResponse(t *testing.T) {
	col, rows := table(t, "cusum_fast_initial_response.csv")
	plain, fast := Limits{K: 0.5, H: 5}.Start(0), Limits{K: 0.5, H: 5}.Start(2.5)
	for i, row := range rows {
		slow, _ := plain.Add(row[col["x"]])
		soon, _ := fast.Add(row[col["x"]])
		late, early := plain.Hi-row[col["s_no_head_start"]], fast.Hi-row[col["s_head_start"]]
		if math.Abs(late) > 1e-9 || math.Abs(early) > 1e-9 {
			t.Errorf("observation %d: %.3f and %.3f, printed %v", i+1, plain.Hi, fast.Hi, row)
		}
		if slow != (row[col["signal_no_hs"]] == 1) || soon != (row[col["signal_hs"]] == 1) {
			t.Errorf("observation %d: signals %t and %t", i+1, slow, soon)
		}
	}
	if len(rows) != 7 {
		t.Errorf("%d rows", len(rows))
	}
}

// The chain of states and plain trying agree.
func TestRunLength(t *testing.T) {
	next := chance(7)
	for _, o := range []odds{{0.06, 0.88, 0.06}, {0.32, 0.63, 0.05}} {
		exact := runLength(o, dayPart, 3*part, 9)
		tries := checks.Size(t, 1_000, 4_000, 40_000)
		total := 0
		for range tries {
			for s := 9; s <= 3*part; total++ {
				s = max(0, s+o.draw(next())*part-dayPart)
			}
		}
		if got := float64(total) / float64(tries); math.Abs(got/exact-1) > 0.06 {
			t.Errorf("%v: %.1f steps by trying, %.1f by the chain", o, got, exact)
		}
	}
}

// draw picks a difference.
func (o odds) draw(u float64) int {
	for i, p := range o {
		if u -= p; u < 0 {
			return i - clipN
		}
	}
	return 0
}

// chance gives numbers from 0 to 1 that look random: a linear congruential generator
// with the constants of Knuth's MMIX.
func chance(seed uint64) func() float64 {
	s := seed*0x9e3779b97f4a7c15 + 1
	return func() float64 {
		s = s*6364136223846793005 + 1442695040888963407
		return float64(s>>11) / (1 << 53)
	}
}

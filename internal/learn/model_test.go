package learn

import (
	"bytes"
	"math"
	"strings"
	"testing"
)

// small learns which of two words goes with which class.
func small() Model {
	var list []Example
	for range 10 {
		list = append(list,
			Example{Marks: marksOf("red hot"), Class: 0}, Example{Marks: marksOf("blue cold"), Class: 1},
			Example{Marks: marksOf("red cold"), Class: 2})
	}
	return New(list, 3)
}

func marksOf(text string) []Mark {
	var out []Mark
	for w := range strings.FieldsSeq(text) {
		out = append(out, Of(w))
	}
	return append(out, Both(out[0], out[1]))
}

func TestModelLearns(t *testing.T) {
	m := small()
	for text, want := range map[string]int{"red hot": 0, "blue cold": 1, "red cold": 2} {
		p := m.Chances(marksOf(text))
		sum := 0.0
		for c, v := range p {
			sum += v
			if c != want && v >= p[want] {
				t.Errorf("%s: %v", text, p)
			}
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Errorf("%s: the chances are %v together", text, sum)
		}
	}
	if p := m.Chances(nil); p[0] != p[1] || p[1] != p[2] {
		t.Errorf("of nothing it knows %v", p)
	}
}

func TestBothWaysRound(t *testing.T) {
	if Both(Of("a"), Of("b")) != Both(Of("b"), Of("a")) || Both(Of("a"), Of("b")) == Both(Of("a"), Of("c")) {
		t.Error("a pair depends on its order, or on nothing")
	}
}

func TestModelAsFile(t *testing.T) {
	m := small()
	var one, two bytes.Buffer
	if err := m.Write(&one); err != nil {
		t.Fatal(err)
	}
	back, err := Read(one.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{"red hot", "blue cold", "red cold", "blue hot"} {
		p, q := m.Chances(marksOf(text)), back.Chances(marksOf(text))
		for c := range p {
			if math.Abs(p[c]-q[c]) > 0.05 {
				t.Errorf("%s: %v written, %v read", text, p, q)
			}
		}
	}
	again := small()
	if err := again.Write(&two); err != nil || !bytes.Equal(one.Bytes(), two.Bytes()) {
		t.Error("the same examples give other bytes")
	}
	for n := range one.Len() {
		if _, err := Read(one.Bytes()[:n]); err == nil {
			t.Fatalf("the first %d bytes of %d are taken for a model", n, one.Len())
		}
	}
	if _, err := Read(append(one.Bytes(), 0)); err == nil {
		t.Error("one byte too many is taken for a model")
	}
}

func FuzzRead(f *testing.F) {
	m := small()
	var file bytes.Buffer
	if err := m.Write(&file); err != nil {
		f.Fatal(err)
	}
	f.Add(file.Bytes())
	f.Add([]byte(magic))
	f.Fuzz(func(t *testing.T, data []byte) {
		if m, err := Read(data); err == nil {
			m.Chances(marksOf("red hot"))
		}
	})
}

package learn

import (
	"bytes"
	"slices"
	"testing"
)

func exactly(t testing.TB, m Model) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := m.WriteExact(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// What was written to the last bit answers as what was learnt.
func TestModelExactly(t *testing.T) {
	m := small()
	file := exactly(t, m)
	back, err := ReadExact(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{"red hot", "blue cold", "red cold", "blue hot", "green hot", "all new"} {
		if p, q := m.Chances(marksOf(text)), back.Chances(marksOf(text)); !slices.Equal(p, q) {
			t.Errorf("%s: %v learnt, %v read", text, p, q)
		}
	}
	if !bytes.Equal(exactly(t, small()), file) || !bytes.Equal(exactly(t, back), file) {
		t.Error("the same model gives other bytes")
	}
}

func TestModelExactlyErr(t *testing.T) {
	file := exactly(t, small())
	for n := range file {
		if _, err := ReadExact(file[:n]); err == nil {
			t.Fatalf("the first %d bytes of %d are taken for a model", n, len(file))
		}
	}
	if _, err := ReadExact(append(slices.Clone(file), 0)); err == nil {
		t.Error("one byte too many is taken for a model")
	}
	twice := slices.Clone(file)
	first := len(magicExact) + 8
	copy(twice[first+4:first+8], twice[first:first+4])
	if _, err := ReadExact(twice); err == nil {
		t.Error("a mark that is there twice is taken for two")
	}
	if _, err := Read(file); err == nil {
		t.Error("one kind of file is taken for the other")
	}
}

func FuzzReadExact(f *testing.F) {
	f.Add(exactly(f, small()))
	f.Add([]byte(magicExact))
	f.Fuzz(func(t *testing.T, data []byte) {
		if m, err := ReadExact(data); err == nil {
			m.Chances(marksOf("red hot"))
		}
	})
}

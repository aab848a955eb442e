package cashmath_test

import (
	"encoding/json"
	"errors"
	"slices"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/checks"
)

func TestParseFace(t *testing.T) {
	accepted := map[string]cashmath.Face{
		"20": "20", "20.0": "20", "20.00": "20", "0.5": "0.5", "0.50": "0.5", "2.5": "2.5",
		"100": "100", "1000": "1000", "500000": "500000", "0.0001": "0.0001", "999999999.9999": "999999999.9999",
		"10.10": "10.1", "1": "1",
	}
	for text, want := range accepted {
		t.Run("OK "+text, func(t *testing.T) {
			got, err := cashmath.ParseFace(text)
			if err != nil || got != want {
				t.Errorf("ParseFace(%q) = %q, %v; want %q", text, got, err, want)
			}
		})
	}
	refused := []string{
		"", "0", "0.0", "0.0000", "-20", "+20", "020", "00.5", ".5", "5.", "1e3", "1,000", "1 000", " 20", "20 ",
		"20\n", "0.00001", "1000000000", "twenty", "٢٠", "20.", "20..5", "NaN", "0x14", "20.5.5",
	}
	for _, text := range refused {
		t.Run("ErrFace "+text, func(t *testing.T) {
			got, err := cashmath.ParseFace(text)
			if !errors.Is(err, cashmath.ErrFace) || got != "" {
				t.Errorf("ParseFace(%q) = %q, %v; want ErrFace", text, got, err)
			}
		})
	}
}

func TestFaceOrder(t *testing.T) {
	rising := []cashmath.Face{
		"", "0.05", "0.25", "0.5", "1", "1.5", "2", "5", "10", "20", "20.5", "50", "100", "1000",
	}
	for i, a := range rising {
		for j, b := range rising {
			want := 0
			switch {
			case i < j:
				want = -1
			case i > j:
				want = 1
			}
			if got := a.Cmp(b); got != want {
				t.Errorf("%q.Cmp(%q) = %d, want %d", a, b, got, want)
			}
		}
	}
}

// A face's order, text and value agree with decimal arithmetic for any face.
func TestFaceAgreesWithDecimal(t *testing.T) {
	anyFace := rapid.Custom(func(t *rapid.T) cashmath.Face {
		units := rapid.Int64Range(1, 9_999_999_999_999).Draw(t, "ten-thousandths")
		f, err := cashmath.ParseFace(decimal.New(units, -4).String())
		if err != nil {
			t.Fatal(err)
		}
		return f
	})
	checks.Rapid(t, 1000, 50_000, 5_000_000, func(t *rapid.T) {
		a, b := anyFace.Draw(t, "a"), anyFace.Draw(t, "b")
		if got, want := a.Cmp(b), a.Decimal().Cmp(b.Decimal()); got != want {
			t.Fatalf("%q.Cmp(%q) = %d, want %d", a, b, got, want)
		}
		if again, err := cashmath.ParseFace(a.Decimal().StringFixed(4)); err != nil || again != a {
			t.Fatalf("%q written with four digits reads back as %q, %v", a, again, err)
		}
	})
}

func TestFaceInJSON(t *testing.T) {
	var notes cashmath.Notes
	if err := json.Unmarshal([]byte(`{"20.0":5,"0.50":7}`), &notes); err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(notes)
	if err != nil || string(text) != `{"0.5":7,"20":5}` {
		t.Errorf("written back as %s, %v", text, err)
	}
	if err := json.Unmarshal([]byte(`{"-20":5}`), &notes); !errors.Is(err, cashmath.ErrFace) {
		t.Errorf("a negative face gives %v, want ErrFace", err)
	}
}

func TestValueAndNotesFor(t *testing.T) {
	cases := []struct {
		face  cashmath.Face
		notes int64
		value string
	}{
		{"20", 150, "3000"}, {"20", -1, "-20"}, {"0.5", 3, "1.5"}, {"0.25", 4, "1"}, {"50", 0, "0"},
		{"1000", 1_000_000, "1000000000"},
	}
	for _, c := range cases {
		value := cashmath.Value(c.face, c.notes)
		if !value.Equal(amount(t, c.value)) {
			t.Errorf("%d of %s are worth %s, want %s", c.notes, c.face, value, c.value)
		}
		notes, exact := cashmath.NotesFor(value, c.face)
		if wantExact := c.notes >= 0; exact != wantExact || exact && notes != c.notes {
			t.Errorf("%s in %s: %d, %v; want %d, %v", value, c.face, notes, exact, c.notes, wantExact)
		}
	}
	for _, refused := range []string{"3010", "-20", "0.01", "20000020"} {
		if notes, exact := cashmath.NotesFor(amount(t, refused), "20"); exact || notes != 0 {
			t.Errorf("%s in twenties: %d, %v; want refused", refused, notes, exact)
		}
	}
}

func TestDecimalPanicsOnBrokenFace(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a face that was never parsed has a value")
		}
	}()
	cashmath.Face("twenty").Decimal()
}

func TestFacesSort(t *testing.T) {
	faces := []cashmath.Face{"5", "100", "0.5", "20"}
	slices.SortFunc(faces, cashmath.Face.Cmp)
	if want := []cashmath.Face{"0.5", "5", "20", "100"}; !slices.Equal(faces, want) {
		t.Errorf("sorted: %v, want %v", faces, want)
	}
}

// FuzzParseFace: whatever is accepted is positive, reads back as itself and is
// written in exactly one way.
func FuzzParseFace(f *testing.F) {
	for _, seed := range []string{"20", "0.5", "20.0", "1e3", "-5", "", "0.0"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := cashmath.ParseFace(text)
		if err != nil {
			return
		}
		if !got.Decimal().IsPositive() || got.Decimal().String() != string(got) {
			t.Errorf("ParseFace(%q) = %q", text, got)
		}
		if again, err := cashmath.ParseFace(string(got)); err != nil || again != got {
			t.Errorf("%q reads back as %q, %v", got, again, err)
		}
	})
}

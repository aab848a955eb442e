package demand_test

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"shopfloat/internal/demand"
)

// checkValues reads a table of published values; its source stands in its head.
func checkValues(t *testing.T, name string) []map[string]string {
	t.Helper()
	file, err := os.Open(filepath.Join("..", "..", "testdata", "demand", name))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = file.Close() }()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	rows, err := reader.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, row := range rows[1:] {
		fields := map[string]string{}
		for i, name := range rows[0] {
			fields[name] = row[i]
		}
		out = append(out, fields)
	}
	if len(out) == 0 {
		t.Fatalf("%s has no rows", name)
	}
	return out
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s = %v, want %v within %v", what, got, want, within)
	}
}

func mustFit(t testing.TB, h demand.History, o demand.Options) *demand.Model {
	t.Helper()
	m, err := demand.Fit(h, o)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func mustAhead(t testing.TB, m *demand.Model, days int) demand.Forecast {
	t.Helper()
	f, err := m.Ahead(days)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func mustQuantile(t testing.TB, f demand.Forecast, p float64) float64 {
	t.Helper()
	q, err := f.Quantile(p)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

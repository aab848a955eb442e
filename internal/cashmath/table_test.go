package cashmath_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
)

// readTable returns the rows of a file in testdata/check-values, each as a map
// from column name to text. The sources stand in the comment lines of the file.
func readTable(t *testing.T, name string) []map[string]string {
	t.Helper()
	file, err := os.Open(filepath.Join("..", "..", "testdata", "check-values", name))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = file.Close() }()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	records, err := reader.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, record := range records[1:] {
		row := map[string]string{}
		for i, column := range records[0] {
			row[column] = record[i]
		}
		rows = append(rows, row)
	}
	if len(rows) == 0 {
		t.Fatalf("%s has no rows", name)
	}
	return rows
}

func number(t *testing.T, text string) int64 {
	t.Helper()
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func amount(t *testing.T, text string) decimal.Decimal {
	t.Helper()
	d, err := decimal.NewFromString(text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func face(t *testing.T, text string) cashmath.Face {
	t.Helper()
	f, err := cashmath.ParseFace(text)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

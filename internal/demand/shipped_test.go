package demand_test

import (
	"bytes"
	"flag"
	"os"
	"testing"

	"shopfloat/internal/demand"
)

var update = flag.Bool("update", false, "write the golden files anew")

// The shipped table is what the open data say, learned by today's code.
func TestShippedTable(t *testing.T) {
	table, calendar := openData(t)
	var histories []demand.History
	for _, series := range table.Series {
		histories = append(histories, historyOf(table.First, series.Values))
	}
	pooled, err := demand.PoolPriors(histories, calendar)
	if err != nil {
		t.Fatal(err)
	}
	want, err := demand.PriorsSource(pooled)
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile("shipped.go", want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	got, err := os.ReadFile("shipped.go")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("shipped.go is not what the data say; run with -update and look at the difference")
	}
}

package diagnosis_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/diagnosis"
)

// readTable returns the rows of a file in testdata/check-values by column name.
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

// constructed says what each constructed case's known event adds to the record and
// which slip must be named. A case without an id of its own must stay unexplained.
var constructed = map[string]struct {
	record func(facts *diagnosis.Facts)
	want   diagnosis.ID
}{
	"balanced": {nil, ""},
	"rejects-left-out": {func(f *diagnosis.Facts) {
		f.MachineRejected = notes{"20": 12}
	}, diagnosis.RejectsMissed},
	"rejects-twice": {nil, diagnosis.RejectsCountedTwice},
	"topup-undeclared": {func(f *diagnosis.Facts) {
		f.Noted = []notes{{"20": 300}}
	}, diagnosis.TopupUnrecorded},
	"topup-twice": {func(f *diagnosis.Facts) {
		f.Day.Topups = []notes{{"20": 300}, {"20": 300}}
	}, diagnosis.TopupTwice},
	"bundle-not-loaded": {nil, diagnosis.BundleMiscounted},
	"bundle-of-fifty":   {nil, diagnosis.BundleMiscounted},
	"value-typed": {func(f *diagnosis.Facts) {
		f.Capacity = notes{"10": 2500}
	}, diagnosis.ValueForQuantity},
	"transposed-opening": {nil, diagnosis.DigitsTransposed},
	"slide-count":        {nil, diagnosis.DigitSlid},
	"reversal-added":     {reversed8, diagnosis.ReversalSign},
	"reversal-ignored":   {reversed8, diagnosis.ReversalSign},
	"jam-transport": {func(f *diagnosis.Facts) {
		f.Jams, f.LargestDispense = 1, 40
	}, diagnosis.NoteInTransport},
	"after-totals": {nil, diagnosis.Unexplained},
	"carry-over": {func(f *diagnosis.Facts) {
		f.Previous = &cashmath.Day{Loaded: notes{"20": 37}, Remaining: notes{"20": 37}}
	}, diagnosis.LeftInOvernight},
}

// reversed8 puts the reversed dispense on record. The cases print dispensed net of
// it; here the figure is gross, so that the variance stays as printed.
func reversed8(f *diagnosis.Facts) {
	f.Day.Reversed = notes{"20": 8}
	f.Day.Dispensed["20"] += 8
}

// Constructed single-denomination cases (our own; the file says how they were made).
func TestConstructedCases(t *testing.T) {
	for _, row := range readTable(t, "variance_cases_constructed.csv") {
		t.Run(row["id"], func(t *testing.T) {
			face := cashmath.Face(row["denomination"])
			one := func(column string) notes { return notes{face: number(t, row[column])} }
			facts := diagnosis.Facts{Bundle: one("notes_per_bundle"), Day: cashmath.Day{
				Loaded: one("opening"), Topups: []notes{one("topups")}, Dispensed: one("dispensed"),
				Remaining: one("counted_cassette"), Rejects: one("counted_reject"),
			}}
			c, known := constructed[row["id"]]
			if !known {
				t.Fatal("a case without an expectation")
			}
			if c.record != nil {
				c.record(&facts)
			}
			variance := cashmath.Reconcile(facts.Day).Lines[0].VarianceNotes
			if variance != number(t, row["variance_notes"]) {
				t.Fatalf("variance %d, want %s", variance, row["variance_notes"])
			}
			causes := diagnosis.Explain(facts)
			if c.want == "" {
				if len(causes) != 0 {
					t.Errorf("a balanced day has causes: %v", causes)
				}
				return
			}
			if got := causes[0]; len(got.Slips) != 1 || got.Slips[0].ID != c.want || got.Rank != 1 {
				t.Errorf("first cause %v, want %s", got, c.want)
			}
		})
	}
}

// Constructed cases over two denominations: counts on each other's line are named; tens
// loaded as twenties have no cause of their own and must only send people looking.
func TestConstructedPairs(t *testing.T) {
	days := map[string]*cashmath.Day{}
	for _, row := range readTable(t, "variance_cases_constructed_pairs.csv") {
		day := days[row["id"]]
		if day == nil {
			day = &cashmath.Day{Loaded: notes{}, Dispensed: notes{}, Remaining: notes{}}
			days[row["id"]] = day
		}
		face := cashmath.Face(row["denomination"])
		day.Loaded[face], day.Dispensed[face] = number(t, row["opening"]), number(t, row["dispensed"])
		day.Remaining[face] = number(t, row["counted"])
	}
	// The opening figures, exchanged, would balance the day just as well: one rank.
	fields := map[diagnosis.Field]bool{}
	for _, cause := range diagnosis.Explain(diagnosis.Facts{Day: *days["lines-swapped"]}) {
		if s := cause.Slips[0]; s.ID != diagnosis.LinesExchanged || cause.Rank != 1 {
			t.Errorf("lines-swapped: %v", cause)
		} else {
			fields[s.Field] = true
		}
	}
	if len(fields) != 2 || !fields[diagnosis.Remaining] || !fields[diagnosis.Loaded] {
		t.Errorf("lines-swapped: exchanged in %v, want remaining and loaded", fields)
	}
	causes := diagnosis.Explain(diagnosis.Facts{Day: *days["misload-part-dispensed"]})
	want := "Let a second person count again without knowing these figures, and look for notes of 20 among " +
		"those of 10, and the other way round."
	if got := causes[0].Slips[0]; got.ID != diagnosis.Unexplained || got.Check != want {
		t.Errorf("misload: %v", got)
	}
}

// Worked pairs of R. B. Kester, Accounting Theory and Practice, vol. 1, pages 87-89:
// neighbouring digits exchanged are named with the right figure beside them; digits
// further apart are not claimed, however well the difference divides by nine.
func TestKesterPairs(t *testing.T) {
	named := 0
	for _, row := range readTable(t, "bookkeeping_transposition_slide.csv") {
		hundredths := func(text string) int64 { return number(t, text[:len(text)-3]+text[len(text)-2:]) }
		correct, written := hundredths(row["correct"]), hundredths(row["written"])
		facts := diagnosis.Facts{Day: cashmath.Day{Loaded: notes{"20": correct}, Remaining: notes{"20": written}}}
		var ids []diagnosis.ID
		for _, cause := range diagnosis.Explain(facts) {
			if s := cause.Slips[0]; s.Field == diagnosis.Remaining && *s.Typed == written && *s.Likely == correct {
				ids = append(ids, s.ID)
			}
		}
		var want diagnosis.ID
		switch row["kind"] {
		case "transposition one column":
			want = diagnosis.DigitsTransposed
		case "slide one column":
			want = diagnosis.DigitSlid
		case "slide two columns": // looks like bundles of a hundred
			want = diagnosis.TypedInBundles
		}
		if want == "" && len(ids) > 0 || want != "" && (len(ids) == 0 || ids[0] != want) {
			t.Errorf("%s %s as %s: named %v, want %q", row["kind"], row["correct"], row["written"], ids, want)
		}
		if want != "" {
			named++
		}
	}
	if named != 3 {
		t.Errorf("%d pairs with a name, want 3", named)
	}
}

// Published straps (American Bankers Association table) and bundles by convention:
// one missing is named for every denomination, at its own size.
func TestMissingBundleOfEachDenomination(t *testing.T) {
	rows := readTable(t, "bundles_uk_euro.csv")
	for _, row := range readTable(t, "straps_us.csv") {
		if row["notes"] == "100" {
			row["notes_per_bundle"] = row["notes"]
			rows = append(rows, row)
		}
	}
	for _, row := range rows {
		face, per := cashmath.Face(row["denomination"]), number(t, row["notes_per_bundle"])
		facts := diagnosis.Facts{Currency: row["currency"], Day: cashmath.Day{
			Loaded: notes{face: 777}, Dispensed: notes{face: 301}, Remaining: notes{face: 476 - per},
		}}
		causes := diagnosis.Explain(facts)
		if got := causes[0].Slips[0]; got.ID != diagnosis.BundleMiscounted || got.Face != face {
			t.Errorf("%s %s: a bundle of %d missing gives %v", row["currency"], face, per, causes)
		}
	}
}

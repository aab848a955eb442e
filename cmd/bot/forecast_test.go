package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// forecastTable runs the command on a table of the test data and reads its answer.
func forecastTable(t *testing.T, c forecastCmd) [][]string {
	t.Helper()
	var out bytes.Buffer
	if err := c.Run(&env{ctx: context.Background(), stdout: &out}); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// cornerShop is a run with everything as the flags default to.
func cornerShop() forecastCmd {
	return forecastCmd{
		In: filepath.Join("..", "..", "testdata", "demand", "corner-shop.csv"), Days: 3,
		Quantiles: []float64{0.5, 0.9, 0.95, 0.98}, Priors: "shipped", Country: "GB",
	}
}

func TestForecastDaysAhead(t *testing.T) {
	rows := forecastTable(t, cornerShop())
	if got := strings.Join(rows[0], ","); got != "series,date,mean,q0.5,q0.9,q0.95,q0.98" {
		t.Errorf("header %s", got)
	}
	var keys []string
	for _, row := range rows[1:] {
		keys = append(keys, row[0]+" "+row[1])
		last := 0.0
		for _, field := range row[3:] {
			q, err := strconv.ParseFloat(field, 64)
			if err != nil || q < last {
				t.Errorf("%v: quantiles fall or are no numbers", row)
			}
			last = q
		}
	}
	want := "twenties 2026-07-27,twenties 2026-07-28,twenties 2026-07-29,tens 2026-07-27,tens 2026-07-28," +
		"tens 2026-07-29,fives 2026-07-27,fives 2026-07-28,fives 2026-07-29"
	if got := strings.Join(keys, ","); got != want {
		t.Errorf("rows %s\nwant %s", got, want)
	}
}

// The first row of `--from` on a day is what `--days 1` says when the file ends the day before.
func TestForecastFromUsesEarlierDaysOnly(t *testing.T) {
	c := cornerShop()
	c.From, c.Days = "2026-07-25", 0
	rolling := forecastTable(t, c)
	if len(rolling) != 1+3*2 {
		t.Fatalf("%d rows, want a header and two days of three series", len(rolling))
	}
	text, err := os.ReadFile(c.In)
	if err != nil {
		t.Fatal(err)
	}
	before, _, found := strings.Cut(string(text), "2026-07-25")
	if !found {
		t.Fatal("the table lacks the day")
	}
	cut := cornerShop()
	cut.Days, cut.In = 1, filepath.Join(t.TempDir(), "cut.csv")
	if err := os.WriteFile(cut.In, []byte(before), 0o600); err != nil {
		t.Fatal(err)
	}
	once := forecastTable(t, cut)
	for i, row := range once[1:] {
		if got := rolling[1+2*i]; strings.Join(got, ",") != strings.Join(row, ",") {
			t.Errorf("rolling %v, at once %v", got, row)
		}
	}
}

// Labels one day early: the answer keeps the labels, and what month's end and holidays
// do moves by a day.
func TestForecastLabelShift(t *testing.T) {
	plain, shifted := cornerShop(), cornerShop()
	plain.Days, shifted.Days, shifted.LabelShift = 10, 10, 1
	a, b := forecastTable(t, plain), forecastTable(t, shifted)
	differ := false
	for i := range a {
		if a[i][1] != b[i][1] {
			t.Fatalf("labels %s and %s", a[i][1], b[i][1])
		}
		differ = differ || a[i][2] != b[i][2]
	}
	if !differ {
		t.Error("a shifted calendar changed nothing over a month's end")
	}
}

// A series that has no figure yet gets empty fields, not an invented number.
func TestForecastNothingKnownYet(t *testing.T) {
	c := cornerShop()
	c.From = "2026-06-01" // the fives came in July
	for _, row := range forecastTable(t, c)[1:] {
		empty := row[2] == ""
		if want := row[0] == "fives" && row[1] <= "2026-07-17"; empty != want {
			t.Errorf("%v: empty %v, want %v", row, empty, want)
		}
	}
}

func TestForecastPriorsMatter(t *testing.T) {
	shipped, none := cornerShop(), cornerShop()
	none.Priors, none.Country = "none", ""
	a, b := forecastTable(t, shipped), forecastTable(t, none)
	if a[1][4] == b[1][4] {
		t.Errorf("with priors and without: both %s", a[1][4])
	}
}

func TestForecastMisuse(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*forecastCmd)
		want   string
	}{
		"no file":         {func(c *forecastCmd) { c.In = "nowhere.csv" }, "nowhere.csv"},
		"no days":         {func(c *forecastCmd) { c.Days = 0 }, "--days"},
		"too far":         {func(c *forecastCmd) { c.Days = 57 }, "--days"},
		"bad from":        {func(c *forecastCmd) { c.From = "soon" }, "--from"},
		"from too early":  {func(c *forecastCmd) { c.From = "2025-06-02" }, "--from"},
		"from too late":   {func(c *forecastCmd) { c.From = "2026-07-28" }, "--from"},
		"quantile 1":      {func(c *forecastCmd) { c.Quantiles = []float64{0.5, 1} }, "--quantiles"},
		"shift too large": {func(c *forecastCmd) { c.LabelShift = 400 }, "--label-shift"},
		"no such country": {func(c *forecastCmd) { c.Country = "XX" }, "--country"},
	} {
		command := cornerShop()
		c.change(&command)
		err := command.Run(&env{ctx: context.Background(), stdout: &bytes.Buffer{}})
		var f fault
		if !errors.As(err, &f) || f.code != 2 || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want exit 2 and %q", name, err, c.want)
		}
	}
}

// A number below nothing is a value, with a space before it as with a sign of equality.
func TestForecastLabelShiftBelowNothing(t *testing.T) {
	args := []string{"forecast", "--in", cornerShop().In, "--days", "2"}
	joined := invoke(t, "", append(args, "--label-shift=-1")...)
	spaced := invoke(t, "", append(args, "--label-shift", "-1")...)
	if joined != spaced || !strings.HasPrefix(spaced, "series,date,mean") {
		t.Errorf("with a space:\n%s\nwith a sign:\n%s", spaced, joined)
	}
}

package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// reconcileDay runs the command on a text and returns what a shell would see.
func reconcileDay(t *testing.T, c reconcileCmd, in string) (stdout, stderr string, code int) {
	t.Helper()
	var out, errs strings.Builder
	e := &env{ctx: t.Context(), stdin: strings.NewReader(in), stdout: &out, stderr: &errs}
	code = report(e, c.Run(e))
	return out.String(), errs.String(), code
}

// Days in testdata/reconcile with the answers beside them. Rewrite the answers with
// -update, and keep them only if every difference is understood.
func TestReconcileGolden(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "reconcile", "*.json"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no days to reconcile: %v", err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".json"), func(t *testing.T) {
			in, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			got, stderr, code := reconcileDay(t, reconcileCmd{}, string(in))
			if code != 0 || stderr != "" {
				t.Fatalf("exit %d, %s", code, stderr)
			}
			golden := strings.TrimSuffix(file, ".json") + ".golden"
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("got  %s\nwant %s", got, want)
			}
		})
	}
}

// The worked example, to the letter up to the causes: 112 twenties expected and 111
// counted, tens even, 90 x 20 + 120 x 10 - 2 x 20 = 2,960 owed by the bank.
func TestReconcileExample(t *testing.T) {
	in := `{"currency":"EUR","loaded":{"20":150,"10":200},"topups":[{"20":50}],"removed":[],` +
		`"dispensed":{"20":90,"10":120},"reversed":{"20":2},"remaining":{"20":108,"10":80},"rejects":{"20":3}}`
	want := `{"lines":[{"face":"20","expected":112,"counted":111,"variance_notes":-1,` +
		`"variance_value":"-20.00"},` +
		`{"face":"10","expected":80,"counted":80,"variance_notes":0,"variance_value":"0.00"}],` +
		`"total_variance":"-20.00","verdict":"short","credit_due":"2960.00","causes":[`
	got, stderr, code := reconcileDay(t, reconcileCmd{}, in)
	if code != 0 || stderr != "" || !strings.HasPrefix(got, want) {
		t.Errorf("exit %d, %s\ngot  %s\nwant %s…", code, stderr, got, want)
	}
}

func TestReconcileErrMisuse(t *testing.T) {
	cases := []struct {
		in, want string
	}{
		{``, "day: not valid JSON, the text ends too early\n"},
		{`{"currency":"EUR","loaded":{"20":150,"20.0":1}}`, "loaded.20.0: face value 20 given twice\n"},
		{`{"currency":"EUR","dispensed":{"20":-90}}`, "dispensed.20: \"-90\" is below 0\n"},
		{`{"currency":"EUR"} {"currency":"EUR"}`, "day: more text after the closing brace\n"},
	}
	for _, c := range cases {
		stdout, stderr, code := reconcileDay(t, reconcileCmd{}, c.in)
		if code != 2 || stdout != "" || stderr != c.want {
			t.Errorf("%s: exit %d, stdout %q, stderr %q; want 2 and %q", c.in, code, stdout, stderr, c.want)
		}
	}
}

// A bad line does not stop the run; the exit code tells at the end.
func TestReconcileBatch(t *testing.T) {
	day := `{"currency":"JPY","loaded":{"1000":5},"remaining":{"1000":5}}`
	answer := `{"lines":[{"face":"1000","expected":5,"counted":5,"variance_notes":0,"variance_value":"0"}],` +
		`"total_variance":"0","verdict":"balanced","credit_due":"0","causes":[]}` + "\n"
	stdout, stderr, code := reconcileDay(t, reconcileCmd{Batch: true}, day+"\n"+day+"\n")
	if code != 0 || stderr != "" || stdout != answer+answer {
		t.Errorf("exit %d, %s%s", code, stderr, stdout)
	}
	bad := `{"currency":"JPY","x":1}`
	stdout, stderr, code = reconcileDay(t, reconcileCmd{Batch: true}, day+"\n"+bad+"\n"+day)
	want := answer + `{"error":"x: unknown field"}` + "\n" + answer
	if code != 2 || stdout != want || strings.Count(stderr, "\n") != 1 {
		t.Errorf("exit %d, stderr %q, stdout %s", code, stderr, stdout)
	}
}

package main

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// agenda prints the agenda of a fresh file with two example shops.
func agenda(t *testing.T, args ...string) []string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "shops.db")
	if out := invoke(t, "", "seed", "--shops", "2", "--db", file); strings.Contains(out, "--- exit") {
		t.Fatal(out)
	}
	out := invoke(t, "", append([]string{"agenda", "--db", file}, args...)...)
	return strings.Split(strings.TrimRight(out, "\n"), "\n")
}

func TestAgenda(t *testing.T) {
	t.Parallel()
	lines := agenda(t, "--at", "2026-11-25T00:00Z", "--days", "7")
	want := "2026-11-25T06:45:00Z\t2026-11-25T06:45:00+00:00\tExample corner shop\topening\t1\tlist"
	if lines[0] != want {
		t.Errorf("%q, want %q", lines[0], want)
	}
	if !slices.IsSorted(lines) {
		t.Error("not in order of time")
	}
	// Two shops, seven days of an opening and a closing with five rungs each and
	// three on the day after, and one weekly summary.
	if n := 2 * (7*13 + 1); len(lines) != n {
		t.Errorf("%d lines, want %d", len(lines), n)
	}
	for _, line := range lines {
		fields := strings.Split(line, "\t")
		if len(fields) != 6 {
			t.Fatalf("%q: %d fields", line, len(fields))
		}
		instant, err := time.Parse(time.RFC3339, fields[0])
		local, err2 := time.Parse(time.RFC3339, fields[1])
		if err != nil || err2 != nil || !instant.Equal(local) {
			t.Errorf("%q: the two times differ", line)
		}
	}
}

// Christmas Eve is reminded of the holiday, Christmas and St Stephen's Day have
// no tasks of their own.
func TestAgendaOverChristmas(t *testing.T) {
	out := strings.Join(agenda(t, "--at", "2026-12-24T00:00Z", "--days", "4"), "\n")
	if !strings.Contains(
		out,
		"2026-12-24T09:30:00Z\t2026-12-24T09:30:00+00:00\tExample corner shop\tholiday\t1\tmanagers",
	) {
		t.Errorf("nobody is told of Christmas:\n%s", out)
	}
	for _, day := range []string{"2026-12-25", "2026-12-26"} {
		for _, task := range []string{"opening", "closing"} {
			for line := range strings.Lines(out) {
				if strings.HasPrefix(line, day) && strings.Contains(line, "\t"+task+"\t") {
					t.Errorf("on a holiday: %s", line)
				}
			}
		}
	}
}

// The opening stays at seven on the shop's clock over both change-overs.
func TestAgendaOverChangeOvers(t *testing.T) {
	for at, want := range map[string]string{
		"2026-03-29T00:00Z": "2026-03-29T06:00:00Z\t2026-03-29T07:00:00+01:00",
		"2026-10-25T00:00Z": "2026-10-25T07:00:00Z\t2026-10-25T07:00:00+00:00",
	} {
		out := strings.Join(agenda(t, "--at", at, "--days", "1"), "\n")
		if !strings.Contains(out, want+"\tExample corner shop\topening\t2\tlist") {
			t.Errorf("%s: no opening at seven:\n%s", at, out)
		}
	}
}

func TestAgendaMisuse(t *testing.T) {
	file := filepath.Join(t.TempDir(), "none.db")
	for _, args := range [][]string{
		{"--at", "tomorrow"}, {"--days", "0"}, {"--days", "401"}, {"--at", "2026-11-25T00:00Z"},
	} {
		if out := invoke(t, "", append([]string{"agenda", "--db", file}, args...)...); !strings.Contains(
			out,
			"--- exit 2",
		) {
			t.Errorf("%v: %s", args, out)
		}
	}
}

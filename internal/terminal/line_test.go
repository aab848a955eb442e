package terminal_test

import (
	"strings"
	"testing"
	"time"

	"shopfloat/internal/terminal"
)

func TestParseLineOK(t *testing.T) {
	for raw, want := range map[string]terminal.Line{
		"":                     {Verb: terminal.Skip},
		"   ":                  {Verb: terminal.Skip},
		"# the day begins":     {Verb: terminal.Skip, Text: "the day begins"},
		"#":                    {Verb: terminal.Skip},
		"open 40 150 200":      {Verb: terminal.Say, Text: "open 40 150 200"},
		" 12 \r":               {Verb: terminal.Say, Text: "12"},
		`two\nlines`:           {Verb: terminal.Say, Text: "two\nlines"},
		`\# not a comment`:     {Verb: terminal.Say, Text: "# not a comment"},
		`\@staff1 hello`:       {Verb: terminal.Say, Text: "@staff1 hello"},
		`\[Confirm]`:           {Verb: terminal.Say, Text: "[Confirm]"},
		`\ alone`:              {Verb: terminal.Say, Text: `\ alone`},
		`say \@ later`:         {Verb: terminal.Say, Text: `say \@ later`},
		"[Confirm]":            {Verb: terminal.Tap, Text: "Confirm"},
		"[ c ]":                {Verb: terminal.Tap, Text: "c"},
		"[Confirm]~":           {Verb: terminal.Tap, Text: "Confirm", Old: true},
		"[Box [2]]":            {Verb: terminal.Tap, Text: "Box [2]"},
		"@as staff1":           {Verb: terminal.As, Text: "staff1"},
		"@photo slip":          {Verb: terminal.Photo, Text: "slip"},
		"@start last":          {Verb: terminal.Start, Text: "last"},
		"@start aZ09_-":        {Verb: terminal.Start, Text: "aZ09_-"},
		"@restart":             {Verb: terminal.Restart},
		"@down 08:00-11:30":    {Verb: terminal.Down, Span: terminal.Outage{From: 8 * hour, To: 11*hour + hour/2}},
		strings.Repeat("7", 9): {Verb: terminal.Say, Text: "777777777"},
	} {
		got, err := terminal.ParseLine(raw)
		if err != nil || got != want {
			t.Errorf("ParseLine(%q) = %+v, %v; want %+v", raw, got, err, want)
		}
	}
}

const hour = time.Hour

func TestParseLineErrShowsTheRightForm(t *testing.T) {
	for raw, form := range map[string]string{
		"[Confirm":                  "[Label]",
		"[]":                        "[Label]",
		"[Confirm] now":             "[Label]",
		"@as":                       "@as staff1",
		"@as Staff One":             "@as staff1",
		"@as " + name(33):           "@as staff1",
		"@photo ../slip":            "@photo needs a name",
		"@start":                    "@start last",
		"@start a.b":                "@start last",
		"@restart now":              "@restart",
		"@down":                     "@down 08:00-11:00",
		"@down 8 to 11":             "@down 08:00-11:00",
		"@down 08:00-08:00":         "@down 08:00-11:00",
		"@down 08:00-24:30":         "@down 08:00-11:00",
		"@wait 5":                   "@2026-11-25 07:40",
		"@":                         "@2026-11-25 07:40",
		"@2026-11-25":               "@2026-11-25 07:40",
		"@2026-02-30 08:00":         "@2026-11-25 07:40",
		"@2026-11-25 24:00":         "@2026-11-25 07:40",
		"@2026-10-25 02:30 CET":     "+01:00",
		"@2026-10-25 02:30 +01":     "+01:00",
		"@2026-10-25 02:30 +01:00x": "+01:00",
	} {
		if _, err := terminal.ParseLine(raw); err == nil || !strings.Contains(err.Error(), form) {
			t.Errorf("ParseLine(%q): error %v, want one that shows %s", raw, err, form)
		}
	}
}

func name(length int) string { return strings.Repeat("a", length) }

// Clocks change in the EU on 29 March and 25 October 2026 at 01:00 UTC (Directive
// 2000/84/EC), in the US on 8 March and 1 November 2026 at 02:00 local (15 USC
// 260a). Lord Howe turns by half an
// hour and Havana at midnight (IANA time zone database, release 2025b).
func TestWallIn(t *testing.T) {
	for _, c := range []struct{ zone, wall, want string }{
		{"Europe/Dublin", "2026-01-05 08:00", "2026-01-05T08:00:00Z"},
		{"Europe/Dublin", "2026-07-05 08:00", "2026-07-05T07:00:00Z"},
		{"Europe/Dublin", "2026-07-05 08:00 +01:00", "2026-07-05T07:00:00Z"},
		{"Europe/Dublin", "2026-10-25 01:30", "2026-10-25T00:30:00Z"},
		{"Europe/Dublin", "2026-10-25 01:30 +01:00", "2026-10-25T00:30:00Z"},
		{"Europe/Dublin", "2026-10-25 01:30 +00:00", "2026-10-25T01:30:00Z"},
		{"Europe/Dublin", "2026-03-29 01:30", "2026-03-29T01:00:00Z"},
		{"Europe/Dublin", "2026-03-29 02:00", "2026-03-29T01:00:00Z"},
		{"America/New_York", "2026-11-01 01:30", "2026-11-01T05:30:00Z"},
		{"America/New_York", "2026-11-01 01:30 -05:00", "2026-11-01T06:30:00Z"},
		{"America/New_York", "2026-03-08 02:30", "2026-03-08T07:00:00Z"},
		{"Australia/Lord_Howe", "2026-04-05 01:45", "2026-04-04T14:45:00Z"},
		{"Australia/Lord_Howe", "2026-04-05 01:45 +10:30", "2026-04-04T15:15:00Z"},
		{"America/Havana", "2026-03-08 00:30", "2026-03-08T05:00:00Z"},
		{"Asia/Kolkata", "2026-11-25 07:40 +05:30", "2026-11-25T02:10:00Z"},
		{"UTC", "2026-11-25 07:40 +00:00", "2026-11-25T07:40:00Z"},
	} {
		got, err := in(t, c.wall, c.zone)
		if err != nil || got.UTC().Format(time.RFC3339) != c.want {
			t.Errorf("%s in %s is %s, %v; want %s", c.wall, c.zone, got.UTC(), err, c.want)
		}
	}
}

func TestWallInErrDistance(t *testing.T) {
	if got, err := in(t, "2026-10-25 12:00 +01:00", "Europe/Dublin"); err == nil {
		t.Errorf("noon of the last Sunday in October at +01:00 is %s in Dublin, want an error", got)
	}
}

func in(t *testing.T, wall, zone string) (time.Time, error) {
	t.Helper()
	loc, err := time.LoadLocation(zone)
	if err != nil {
		t.Fatal(err)
	}
	w, err := terminal.ParseWall(wall)
	if err != nil {
		t.Fatalf("ParseWall(%q): %v", wall, err)
	}
	return w.In(loc)
}

func FuzzParseLine(f *testing.F) {
	for _, s := range []string{
		"open 40", "[c]~", `\@x`, "@as a", "@2026-10-25 02:30 +01:00", "# x", "@start last",
	} {
		f.Add(s)
	}
	dublin, err := time.LoadLocation("Europe/Dublin")
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, raw string) {
		line, err := terminal.ParseLine(raw)
		if err != nil {
			if strings.ContainsAny(err.Error(), "\n") {
				t.Errorf("error of more than one line: %q", err)
			}
			return
		}
		switch line.Verb {
		case terminal.Skip, terminal.Restart, terminal.Down:
		case terminal.At:
			if at, err := line.Wall.In(dublin); err == nil && at.Location() != dublin {
				t.Errorf("ParseLine(%q) gives %s, not a time in Dublin", raw, at)
			}
		default:
			if line.Text == "" {
				t.Errorf("ParseLine(%q): %s says nothing", raw, line.Verb)
			}
		}
	})
}

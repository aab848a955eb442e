package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// runGuides parses and runs the two commands as the program does.
func runGuides(t *testing.T, stdin string, args ...string) (stdout, stderr string, err error) {
	t.Helper()
	var out, errs bytes.Buffer
	e := &env{ctx: t.Context(), stdin: strings.NewReader(stdin), stdout: &out, stderr: &errs}
	c, err := parse(args)
	if err != nil {
		t.Fatal(err)
	}
	err = c.Run(e)
	return out.String(), errs.String(), err
}

func TestAskOK(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, first, then string }{
		{"machine says no connection", "offline", "Look at the router"},
		{"what do i do with a ripped one of our notes", "damaged-note", "Put it aside"},
		{"how was your weekend", "none", "no guide close"},
		{"i cut my finger", "hurt", "Somebody is hurt"},
		{"finger trapped in machine", "hurt", "Ring your country's emergency number"},
		{"the machine fell on me", "hurt", "do not move the machine"},
		{"the machine is on fire", "fire", "everybody out"},
		{"there's smoke coming from the back of it", "power", "everybody out"},
		{"someone rang and wants the code of the safe", "caller", "Hang up now"},
		{"a robber, my colleague is hurt", "robbery", "Do as told"},
	} {
		out, _, err := runGuides(t, "", "ask", c.text)
		if err != nil {
			t.Fatal(err)
		}
		first, rest, _ := strings.Cut(out, "\n")
		if first != c.first || !strings.Contains(rest, c.then) {
			t.Errorf("%q: got\n%s\nwant %s, then %q", c.text, out, c.first, c.then)
		}
	}
}

func TestAskJoinsWordsAndFollowsTheCountry(t *testing.T) {
	t.Parallel()
	out, _, err := runGuides(t, "", "ask", "--country", "nz", "he", "has", "a", "gun")
	if err != nil || !strings.HasPrefix(out, "robbery\n") || !strings.Contains(out, ": 111.") {
		t.Errorf("got %v\n%s", err, out)
	}
}

func TestAskOffersAChoice(t *testing.T) {
	t.Parallel()
	out, _, err := runGuides(t, "", "ask", "it is broken")
	if err != nil {
		t.Fatal(err)
	}
	first, rest, _ := strings.Cut(out, "\n")
	ids := strings.Fields(strings.TrimPrefix(first, "choose:"))
	if !strings.HasPrefix(first, "choose: ") || len(ids) < 2 || len(ids) > 3 {
		t.Fatalf("got %q", first)
	}
	for i, line := range strings.Split(strings.TrimSpace(rest), "\n") {
		if !strings.HasPrefix(line, ids[i]+" ") {
			t.Errorf("line %d is %q, want the title of %s", i+1, line, ids[i])
		}
	}
}

func TestAskBatch(t *testing.T) {
	t.Parallel()
	in := "notes stuck\n\nhow was your weekend\r\ttab\nlast line, printer out of paper"
	out, _, err := runGuides(t, in, "ask", "--batch")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(out, "\n")
	if len(lines) != 5 || lines[4] != "" {
		t.Fatalf("4 lines in, got %d out:\n%s", len(lines)-1, out)
	}
	asked := strings.Split(in, "\n")
	for i, want := range []string{"note-jam", "none", "none", "receipt-printer"} {
		ids, text, _ := strings.Cut(lines[i], "\t")
		if first, _, _ := strings.Cut(ids, ","); first != want || text != asked[i] {
			t.Errorf("line %d: got %q, want %s and %q", i+1, lines[i], want, asked[i])
		}
		if strings.Count(ids, ",") > 2 {
			t.Errorf("line %d: more than three names: %s", i+1, ids)
		}
	}
}

func TestAskErr(t *testing.T) {
	t.Parallel()
	for _, args := range [][]string{{"ask"}, {"ask", " "}, {"ask", "--batch", "and a question"}} {
		_, _, err := runGuides(t, "", args...)
		var f fault
		if !errors.As(err, &f) || f.code != 2 {
			t.Errorf("%v: got %v, want exit code 2", args, err)
		}
	}
	if _, _, err := runGuides(t, strings.Repeat("x", questionBytesMax+1), "ask", "--batch"); err == nil {
		t.Error("took a line without end")
	}
}

func TestGuideOK(t *testing.T) {
	list, _, err := runGuides(t, "", "guide")
	if err != nil || strings.Count(list, "\n") != 22 {
		t.Errorf("the list: %v\n%s", err, list)
	}
	out, _, err := runGuides(t, "", "guide", "safe-lock", "--country", "GB")
	if err != nil {
		t.Fatal(err)
	}
	wants := []string{"safe-lock: ", "1. start", "Caution: ", "(dial lock) ", ": step 2", "End: ", "Write down:"}
	for _, want := range wants {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
}

// What is no country is refused; without one no number is made up.
func TestCountryOfGuides(t *testing.T) {
	for _, args := range [][]string{
		{"guide", "robbery", "--country", "XX"}, {"ask", "--country", "QQ", "man with a gun"},
		{"guide", "--country", "Ireland"},
	} {
		_, _, err := runGuides(t, "", args...)
		var f fault
		if !errors.As(err, &f) || f.code != 2 {
			t.Errorf("%v: got %v, want exit code 2", args, err)
		}
	}
	out, _, err := runGuides(t, "", "guide", "robbery")
	if err != nil || strings.Contains(out, "112") || strings.Count(out, "your country's emergency number") != 7 {
		t.Errorf("without a country: %v\n%s", err, out)
	}
}

func TestGuideErr(t *testing.T) {
	_, _, err := runGuides(t, "", "guide", "unicorn")
	var f fault
	if !errors.As(err, &f) || f.code != 2 {
		t.Errorf("got %v, want exit code 2", err)
	}
}

// A broken file of the shop's folder is named with its line; what was built in stays.
func TestGuideFromAFolder(t *testing.T) {
	dir := t.TempDir()
	mine := "guide: %s\ntitle: Ours\nrecord: when\n\n== start\nDo it our way.\nend: solved\n"
	for name, text := range map[string]string{
		"power.guide":   fmt.Sprintf(mine, "power"),
		"restart.guide": fmt.Sprintf(mine, "restart") + "end: solved\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	out, errs, err := runGuides(t, "", "guide", "power", "--guides", dir)
	if err != nil || !strings.Contains(out, "Do it our way.") {
		t.Errorf("power: %v\n%s", err, out)
	}
	if !strings.Contains(errs, "restart.guide:8: ") {
		t.Errorf("the broken file is not named: %s", errs)
	}
	out, _, err = runGuides(t, "", "guide", "restart", "--guides", dir)
	if err != nil || strings.Contains(out, "our way") || !strings.Contains(out, "Do not switch off in between") {
		t.Errorf("restart: %v\n%s", err, out)
	}
}

// Over everything the chat would consider: what can be done, dangers, guides.
func TestAskAll(t *testing.T) {
	t.Parallel()
	lines := "how did we do last friday\nhello there is a man with a knife\nadded another 50 twenties\n" +
		"notes are stuck in the machine\nmy cat is asleep\nopen 40 150 200\n"
	out, _, err := runGuides(t, lines, "ask", "--all", "--batch", "--json", "--at", "2026-11-15T10:00")
	if err != nil {
		t.Fatal(err)
	}
	got := strings.Split(strings.TrimSpace(out), "\n")
	want := []struct{ first, slots string }{
		{"do:day", `{"date":"2026-11-13"}`}, {"danger:robbery", `{}`}, {"do:topup", `{"counts":{"20":50}}`},
		{"note-jam", `{}`}, {"none", `{}`}, {"do:open", `{"counts":{"10":200,"20":150,"50":40}}`},
	}
	if len(got) != len(want) {
		t.Fatalf("%d answers:\n%s", len(got), out)
	}
	for i, w := range want {
		if !strings.HasPrefix(got[i], `{"ids":["`+w.first+`"`) || !strings.HasSuffix(got[i],
			`"slots":`+w.slots+"}") {
			t.Errorf("line %d: got %s, want %s first and slots %s", i+1, got[i], w.first, w.slots)
		}
	}
	out, _, err = runGuides(t, "who works here\n", "ask", "--all", "--batch")
	ids, text, _ := strings.Cut(strings.TrimSuffix(out, "\n"), "\t")
	if err != nil || text != "who works here" || !strings.HasPrefix(ids, "do:people") {
		t.Errorf("got %v %q", err, out)
	}
}

func TestAskAllErr(t *testing.T) {
	t.Parallel()
	for _, args := range [][]string{
		{"ask", "--json", "hi"}, {"ask", "--at", "2026-11-15T10:00", "hi"}, {"ask", "--all", "--at", "noon", "hi"},
	} {
		var wrong fault
		if _, _, err := runGuides(t, "", args...); !errors.As(err, &wrong) || wrong.code != 2 {
			t.Errorf("%v: got %v, want a fault of code 2", args, err)
		}
	}
}

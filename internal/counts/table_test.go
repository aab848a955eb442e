package counts_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shopfloat/internal/counts"
)

// row is a row of the table in the package comment.
type row struct {
	line                           int // of doc.go
	production, means, typed, read string
	req                            counts.Request
}

// table reads the rows out of doc.go: from the heading of the table to the next section every line is one, or
// names what is asked in those below it.
func table(t *testing.T) []row {
	t.Helper()
	text, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	var rows []row
	var req counts.Request
	inside, production := false, ""
	for i, line := range strings.Split(string(text), "\n") {
		cells, indented := strings.CutPrefix(line, "//\t")
		asked, isAsked := strings.CutPrefix(cells, "asked: ")
		switch {
		case strings.HasPrefix(cells, "production "):
			inside = true
		case !inside || line == "//":
		case strings.HasPrefix(line, "// #"):
			return rows
		case isAsked:
			req = request(t, asked)
		default:
			r, err := readRow(cells, production)
			if err != nil || !indented {
				t.Fatalf("doc.go:%d: no row (%v): %q", i+1, err, line)
			}
			r.line, r.req, production = i+1, req, r.production
			rows = append(rows, r)
		}
	}
	t.Fatal("doc.go has no table, or one without an end")
	return nil
}

// readRow takes a row apart; one without a production goes on with the one above it.
func readRow(text, above string) (row, error) {
	cells := strings.Split(text, "|")
	if len(cells) != 4 {
		return row{}, fmt.Errorf("%d cells", len(cells))
	}
	for i := range cells {
		cells[i] = strings.TrimSpace(cells[i])
	}
	if cells[0] == "" {
		cells[0] = above
	}
	if slices.Contains(cells, "") {
		return row{}, fmt.Errorf("an empty cell")
	}
	return row{production: cells[0], means: cells[1], typed: cells[2], read: cells[3]}, nil
}

// request reads what is asked: lines with a face and before it a name, a currency, and what else holds.
func request(t *testing.T, text string) counts.Request {
	t.Helper()
	parts := strings.Split(text, "; ")
	if len(parts) < 2 {
		t.Fatalf("asked without a currency: %q", text)
	}
	req := counts.Request{Currency: parts[1], MinorDigits: 2}
	bundle := int64(100)
	for _, word := range parts[2:] {
		switch word {
		case "amounts":
			req.Values = true
		case "no bundles":
			bundle = 0
		default:
			t.Fatalf("asked: what is %q?", word)
		}
	}
	for i, line := range strings.Split(parts[0], ", ") {
		name, face, named := strings.Cut(line, " ")
		if !named {
			name, face = "", line
		}
		req.Lines = append(req.Lines, counts.Line{Face: face, Position: i + 1, Name: name, Bundle: bundle})
	}
	return req
}

// readAs writes a result as the table does.
func readAs(res counts.Result, lines int) string {
	cells := slices.Repeat([]string{"_"}, lines)
	for _, item := range res.Items {
		cells[item.Line] = strconv.FormatInt(item.Notes, 10)
		if item.FromValue {
			cells[item.Line] += "(" + item.Value + ")"
		}
	}
	if len(res.Items) == 0 {
		cells = nil
	}
	if res.Total != "" {
		cells = append(cells, "total", res.Total)
	}
	if res.Problem != nil {
		cells = append(cells, res.Problem.Code.String())
	}
	if res.Prose {
		cells = append(cells, "prose")
	}
	return strings.Join(cells, " ")
}

// Every example of the table is read as it says.
func TestTableHolds(t *testing.T) {
	rows := table(t)
	if len(rows) < 60 {
		t.Errorf("%d rows found", len(rows))
	}
	for _, r := range rows {
		if got := readAs(counts.Parse(r.typed, r.req), len(r.req.Lines)); got != r.read {
			t.Errorf("doc.go:%d: %s: %q is read as %q, not %q", r.line, r.production, r.typed, got, r.read)
		}
	}
}

// The table has a row for every code that a text of one line can be refused with.
func TestTableHasEveryCode(t *testing.T) {
	var read strings.Builder
	for _, r := range table(t) {
		fmt.Fprintln(&read, r.read)
	}
	for c := counts.Empty; c <= counts.TotalOnly; c++ {
		if c != counts.TooLong && !strings.Contains(read.String(), c.String()) {
			t.Errorf("no example is refused with %q", c)
		}
	}
}

var (
	verb    = regexp.MustCompile(`^(?:read|give)([A-Z])`)
	capital = regexp.MustCompile(`\B[A-Z]`)
)

// The productions of the table are the methods named read… and give…, none more and none less.
func TestTableHasEveryProduction(t *testing.T) {
	methods := productions(t)
	rows := map[string]bool{}
	for _, r := range table(t) {
		rows[r.production] = true
	}
	for name := range methods {
		if !rows[name] {
			t.Errorf("no row for the production %q", name)
		}
	}
	for name := range rows {
		if !methods[name] {
			t.Errorf("no method reads or gives %q", name)
		}
	}
}

// productions names what the methods of the package read and give: "key behind" for readKeyBehind.
func productions(t *testing.T) map[string]bool {
	t.Helper()
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	names := map[string]bool{}
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, decl := range f.Decls {
			method, ok := decl.(*ast.FuncDecl)
			if !ok || method.Recv == nil || !verb.MatchString(method.Name.Name) {
				continue
			}
			words := capital.ReplaceAllString(verb.ReplaceAllString(method.Name.Name, "$1"), " $0")
			names[strings.ToLower(words)] = true
		}
	}
	return names
}

// A row that is no row is not passed over.
func TestTableRefusesRows(t *testing.T) {
	for _, text := range []string{
		"list | the boxes | 40 150 200", "list | a | b | c | d", "list | a | | 40", " | a | b | c",
	} {
		if r, err := readRow(text, ""); err == nil {
			t.Errorf("%q is taken for the row %+v", text, r)
		}
	}
}

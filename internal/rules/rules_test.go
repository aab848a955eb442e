// Package rules holds the tests that keep the house in order: which package
// may import which, and who may look at the clock.
package rules

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// pure packages decide; they touch neither disk, network, clock nor chance.
var pure = []string{"across", "leaks", "pictures", "bygone", "dues", "owing", "tally",
	"abacus", "cashmath", "chat", "counts", "books", "shop", "dialogs", "guides", "diagnosis", "demand",
	"reminders", "access", "counsel", "names", "secrets", "trust", "photo", "advice", "bankdays", "statement",
	"matching", "chart", "dayfile", "dayrule", "founding", "helping", "holidays", "incidents", "lands",
	"lessons", "letters", "lines", "mending", "rota", "settling", "sheets", "stated", "sheet", "staff", "stand",
	"telling", "texts", "when", "wide"}

// banned are imports that no pure package may have.
var banned = []string{"os", "net", "net/http", "database/sql", "log", "log/slog",
	"math/rand", "math/rand/v2", "crypto/rand", "os/exec", "syscall", "path/filepath", "io/ioutil"}

// storeParts may use one another below the store's door; queues and people do
// not know each other.
var storeParts = []string{"internal/store", "internal/store/ledger", "internal/store/people",
	"internal/store/queues", "internal/store/proof", "internal/store/chain"}

// only names the packages that alone may import a library.
var only = map[string][]string{
	"modernc.org/sqlite":        {"internal/store/file", "internal/bench/naive"},
	"github.com/robfig/cron/v3": {"cmd/bot"},
	"github.com/go-telegram/bot": {
		"internal/telegram", "internal/botapitest", "internal/bench/naive", "cmd/bot"},
	"shopfloat/internal/telegram":        {"cmd/bot", "internal/bench/naive"},
	"shopfloat/internal/terminal":        {"cmd/bot"},
	"shopfloat/internal/botapitest":      {"internal/bench/load", "internal/bench/naive"},
	"github.com/VictoriaMetrics/metrics": {"internal/vitals"},
	"github.com/alexflint/go-arg":        {"cmd/bot"},
	"shopfloat/internal/filewatch": {
		"internal/store", "internal/store/file", "internal/backup", "cmd/bot"},
	"shopfloat/internal/store": {
		"internal/desk", "internal/desk/asking", "internal/desk/estate", "internal/desk/queue",
		"internal/desk/watch",
		"internal/backup", "internal/intake", "internal/proving", "cmd/bot", "internal/bench/load"},
	"shopfloat/internal/store/file":   storeParts,
	"shopfloat/internal/store/seal":   storeParts,
	"shopfloat/internal/store/ledger": storeParts,
	"shopfloat/internal/store/chain": {
		"internal/store", "internal/store/people", "internal/store/proof"},
	"shopfloat/internal/store/people":        {"internal/store", "internal/store/proof"},
	"shopfloat/internal/store/queues":        {"internal/store"},
	"shopfloat/internal/store/proof":         {"internal/store"},
	"github.com/go-analyze/charts/chartdraw": {"internal/chart"},
	"github.com/BurntSushi/toml":             {"internal/texts"},
	"pgregory.net/rapid":                     {"internal/checks"},
	"shopfloat/internal/hearing": {"cmd/bot", "internal/dialogs/engine",
		"internal/dialogs/trouble", "internal/teach", "internal/dialogs/floor"},
	"shopfloat/internal/checks":        {"internal/dialogs/floor"}, // for tests alone, as that one is
	"shopfloat/internal/abacus":        {"internal/dialogs/floor"}, // likewise
	"shopfloat/internal/dialogs/floor": nil,                        // likewise
	"golang.org/x/text/feature/plural": {"internal/texts"},
	"golang.org/x/text/secure/precis":  {"internal/names"},
	"github.com/mtibben/confusables":   {"internal/names"},

	// These call methods by names from a text, so that the linker would have to
	// keep every method of every type: the program would be 2.5 MB larger.
	"text/template": nil,
	"html/template": nil,
}

type file struct {
	dir, path string
	imports   []string
	source    string
}

var root = filepath.Join("..", "..")

// goFiles lists all of the project's Go files.
func goFiles(t *testing.T) []string {
	t.Helper()
	var list []string
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && strings.HasSuffix(path, ".go") {
			list = append(list, path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// sources reads the project's Go files, tests left out.
func sources(t *testing.T) []file {
	t.Helper()
	var files []file
	for _, path := range goFiles(t) {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		f, err := readFile(path)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, f)
	}
	if len(files) < 50 {
		t.Fatalf("found only %d files", len(files))
	}
	return files
}

func readFile(path string) (f file, err error) {
	rel, err := filepath.Rel(root, path)
	if err != nil {
		return f, err
	}
	src, err := os.ReadFile(path)
	if err != nil {
		return f, err
	}
	parsed, err := parser.ParseFile(token.NewFileSet(), path, src, parser.ImportsOnly)
	if err != nil {
		return f, err
	}
	f = file{dir: filepath.ToSlash(filepath.Dir(rel)), path: filepath.ToSlash(rel), source: string(src)}
	for _, i := range parsed.Imports {
		name, err := strconv.Unquote(i.Path.Value)
		if err != nil {
			return f, err
		}
		f.imports = append(f.imports, name)
	}
	return f, nil
}

func isPure(dir string) bool {
	name, ok := strings.CutPrefix(dir, "internal/")
	return ok && slices.Contains(pure, strings.Split(name, "/")[0])
}

func TestPurePackagesTouchNothing(t *testing.T) {
	for _, f := range sources(t) {
		if !isPure(f.dir) {
			continue
		}
		for _, i := range f.imports {
			if slices.Contains(banned, i) {
				t.Errorf("%s imports %s", f.path, i)
			}
		}
		for _, call := range []string{
			"time.Now(", "time.Since(", "time.Until(", "time.After(", "time.Sleep(", "time.NewTimer("} {
			if strings.Contains(f.source, call) {
				t.Errorf("%s calls %s)", f.path, call)
			}
		}
	}
}

// The clock comes in as an argument everywhere; the program reads it in one place.
func TestClockIsInjected(t *testing.T) {
	for _, f := range sources(t) {
		mayLook := f.dir == "cmd/bot" || strings.HasPrefix(f.dir, "internal/bench/")
		if strings.Contains(f.source, "time.Now(") && !mayLook {
			t.Errorf("%s reads the clock", f.path)
		}
	}
}

func TestImportsHaveOneHome(t *testing.T) {
	for _, f := range sources(t) {
		for _, i := range f.imports {
			homes, ruled := only[i]
			if ruled && !slices.Contains(homes, f.dir) && f.dir != strings.TrimPrefix(i, "shopfloat/") {
				t.Errorf("%s imports %s; only %v may", f.path, i, homes)
			}
		}
	}
}

// Whoever adds a module says in the README what it is for.
func TestEveryModuleHasItsReason(t *testing.T) {
	mod, err := os.ReadFile(filepath.Join(root, "go.mod"))
	if err != nil {
		t.Fatal(err)
	}
	readme, err := os.ReadFile(filepath.Join(root, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	named := 0
	for line := range strings.Lines(string(mod)) {
		module, required := strings.CutPrefix(line, "\t")
		if !required || strings.Contains(line, "// indirect") {
			continue
		}
		named++
		module, _, _ = strings.Cut(module, " ")
		if !strings.Contains(string(readme), "`"+module+"`") {
			t.Errorf("README.md does not say what %s is for", module)
		}
	}
	if named < 5 {
		t.Fatalf("found only %d modules in go.mod", named)
	}
}

// Whoever reads a function or a file should see all of it at once, tests included.
func TestFilesAndFunctionsStaySmall(t *testing.T) {
	const linesMax, functionMax = 500, 80
	functions := 0
	for _, path := range goFiles(t) {
		set := token.NewFileSet()
		parsed, err := parser.ParseFile(set, path, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		if n := set.File(parsed.Pos()).LineCount(); n > linesMax {
			t.Errorf("%s has %d lines", path, n)
		}
		for _, d := range parsed.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok {
				continue
			}
			functions++
			if n := set.Position(f.End()).Line - set.Position(f.Pos()).Line + 1; n > functionMax {
				t.Errorf("%s: %s has %d lines", path, f.Name, n)
			}
		}
	}
	if functions < 1000 {
		t.Fatalf("found only %d functions", functions)
	}
}

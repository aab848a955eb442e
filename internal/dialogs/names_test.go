package dialogs_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// Nobody asks a dialog or a command for its name: what one does otherwise than
// others is a property of it. Comparisons with names are looked for in the
// source, also in switches and lists of names.
func TestNoNameIsCompared(t *testing.T) {
	names := theEngine(t).Actions()
	for _, path := range sourceFiles(t) {
		for _, found := range comparedNames(t, path, nil, names) {
			t.Error(found)
		}
	}
}

// The test itself finds each way in which names were compared.
func TestComparedNamesAreFound(t *testing.T) {
	const source = `package x
	func f() {
		_ = c.State.Flow == "open"
		_ = "close" != f.name
		_ = cmd.name == doHelp
		_ = name != "topup" && flow == "swap"
		switch f.name { case "spot", "second": }
		switch { case a.Flow == "second": }
		_ = slices.Contains(list, f.name)
		_ = slices.Contains([]string{"open"}, c.State.Flow)
		_ = map[string]bool{"open": true}[c.State.Flow]
		_ = doFound == x
		_ = engine.DoFound == x || DoFound != x
		switch f.Name { case engine.DoSpot: }
		_ = q.name == "" || step == "open" || q.name == "tray" || what == "closed"
	}`
	names := []string{"open", "close", "topup", "swap", "spot", "second", "closed"}
	found := comparedNames(t, "x.go", source, names)
	if want := 14; len(found) != want {
		t.Errorf("found %d, want %d:\n%s", len(found), want, strings.Join(found, "\n"))
	}
}

// sourceFiles lists the code of all packages of dialogs.
func sourceFiles(t *testing.T) (files []string) {
	t.Helper()
	dirs := map[string]bool{}
	err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && strings.HasSuffix(path, ".go") && !strings.HasSuffix(path, "_test.go") {
			files = append(files, path)
			dirs[filepath.Dir(path)] = true
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(files) < 80 || len(dirs) < 13 {
		t.Fatalf("only %d files of %d packages", len(files), len(dirs))
	}
	return files
}

// comparedNames lists the places where a name is compared.
func comparedNames(t *testing.T, path string, source any, names []string) (found []string) {
	t.Helper()
	set := token.NewFileSet()
	file, err := parser.ParseFile(set, path, source, 0)
	if err != nil {
		t.Fatal(err)
	}
	isName := func(e ast.Expr) bool { return literalName(e, names) || constant(e) }
	tell := func(n ast.Node, what string) { found = append(found, set.Position(n.Pos()).String()+": "+what) }
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.BinaryExpr:
			if n.Op != token.EQL && n.Op != token.NEQ {
				break
			}
			for _, pair := range [][2]ast.Expr{{n.X, n.Y}, {n.Y, n.X}} {
				if isName(pair[0]) && (mentions(pair[1]) || constant(pair[0])) {
					tell(n, "a name is compared")
				}
			}
		case *ast.SwitchStmt:
			for _, clause := range n.Body.List {
				list := clause.(*ast.CaseClause).List
				if n.Tag != nil && mentions(n.Tag) && slices.ContainsFunc(list, isName) {
					tell(clause, "a switch on a name")
				}
			}
		case *ast.CallExpr:
			if len(n.Args) == 2 && last(n.Fun) == "Contains" && mentions(n.Args[1]) {
				tell(n, "a list of names")
			}
		case *ast.IndexExpr:
			if _, table := n.X.(*ast.CompositeLit); table && mentions(n.Index) {
				tell(n, "a table of names")
			}
		}
		return true
	})
	return found
}

// mentions reports whether an expression is the name of a dialog or a command.
func mentions(e ast.Expr) bool {
	return slices.Contains([]string{"name", "Name", "Flow", "flow", "Command", "command", "want"}, last(e))
}

// constant reports whether an expression is one of the table of names: doHelp,
// DoOpen, engine.DoOpen.
func constant(e ast.Expr) bool {
	name := last(e)
	return len(name) > 2 && strings.EqualFold(name[:2], "do") && name[1] == 'o' && name[2] >= 'A' &&
		name[2] <= 'Z'
}

// last is the last word of a selector, or an identifier.
func last(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name
	case *ast.SelectorExpr:
		return e.Sel.Name
	}
	return ""
}

func literalName(e ast.Expr, names []string) bool {
	lit, ok := e.(*ast.BasicLit)
	if !ok || lit.Kind != token.STRING {
		return false
	}
	s, err := strconv.Unquote(lit.Value)
	return err == nil && slices.Contains(names, s)
}

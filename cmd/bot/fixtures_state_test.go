package main

import (
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shopfloat/internal/chat"
)

// Every kind of record that the program knows stands in a file of an earlier
// program. Whoever adds a kind writes a file with it.
func TestFixturesHoldEveryKind(t *testing.T) {
	t.Parallel()
	held := map[string]bool{}
	for _, name := range fixtureNames(t) {
		for _, kind := range texted(t, unpacked(t, name), "SELECT DISTINCT kind FROM entry") {
			held[kind] = true
		}
	}
	kinds := recordKinds(t)
	if len(kinds) < 24 {
		t.Fatalf("only %d kinds are found in the source: %v", len(kinds), kinds)
	}
	for _, kind := range kinds {
		if !held[kind] {
			t.Errorf("no file holds a record of the kind %q", kind)
		}
	}
}

// recordKinds reads the kinds of record from the source of the books, so that
// no list of them has to be kept.
func recordKinds(t *testing.T) (kinds []string) {
	t.Helper()
	files, err := filepath.Glob("../../internal/books/*.go")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	for _, path := range files {
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			v, ok := n.(*ast.ValueSpec)
			if !ok {
				return true
			}
			if name, ok := v.Type.(*ast.Ident); !ok || name.Name != "Kind" || len(v.Values) != 1 {
				return true
			}
			lit, ok := v.Values[0].(*ast.BasicLit)
			if !ok {
				t.Fatalf("%s: a kind that is no plain string", path)
			}
			kind, err := strconv.Unquote(lit.Value)
			if err != nil {
				t.Fatal(err)
			}
			kinds = append(kinds, kind)
			return true
		})
	}
	return kinds
}

// The README of the files lists the dialogs that lie open in them, screen by screen.
func TestFixturesHoldTheDialogsListed(t *testing.T) {
	t.Parallel()
	screens := map[string]map[string]bool{}
	for _, name := range fixtureNames(t) {
		for _, state := range statesIn(t, unpacked(t, name)) {
			if state.Flow == "" {
				continue
			}
			if screens[state.Flow] == nil {
				screens[state.Flow] = map[string]bool{}
			}
			screens[state.Flow][state.Step] = true
		}
	}
	var want strings.Builder
	for _, flow := range slices.Sorted(maps.Keys(screens)) {
		steps := strings.Join(slices.Sorted(maps.Keys(screens[flow])), " ")
		fmt.Fprintf(&want, "| `%s` | %s |\n", flow, steps)
	}
	const head = "| dialog | screens |\n|---|---|\n"
	_, after, _ := strings.Cut(read(t, filepath.Join(fixtureDir, "README.md")), head)
	if listed, _, _ := strings.Cut(after, "\n\n"); listed+"\n" != want.String() {
		t.Errorf("the README lists\n%s\nwant\n%s", listed, &want)
	}
}

// statesIn reads what is remembered of every chat in a file.
func statesIn(t *testing.T, file string) (states []chat.State) {
	t.Helper()
	for _, body := range texted(t, file, "SELECT state FROM chat WHERE state IS NOT NULL") {
		var state chat.State
		if err := json.Unmarshal([]byte(body), &state); err != nil {
			t.Fatal(err)
		}
		states = append(states, state)
	}
	return states
}

// texted gives the one column of a query.
func texted(t *testing.T, file, query string) (list []string) {
	t.Helper()
	rows, err := other(t, file).Query(query)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = rows.Close() }()
	for rows.Next() {
		var s string
		if err := rows.Scan(&s); err != nil {
			t.Fatal(err)
		}
		list = append(list, s)
	}
	if err := rows.Err(); err != nil {
		t.Fatal(err)
	}
	return list
}

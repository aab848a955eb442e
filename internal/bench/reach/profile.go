package main

import (
	"cmp"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"path"
	"slices"
	"strings"
)

// profile is how often each block of statements ran.
type profile map[block]int64

// block is a run of statements; its file is named by import path.
type block struct {
	file     string
	from, to place
}

// place is a position in a file, both numbers from 1 on.
type place struct{ line, column int }

func (p place) before(q place) bool {
	return p.line < q.line || p.line == q.line && p.column < q.column
}

// parse reads the text form of a coverage profile: a line with the mode, then
// lines FILE:LINE.COLUMN,LINE.COLUMN STATEMENTS COUNT.
func parse(text string) (profile, error) {
	p := profile{}
	mode, rest, _ := strings.Cut(text, "\n")
	if mode != "mode: atomic" {
		return nil, fmt.Errorf("a profile that begins with %q", mode)
	}
	for line := range strings.Lines(rest) {
		file, numbers, _ := strings.Cut(line, ":")
		b := block{file: file}
		var statements int
		var count int64
		_, err := fmt.Sscanf(numbers, "%d.%d,%d.%d %d %d",
			&b.from.line, &b.from.column, &b.to.line, &b.to.column, &statements, &count)
		if err != nil {
			return nil, fmt.Errorf("%q in a profile: %w", line, err)
		}
		p[b] += count
	}
	if len(p) == 0 {
		return nil, fmt.Errorf("a profile without blocks")
	}
	return p, nil
}

// atMost makes each count the greater one of two runs, atLeast the smaller one.
func (p profile) atMost(q profile) {
	for b, count := range q {
		p[b] = max(p[b], count)
	}
}

func (p profile) atLeast(q profile) {
	for b := range p {
		p[b] = min(p[b], q[b])
	}
}

// risen gives the blocks that ran more often with something than without it.
func risen(without, with profile) []block {
	var list []block
	for b, count := range with {
		if count > without[b] {
			list = append(list, b)
		}
	}
	return list
}

// function is a declared function, or a literal outside of all of them.
type function struct {
	file, name string
	line       int
	from, to   place
}

func (f function) pkg() string { return path.Dir(f.file) }

func (f function) holds(b block) bool { return !b.from.before(f.from) && !f.to.before(b.to) }

// functions gives the functions that the blocks stand in, by file and line.
// Where a file lies on disk is for source to say.
func functions(blocks []block, source func(file string) string) ([]function, error) {
	declared := map[string][]function{}
	held := map[function]bool{}
	for _, b := range blocks {
		list, read := declared[b.file]
		if !read {
			var err error
			if list, err = functionsOf(b.file, source(b.file)); err != nil {
				return nil, err
			}
			declared[b.file] = list
		}
		i := slices.IndexFunc(list, func(f function) bool { return f.holds(b) })
		if i < 0 {
			return nil, fmt.Errorf("%s:%d belongs to no function", b.file, b.from.line)
		}
		held[list[i]] = true
	}
	return slices.SortedFunc(maps.Keys(held), func(x, y function) int {
		return cmp.Or(cmp.Compare(x.file, y.file),
			cmp.Compare(x.line, y.line), cmp.Compare(x.from.column, y.from.column))
	}), nil
}

func functionsOf(file, source string) (list []function, err error) {
	set := token.NewFileSet()
	parsed, err := parser.ParseFile(set, source, nil, 0)
	if err != nil {
		return nil, err
	}
	at := func(p token.Pos) place { return place{set.Position(p).Line, set.Position(p).Column} }
	add := func(name string, n ast.Node) {
		from, to := at(n.Pos()), at(n.End())
		list = append(list, function{file: file, name: name, line: from.line, from: from, to: to})
	}
	ast.Inspect(parsed, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.FuncDecl:
			add(n.Name.Name, n)
			return false
		case *ast.FuncLit:
			add("func literal", n)
			return false
		}
		return true
	})
	return list, nil
}

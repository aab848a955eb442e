package guides

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"sync"
)

//go:embed data/*.guide
var builtinFiles embed.FS

// Library is a set of guides that have all passed the checks.
type Library struct {
	guides map[string]func() Guide
}

// IDs lists the names every library has, in the order a list shows them.
func IDs() []string {
	return []string{
		"note-jam", "offline", "restart", "power", "test-failed", "wrong-notes", "customer-claim",
		"card-reader", "receipt-printer", "low-cash", "top-up", "count-mismatch", "settlement-failed",
		"credit-missing", "safe-lock", "suspect-note", "damaged-note", "tampering", "robbery",
		"overnight", "contact", "caller",
	}
}

// Cards lists the guides that begin with a danger. Words for it lead to them, from
// everywhere; nobody looks for them in a list.
func Cards() []string { return []string{FireGuide, InjuryGuide} }

// Builtin returns the guides the program comes with. Each is read when it is first
// wanted: most starts need none, and reading them all was a third of a start.
func Builtin() (Library, error) {
	lib := Library{guides: map[string]func() Guide{}}
	for _, id := range append(IDs(), Cards()...) {
		name := id + ".guide"
		if _, err := fs.Stat(builtinFiles, "data/"+name); err != nil {
			return Library{}, fmt.Errorf("built-in guides: %w", err)
		}
		lib.guides[id] = sync.OnceValue(func() Guide {
			g, err := builtinGuide(name)
			if err != nil {
				panic(fmt.Errorf("built-in guides: %w", err)) // they are part of the program, and a test reads each
			}
			return g
		})
	}
	return lib, nil
}

func builtinGuide(name string) (Guide, error) {
	folder, err := fs.Sub(builtinFiles, "data")
	if err != nil {
		return Guide{}, err
	}
	return readGuide(folder, name)
}

// With returns the library with the files *.guide of a folder added; a guide
// of the same name is replaced. A file that does not pass is left out, and the
// guide of that name stays as it was. The error joins the faults of all files,
// each a *LineError; the library returned beside it is good to use.
func (l Library) With(folder fs.FS) (Library, error) {
	out := Library{guides: maps.Clone(l.guides)}
	if out.guides == nil {
		out.guides = map[string]func() Guide{}
	}
	names, err := fs.Glob(folder, "*.guide")
	if err != nil {
		return out, fmt.Errorf("list guides: %w", err)
	}
	var errs []error
	for _, name := range names {
		g, err := readGuide(folder, name)
		if err != nil {
			errs = append(errs, err)
			continue
		}
		out.put(g)
	}
	return out, errors.Join(errs...)
}

func readGuide(folder fs.FS, name string) (Guide, error) {
	src, err := fs.ReadFile(folder, name)
	if err != nil {
		return Guide{}, fmt.Errorf("read guide: %w", err)
	}
	g, err := Parse(name, src)
	if err != nil {
		return Guide{}, err
	}
	if want := strings.TrimSuffix(name, ".guide"); g.ID != want {
		msg := fmt.Sprintf("the file holds guide %q; call it %s.guide", g.ID, g.ID)
		return Guide{}, &LineError{File: name, Line: 1, Msg: msg}
	}
	return g, nil
}

// put keeps what people say for a guide when its replacement does not repeat
// it: an owner who rewrites the steps still wants the guide to be found.
func (l Library) put(g Guide) {
	if before, ok := l.Guide(g.ID); ok && len(g.Asked) == 0 {
		g.Asked = before.Asked
	}
	l.guides[g.ID] = func() Guide { return g }
}

// Guide returns the guide of that name and whether there is one.
func (l Library) Guide(id string) (Guide, bool) {
	read, ok := l.guides[id]
	if !ok {
		return Guide{}, false
	}
	return read(), true
}

// IDs lists the guides: the fixed topics in their order, then added ones by name. The
// cards are not among them.
func (l Library) IDs() []string {
	var out []string
	for _, id := range IDs() {
		if _, ok := l.guides[id]; ok {
			out = append(out, id)
		}
	}
	for _, id := range slices.Sorted(maps.Keys(l.guides)) {
		if !slices.Contains(out, id) && !slices.Contains(Cards(), id) {
			out = append(out, id)
		}
	}
	return out
}

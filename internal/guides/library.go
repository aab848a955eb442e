package guides

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
)

//go:embed data/*.guide
var builtinFiles embed.FS

// Library is a set of guides that have all passed the checks.
type Library struct {
	guides map[string]Guide
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

// Builtin returns the guides the program comes with.
func Builtin() (Library, error) {
	sub, err := fs.Sub(builtinFiles, "data")
	if err != nil {
		return Library{}, fmt.Errorf("built-in guides: %w", err)
	}
	lib, err := Library{}.With(sub)
	if err != nil {
		return Library{}, fmt.Errorf("built-in guides: %w", err)
	}
	for _, id := range append(IDs(), Cards()...) {
		if _, ok := lib.guides[id]; !ok {
			return Library{}, fmt.Errorf("built-in guides: %s is missing", id)
		}
	}
	return lib, nil
}

// With returns the library with the files *.guide of a folder added; a guide
// of the same name is replaced. A file that does not pass is left out, and the
// guide of that name stays as it was. The error joins the faults of all files,
// each a *LineError; the library returned beside it is good to use.
func (l Library) With(folder fs.FS) (Library, error) {
	out := Library{guides: maps.Clone(l.guides)}
	if out.guides == nil {
		out.guides = map[string]Guide{}
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
	if len(g.Asked) == 0 {
		g.Asked = l.guides[g.ID].Asked
	}
	l.guides[g.ID] = g
}

// Guide returns the guide of that name and whether there is one.
func (l Library) Guide(id string) (Guide, bool) {
	g, ok := l.guides[id]
	return g, ok
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

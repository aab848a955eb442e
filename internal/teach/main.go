// Teach learns what people mean from the phrases of internal/hearing and of the
// guides, and which guide they ask for, and writes it to data/learnt.bin there and
// in internal/guides/search. The same files give the same bytes on one kind of
// processor. Run it in internal/hearing: go generate.
package main

import (
	"fmt"
	"os"

	"shopfloat/internal/guides"
	"shopfloat/internal/guides/search"
	"shopfloat/internal/hearing"
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "teach:", err)
		os.Exit(1)
	}
}

func run() error {
	lib, err := guides.Builtin()
	if err != nil {
		return err
	}
	file, err := search.Teach(lib.Topics())
	if err != nil {
		return err
	}
	if err := os.WriteFile("../guides/search/data/learnt.bin", file, 0o644); err != nil {
		return err
	}
	find, err := search.New(lib.Topics())
	if err != nil {
		return err
	}
	file, err = hearing.Teach(lib.Topics(), find)
	if err != nil {
		return err
	}
	return os.WriteFile("data/learnt.bin", file, 0o644)
}

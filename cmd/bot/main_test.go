package main

import (
	"flag"
	"fmt"
	"os"
	"testing"

	"shopfloat/internal/checks"
)

// asProgram names the variable that makes of the tests' binary the program: the same code without the time
// that it takes to link it once more.
const asProgram = "SHOPFLOAT_TESTS_AS_PROGRAM"

// TestMain takes away what the environment of whoever runs the tests may say.
// Here, once for all: tests beside each other share one environment.
func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		main() // ends the process
	}
	for _, name := range []string{"SHOPFLOAT_TOKEN", "SHOPFLOAT_API_URL", "SHOPFLOAT_DB", "SHOPFLOAT_GUIDES"} {
		if err := os.Unsetenv(name); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
	// most tests wait, for a program or a clock: more of them at once than there are cores
	if err := flag.Set("test.parallel", "6"); err != nil { // -parallel stands, it is read after this
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(checks.FilesInMemory(m))
}

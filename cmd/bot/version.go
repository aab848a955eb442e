package main

import (
	"fmt"
	"runtime"
	"runtime/debug"
)

// commit is what the program was built from; deploy/build.sh sets it.
var commit = ""

// Version makes the flag --version.
func (cli) Version() string {
	from := commit
	if info, ok := debug.ReadBuildInfo(); ok && from == "" {
		for _, s := range info.Settings {
			if s.Key == "vcs.revision" {
				from = s.Value
			}
		}
	}
	if from == "" {
		from = "unknown"
	}
	return fmt.Sprintf("shopfloat, commit %s, %s %s/%s", from, runtime.Version(), runtime.GOOS, runtime.GOARCH)
}

// versionTask prints it.
type versionTask struct{}

// Run prints one line.
func (versionTask) Run(e *env) error {
	_, err := fmt.Fprintln(e.stdout, cli{}.Version())
	return err
}

package main

import (
	_ "embed"
	"strings"
)

// demoCmd plays an example day of the example shop.
type demoCmd struct{}

//go:embed demo.txt
var demoScript string

// Run prints the conversation of the day. Nothing stays on the disk.
func (*demoCmd) Run(e *env) error {
	return playScript(e, strings.NewReader(demoScript), stage{speaker: "owner", story: true})
}

package main

import "os"

// cli lists the commands; each stands in a file of its own.
type cli struct {
	Version versionCmd `cmd:"" help:"Print the version."`
}

type versionCmd struct{}

func (versionCmd) Run(e *env) error {
	_, err := e.stdout.Write([]byte("shopfloat\n"))
	return err
}

// withDefault picks the command when none is named: serve with a token, chat without.
func withDefault(args []string) []string {
	if len(args) > 0 {
		return args
	}
	if os.Getenv("SHOPFLOAT_TOKEN") != "" {
		return []string{"serve"}
	}
	return []string{"chat"}
}

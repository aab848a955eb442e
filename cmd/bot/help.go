package main

import (
	"fmt"
	"reflect"
	"strings"

	"github.com/alexflint/go-arg"
)

// about is the first thing that bot --help says.
const about = `Chat assistant for a shop's own cash machine. With no command: the chat in the
terminal, or Telegram when SHOPFLOAT_TOKEN is set.`

// helpTask prints the help that was asked for: of the program or of a command.
type helpTask struct{ parser *arg.Parser }

// Run prints what the command is for, what it says about itself, its flags.
func (h helpTask) Run(e *env) error {
	names := h.parser.SubcommandNames()
	intro := about
	if len(names) > 0 {
		intro = summary(names[0])
	}
	if own, ok := h.parser.Subcommand().(interface{ Help() string }); ok {
		intro += "\n\n" + own.Help()
	}
	if _, err := fmt.Fprintf(e.stdout, "%s\n\n", intro); err != nil {
		return err
	}
	return h.parser.WriteHelpForSubcommand(e.stdout, names...)
}

// summary is what the list of commands says about one.
func summary(command string) string {
	for _, f := range reflect.VisibleFields(reflect.TypeFor[cli]()) {
		if strings.TrimPrefix(f.Tag.Get("arg"), "subcommand:") == command {
			return f.Tag.Get("help")
		}
	}
	return ""
}

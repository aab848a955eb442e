// Command bot is shopfloat: a chat assistant for a shop that keeps its own
// cash machine. Without a token it opens the chat in the terminal.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"
	_ "time/tzdata" // the shop's zone must not depend on the computer's files
)

// env is what a command may use of the world outside; tests hand in their own.
type env struct {
	ctx    context.Context
	stdin  io.Reader
	stdout io.Writer
	stderr io.Writer
	bound  func() // sets how much memory the whole program takes; nil where others run in it, too
}

// fault is an error that ends the program with a code of its own.
// The text is the one line a person sees on stderr.
type fault struct {
	code int
	err  error
}

func (f fault) Error() string { return f.err.Error() }
func (f fault) Unwrap() error { return f.err }

// misuse marks bad input: exit code 2.
func misuse(err error) error { return fault{code: 2, err: err} }

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	e := &env{ctx: ctx, stdin: os.Stdin, stdout: os.Stdout, stderr: os.Stderr, bound: boundMemory}
	os.Exit(run(e, os.Args[1:]))
}

// run parses args and runs one command. It returns the exit code: 0 done,
// 1 the command found something wrong, 2 the input was unusable.
func run(e *env, args []string) int {
	t, err := parse(withDefault(args))
	if err != nil {
		return report(e, misuse(err))
	}
	return report(e, t.Run(e))
}

func report(e *env, err error) int {
	if err == nil {
		return 0
	}
	if text := err.Error(); text != "" {
		_, _ = fmt.Fprintln(e.stderr, text)
	}
	var f fault
	if errors.As(err, &f) {
		return f.code
	}
	return 1
}

// Talks counts what people type and tap for each task of a chat script, and what
// they are sent for it: go run ./internal/bench/talks testdata/chats/ordinary-day.txt
//
// A line "# task NAME" of the script begins a task. What is sent is read in the
// transcript beside it, in the chats of whoever has the task.
package main

import (
	"bufio"
	"fmt"
	"os"
	"regexp"
	"strings"
	"text/tabwriter"
)

// task is what one task of a script takes.
type task struct {
	name               string
	typed, taps        int
	sent, edits, lines int
	longest            int // lines of the longest message before its buttons
}

func main() {
	if len(os.Args) != 2 || !strings.HasSuffix(os.Args[1], ".txt") {
		fmt.Fprintln(os.Stderr, "usage: talks SCRIPT.txt")
		os.Exit(2)
	}
	tasks, err := counted(os.Args[1])
	if err != nil {
		fmt.Fprintln(os.Stderr, "talks:", err)
		os.Exit(1)
	}
	out := tabwriter.NewWriter(os.Stdout, 0, 4, 2, ' ', 0)
	fmt.Fprintln(out, "task\ttyped\ttaps\tmessages\tedits\tlines\tlongest")
	for _, t := range tasks {
		fmt.Fprintf(out, "%s\t%d\t%d\t%d\t%d\t%d\t%d\n",
			t.name, t.typed, t.taps, t.sent, t.edits, t.lines, t.longest)
	}
	if err := out.Flush(); err != nil {
		fmt.Fprintln(os.Stderr, "talks:", err)
		os.Exit(1)
	}
}

// counted reads a script and its transcript side by side.
func counted(script string) ([]*task, error) {
	said, err := linesOf(script)
	if err != nil {
		return nil, err
	}
	heard, err := linesOf(strings.TrimSuffix(script, ".txt") + ".golden")
	if err != nil {
		return nil, err
	}
	var tasks []*task
	at := &task{} // before the first task
	for _, line := range said {
		name, begins := strings.CutPrefix(line, "# task ")
		switch {
		case begins:
			at = &task{name: name}
			tasks = append(tasks, at)
		case line == "" || strings.HasPrefix(line, "#") || strings.HasPrefix(line, "@"):
			continue
		case strings.HasPrefix(line, "["):
			at.taps++
		default:
			at.typed++
		}
		if !begins {
			heard = at.hears(heard, line)
		}
	}
	return tasks, nil
}

var (
	speaker = regexp.MustCompile(`^\w+> `)
	message = regexp.MustCompile(`^bot\*?> `)
)

// hears counts what was sent after one thing that was said, and gives the rest.
func (t *task) hears(heard []string, said string) []string {
	for len(heard) > 0 && !(speaker.MatchString(heard[0]) && strings.HasSuffix(heard[0], "> "+said)) {
		heard = heard[1:]
	}
	if len(heard) > 0 {
		heard = heard[1:]
	}
	body := 0
	for len(heard) > 0 && !(speaker.MatchString(heard[0]) && !strings.HasPrefix(heard[0], "bot> ")) {
		line := heard[0]
		heard = heard[1:]
		switch {
		case strings.HasPrefix(line, "bot@") || strings.HasPrefix(line, "bot*@"):
			body = -1 // to somebody else
			continue
		case message.MatchString(line):
			body = 0
			if strings.HasPrefix(line, "bot*") {
				t.edits++
			} else {
				t.sent++
			}
		case body < 0 || strings.HasPrefix(line, "  ["):
			continue
		}
		body++
		t.lines++
		t.longest = max(t.longest, body)
	}
	return heard
}

func linesOf(name string) (lines []string, err error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	in := bufio.NewScanner(f)
	for in.Scan() {
		lines = append(lines, in.Text())
	}
	return lines, in.Err()
}

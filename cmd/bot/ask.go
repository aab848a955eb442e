package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/guides"
	"shopfloat/internal/guides/search"
	"shopfloat/internal/hearing"
)

// questionBytesMax bounds a line of a batch, so that a wrong file is refused.
const questionBytesMax = 1 << 20

type askCmd struct {
	Text  []string `arg:"positional" help:"The question, in your own words."`
	Batch bool     `help:"Answer every line of standard input with: ids, tab, question."`
	All   bool     `help:"Over all the chat would consider: do:NAME, danger:KIND, guides."`
	JSON  bool     `arg:"--json" help:"With --all: answer as JSON, with what was named: days, sums, counts."`
	At    string   `placeholder:"TIME" help:"With --all: when it is asked, as 2026-11-15T10:00."`
	guideFlags
}

// Run prints the guide's name, or a choice of names, or none; then the first
// step. A batch prints one line for each line read.
func (c *askCmd) Run(e *env) error {
	text := strings.TrimSpace(strings.Join(c.Text, " "))
	if c.Batch == (text != "") {
		return misuse(errors.New("give a question, or --batch with questions on standard input"))
	}
	if !c.All && (c.JSON || c.At != "") {
		return misuse(errors.New("--json and --at go with --all"))
	}
	lib, err := c.library(e)
	if err != nil {
		return err
	}
	if c.All {
		return c.askAll(e, lib, text)
	}
	ix, err := c.index(lib)
	if err != nil {
		return err
	}
	if c.Batch {
		return askBatch(ix, e.stdin, e.stdout)
	}
	return c.askOne(e, lib, found(ix, text))
}

// found looks for the topics of a question. Somebody who is hurt and a fire come
// before any fault: the answer is the topic that begins with the number to ring.
// In the chat such words get a message of their own. Only a robbery goes before.
func found(ix *search.Index, text string) search.Answer {
	a := ix.Search(text)
	hurt, fire := guides.Injury(text), guides.Burning(text)
	switch {
	case !hurt && !fire, a.Clear && a.IDs[0] == chat.Robbery:
		return a
	case guides.Danger(text):
		return search.Answer{IDs: []string{chat.Robbery}, Clear: true}
	case hurt:
		return search.Answer{IDs: []string{guides.InjuryGuide}, Clear: true}
	}
	return search.Answer{IDs: []string{guides.FireGuide}, Clear: true}
}

func (c *askCmd) askOne(e *env, lib guides.Library, a search.Answer) error {
	switch {
	case len(a.IDs) == 0:
		_, err := fmt.Fprintln(e.stdout, "none\nI have no guide close to that. \"bot guide\" lists them; "+
			"\"bot guide contact\" says whom to ring.")
		return err
	case !a.Clear && len(a.IDs) > 1:
		_, err := fmt.Fprintf(e.stdout, "choose: %s\n%s", strings.Join(a.IDs, " "), titles(lib, a.IDs))
		return err
	}
	set := c.settings()
	run, err := lib.Start(a.IDs[0])
	if err != nil {
		return err
	}
	v, err := lib.View(run, set)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(e.stdout, "%s\n%s", a.IDs[0], viewText(v))
	return err
}

// viewText is a step as it would stand on the phone, choices numbered.
func viewText(v guides.View) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s. Step 1 of at most %d.\n", v.Title, v.Of)
	for _, c := range v.Cautions {
		fmt.Fprintln(&b, c)
	}
	fmt.Fprintln(&b, v.Text)
	for i, ch := range v.Choices {
		fmt.Fprintf(&b, "%d %s\n", i+1, ch)
	}
	return b.String()
}

func titles(lib guides.Library, ids []string) string {
	var b strings.Builder
	for _, id := range ids {
		g, _ := lib.Guide(id)
		fmt.Fprintf(&b, "%-18s %s\n", id, g.Title)
	}
	return b.String()
}

// askBatch answers line by line; a question comes back as it was written.
func askBatch(ix *search.Index, in io.Reader, out io.Writer) error {
	return eachLine(in, out, func(line string) (string, error) {
		ids := hearing.None
		if a := found(ix, line); len(a.IDs) > 0 {
			ids = strings.Join(a.IDs, ",")
		}
		return ids + "\t" + line, nil
	})
}

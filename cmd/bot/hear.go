package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"runtime/debug"
	"strings"
	"sync"
	"time"

	"shopfloat/internal/guides"
	"shopfloat/internal/guides/search"
	"shopfloat/internal/hearing"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
	"shopfloat/internal/when"
)

// builtinEar hears with the guides that the program comes with. Like the search
// for guides it is made when the first words come.
var builtinEar = sync.OnceValues(func() (*hearing.Ear, error) { return learntEar(builtinIndex) })

// learntEar makes an ear that finds guides by a search. Most of what that takes is of
// no use afterwards.
func learntEar(index func() (*search.Index, error)) (*hearing.Ear, error) {
	defer debug.FreeOSMemory()
	ix, err := index()
	if err != nil {
		return nil, err
	}
	catalogue, err := texts.Load()
	if err != nil {
		return nil, err
	}
	return hearing.New(ix, hearing.WordsOf(catalogue.In("en", "", "").List))
}

// index searches the guides of a library; those of a folder are learnt first.
func (c *askCmd) index(lib guides.Library) (*search.Index, error) {
	if c.Guides == "" {
		return builtinIndex()
	}
	return learn(lib)
}

// earFor hears with the guides of a library.
func (c *askCmd) earFor(lib guides.Library) (*hearing.Ear, error) {
	if c.Guides == "" {
		return builtinEar()
	}
	return learntEar(func() (*search.Index, error) { return learn(lib) })
}

// atLayout is how a time is given to ask.
const atLayout = "2006-01-02T15:04"

// situation is the example shop, closed, at the time that was given or now.
func (c *askCmd) situation() (hearing.Situation, error) {
	example := shop.Example()
	zone, err := time.LoadLocation(example.Zone)
	if err != nil {
		return hearing.Situation{}, fmt.Errorf("zone of the example shop: %w", err)
	}
	at := time.Now().In(zone)
	if c.At != "" {
		if at, err = time.ParseInLocation(atLayout, c.At, zone); err != nil {
			return hearing.Situation{}, misuse(fmt.Errorf("--at %q: give it as 2026-11-15T10:00", c.At))
		}
	}
	catalogue, err := texts.Load()
	if err != nil {
		return hearing.Situation{}, err
	}
	words := when.WordsOf(catalogue.In("en", example.Country, example.Currency).List)
	return hearing.At(&example, &example.Machines[0], words, shop.DateOf(at)), nil
}

// heard is a line of answers as JSON.
type heard struct {
	IDs   []string       `json:"ids"`
	Slots map[string]any `json:"slots"`
}

// askAll answers as the chat would hear the text, from everything it knows.
func (c *askCmd) askAll(e *env, lib guides.Library, text string) error {
	ear, err := c.earFor(lib)
	if err != nil {
		return err
	}
	sit, err := c.situation()
	if err != nil {
		return err
	}
	if c.Batch {
		return eachLine(e.stdin, e.stdout, func(line string) (string, error) {
			return c.allLine(ear.Understand(line, sit), line)
		})
	}
	d := ear.Understand(text, sit)
	if c.JSON {
		line, err := c.allLine(d, text)
		if err == nil {
			_, err = fmt.Fprintln(e.stdout, line)
		}
		return err
	}
	answer := d.Names()[0]
	if d.Act == hearing.Offer {
		answer = "choose: " + strings.Join(d.Names(), " ")
	}
	_, err = fmt.Fprintln(e.stdout, answer)
	return err
}

// allLine writes a decision as a line of a batch.
func (c *askCmd) allLine(d hearing.Decision, text string) (string, error) {
	if !c.JSON {
		return strings.Join(d.Names(), ",") + "\t" + text, nil
	}
	out := heard{IDs: d.Names(), Slots: map[string]any{}}
	if len(d.Readings) > 0 {
		out.Slots = d.Readings[0].Slots.Said()
	}
	line, err := json.Marshal(out)
	if err != nil {
		return "", fmt.Errorf("write answer: %w", err)
	}
	return string(line), nil
}

// eachLine writes the answer to every line it reads.
func eachLine(in io.Reader, out io.Writer, answer func(string) (string, error)) error {
	w := bufio.NewWriter(out)
	sc := bufio.NewScanner(in)
	sc.Buffer(make([]byte, 0, 64<<10), questionBytesMax)
	lines := 0
	for sc.Scan() {
		lines++
		line, err := answer(sc.Text())
		if err == nil {
			_, err = fmt.Fprintln(w, line)
		}
		if err != nil {
			return errors.Join(fmt.Errorf("answer %d: %w", lines, err), w.Flush())
		}
	}
	if err := w.Flush(); err != nil {
		return fmt.Errorf("write answers: %w", err)
	}
	if err := sc.Err(); err != nil {
		return misuse(fmt.Errorf("question %d: %w", lines+1, err))
	}
	return nil
}

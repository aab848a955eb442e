// Package phrases has what people say when they want something, when something is wrong, when they are
// in danger, and when they only talk: a file for each, a voice and a phrase a line. It is read to learn
// from, never by the program itself.
package phrases

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
)

//go:embed *.txt more/*.txt meant/*.txt wider/*.txt
var files embed.FS

// Phrase is what somebody says, and in whose voice.
type Phrase struct {
	Voice, Text string
	Meant       bool // it teaches what is meant, and the limits of dangers are not chosen by it
	Alarming    bool // it teaches what is a danger and what is none, and not what is meant
}

// Said is what is said for one command, guide or danger, or for none.
type Said struct {
	ID      string // a danger's begins with its prefix
	Guide   bool
	Phrases []Phrase
}

// Folders of phrases that came later. Those of the first teach what is meant: calm phrases outweigh the
// dangers there, so that limits of dangers chosen by them were too high. Those of the second teach what is
// a danger: learnt from for what is meant, too, less chatter was answered, and guides were heard worse.
const (
	meantFolder = "meant"
	widerFolder = "wider"
)

// What the name of a file begins with.
const (
	commandFile = "do-"
	guideFile   = "guide-"
	dangerFile  = "danger-"
)

// Danger is what the name of a danger begins with.
const Danger = "danger:"

// Files of phrases that ask for nothing of their own.
const (
	Chatter = "chatter"
	Near    = "near" // has words of a danger, is none, and asks for something else
	Calm    = "calm" // has words of a danger, is none, and asks for nothing
)

// Read gives all phrases, in the order of the files' names.
func Read() ([]Said, error) {
	var out []Said
	err := each(func(name, src string) error {
		list, err := parse(src)
		if err != nil {
			return fmt.Errorf("%s:%w", name, err)
		}
		s := named(strings.TrimSuffix(path.Base(name), ".txt"))
		for i := range list {
			list[i].Meant, list[i].Alarming = path.Dir(name) == meantFolder, path.Dir(name) == widerFolder
		}
		at := slices.IndexFunc(out, func(o Said) bool { return o.ID == s.ID && o.Guide == s.Guide })
		if at < 0 {
			at, out = len(out), append(out, s)
		}
		out[at].Phrases = append(out[at].Phrases, list...)
		return nil
	})
	return out, err
}

// named is what a file is for, by its name.
func named(file string) Said {
	if id, ok := strings.CutPrefix(file, commandFile); ok {
		return Said{ID: id}
	}
	if id, ok := strings.CutPrefix(file, guideFile); ok {
		return Said{ID: id, Guide: true}
	}
	if id, ok := strings.CutPrefix(file, dangerFile); ok {
		return Said{ID: Danger + id}
	}
	return Said{ID: file}
}

// Digest is that of all files.
func Digest() (string, error) {
	sum := sha256.New()
	err := each(func(name, src string) error {
		fmt.Fprintf(sum, "%s %d\n%s", name, len(src), src)
		return nil
	})
	return hex.EncodeToString(sum.Sum(nil)), err
}

// each gives the files in order, those of a folder behind those beside it.
func each(do func(name, src string) error) error {
	for _, pattern := range []string{"*.txt", "more/*.txt", meantFolder + "/*.txt", widerFolder + "/*.txt"} {
		names, err := fs.Glob(files, pattern)
		if err != nil {
			return fmt.Errorf("list phrases: %w", err)
		}
		for _, name := range names {
			src, err := files.ReadFile(name)
			if err != nil {
				return fmt.Errorf("read phrases: %w", err)
			}
			if err := do(name, string(src)); err != nil {
				return err
			}
		}
	}
	return nil
}

// parse reads lines "voice<tab>phrase".
func parse(src string) ([]Phrase, error) {
	var out []Phrase
	at := 0
	for line := range strings.Lines(src) {
		at++
		line = strings.TrimRight(line, "\n")
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		voice, text, ok := strings.Cut(line, "\t")
		if !ok || voice == "" || strings.TrimSpace(text) == "" {
			return nil, fmt.Errorf("%d: expected voice, tab, phrase, found %q", at, line)
		}
		out = append(out, Phrase{Voice: voice, Text: strings.TrimSpace(text)})
	}
	return out, nil
}

package hearing

import (
	"embed"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"

	"shopfloat/internal/wording"
)

//go:embed phrases/*.txt phrases/more/*.txt
var phraseFiles embed.FS

// phrase is what somebody says, and in whose voice.
type phrase struct{ voice, text string }

// said is what is said for one command or guide, or for none.
type said struct {
	id      string
	guide   bool
	phrases []phrase
}

const (
	commandFile = "do-"     // what a file of phrases for a command begins with
	guideFile   = "guide-"  // for a guide
	dangerFiles = "danger-" // for a danger
	chatterFile = "chatter" // phrases that ask for nothing
)

// phraseNames lists the files of phrases.
func phraseNames(files fs.FS) ([]string, error) {
	var out []string
	for _, folder := range []string{"phrases/*.txt", "phrases/more/*.txt"} {
		names, err := fs.Glob(files, folder)
		if err != nil {
			return nil, fmt.Errorf("list phrases: %w", err)
		}
		out = append(out, names...)
	}
	return out, nil
}

// readPhrases reads the files of phrases for commands and for none, by name.
func readPhrases(files fs.FS) ([]said, error) {
	names, err := phraseNames(files)
	if err != nil {
		return nil, err
	}
	var out []said
	for _, name := range names {
		id := strings.TrimSuffix(path.Base(name), ".txt")
		command, ok := strings.CutPrefix(id, commandFile)
		guide, aboutFault := strings.CutPrefix(id, guideFile)
		danger, _ := strings.CutPrefix(id, dangerFiles)
		src, err := fs.ReadFile(files, name)
		if err != nil {
			return nil, fmt.Errorf("read phrases: %w", err)
		}
		list, err := parsePhrases(string(src))
		if err != nil {
			return nil, fmt.Errorf("%s:%w", name, err)
		}
		if ok {
			id = command
		} else if aboutFault {
			id = guide
		} else if danger != id {
			id = dangerID + danger
		}
		if at := slices.IndexFunc(out, func(s said) bool { return s.id == id && s.guide == aboutFault }); at >= 0 {
			out[at].phrases = append(out[at].phrases, list...)
			continue
		}
		out = append(out, said{id: id, guide: aboutFault, phrases: list})
	}
	return out, nil
}

// parsePhrases reads lines "voice<tab>phrase".
func parsePhrases(src string) ([]phrase, error) {
	var out []phrase
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
		out = append(out, phrase{voice, strings.TrimSpace(text)})
	}
	return out, nil
}

// taughtWords are the words that are taught, as often as they are used: a typing slip is mended to those.
func taughtWords(ideas *wording.Lexicon, all []said) []string {
	words := slices.Collect(maps.Keys(function))
	for _, key := range ideas.Phrases() {
		words = append(words, strings.Fields(key)...)
	}
	for _, s := range all {
		for _, p := range s.phrases {
			words = append(words, wording.Of(p.text)...)
		}
	}
	return words
}

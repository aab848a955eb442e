package hearing

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math"
	"strings"

	"shopfloat/internal/guides/search"
	"shopfloat/internal/learn"
)

//go:generate go run ../teach

// learntFile is what was learnt from the phrases, so that no start has to wait
// for it: a line that says of what, and the model.
//
//go:embed data/learnt.bin
var learntFile []byte

// learntOf says what a model was learnt from, and what its classes stand for.
type learntOf struct {
	Files string   // digest of the phrases and of the ideas
	IDs   []string // by class
	Limits
}

// taught are the phrases to learn from, by class.
type taught struct {
	ids  []string
	rows [][]string
}

// Teach learns from the phrases for commands, from what is said for each guide,
// and from chatter, and gives the file to be kept.
func Teach(topics []search.Topic, find *search.Index) ([]byte, error) {
	all, err := readPhrases(phraseFiles)
	if err != nil {
		return nil, err
	}
	e, err := learnFrom(all, topics, find)
	if err != nil {
		return nil, err
	}
	limits, err := chooseLimits(all, topics, find)
	if err != nil {
		return nil, err
	}
	of, err := digest()
	if err != nil {
		return nil, err
	}
	head, err := json.Marshal(learntOf{Files: of, IDs: e.ids, Limits: limits})
	if err != nil {
		return nil, fmt.Errorf("write what was learnt: %w", err)
	}
	var out bytes.Buffer
	out.Write(append(head, '\n'))
	if err := e.model.Write(&out); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// learnFrom makes an ear that has learnt just now.
func learnFrom(all []said, topics []search.Topic, find *search.Index) (*Ear, error) {
	e, err := untaught(all, find)
	if err != nil {
		return nil, err
	}
	t := teach(all, topics)
	e.ids = t.ids
	e.model = learn.New(e.examples(t), len(t.rows))
	return e, nil
}

func readLearnt(file []byte) (ids []string, l Limits, m learn.Model, err error) {
	head, rest, _ := bytes.Cut(file, []byte("\n"))
	var of learntOf
	if err := json.Unmarshal(head, &of); err != nil {
		return nil, l, m, fmt.Errorf("read what was learnt: %w", err)
	}
	if m, err = learn.Read(rest); err != nil {
		return nil, l, m, fmt.Errorf("read what was learnt: %w", err)
	}
	if m.Classes() != len(of.IDs) {
		return nil, l, m, fmt.Errorf("read what was learnt: %d classes, %d names", m.Classes(), len(of.IDs))
	}
	return of.IDs, of.Limits, m, nil
}

// digest is that of all that the model is learnt from here. What is said for
// guides is not in it: a new phrase there is found by the search for guides.
func digest() (string, error) {
	sum := sha256.New()
	names, err := phraseNames(phraseFiles)
	if err != nil {
		return "", err
	}
	for _, name := range names {
		src, err := phraseFiles.ReadFile(name)
		if err != nil {
			return "", fmt.Errorf("read phrases: %w", err)
		}
		fmt.Fprintf(sum, "%s %d\n", name, len(src))
		sum.Write(src)
	}
	sum.Write([]byte(ideasFile))
	return hex.EncodeToString(sum.Sum(nil)), nil
}

// Phrases that a class has usually, and how far classes of more are evened out,
// from 0, not at all, to 1.
const (
	classUsual = 60
	classEven  = 0.5
)

// examples makes marks of what is taught. Classes of many phrases count less a phrase.
func (e *Ear) examples(t taught) []learn.Example {
	var out []learn.Example
	for c, texts := range t.rows {
		weight := math.Min(1, math.Pow(classUsual/float64(len(texts)), classEven))
		for _, text := range texts {
			words := unpolite(wordsOf(text))
			out = append(out, learn.Example{Marks: e.marks(words), Class: c, Weight: weight})
		}
	}
	return out
}

// teach puts the phrases into classes: each command, each guide, chatter.
func teach(all []said, topics []search.Topic) taught {
	var t taught
	said := map[string][]string{}
	for _, s := range all {
		var texts []string
		for _, p := range s.phrases {
			texts = append(texts, p.text)
		}
		if s.guide || s.id == chatterFile {
			said[s.id] = texts
			continue
		}
		id := s.id
		if !strings.HasPrefix(id, dangerID) {
			id = commandID + id
		}
		t.add(id, texts)
	}
	for _, topic := range topics {
		t.add(topic.ID, append(append([]string(nil), topic.Asked...), said[topic.ID]...))
	}
	t.add(None, append(search.Chatter(), said[chatterFile]...))
	return t
}

func (t *taught) add(id string, texts []string) {
	t.ids, t.rows = append(t.ids, id), append(t.rows, texts)
}

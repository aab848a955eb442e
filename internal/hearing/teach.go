package hearing

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"shopfloat/internal/guides/search"
	"shopfloat/internal/learn"
	"shopfloat/internal/wording"
)

//go:generate go run ../teach

// learntFile is what was learnt from the phrases, so that no start has to wait
// for it: a line that says of what, and the model.
//
//go:embed data/learnt.bin
var learntFile []byte

// learntOf says what a model was learnt from, and what its classes stand for.
type learntOf struct {
	Files string         // digest of the phrases and of the ideas
	Words map[string]int // how often each is used there
	IDs   []string       // by class
	Size  int            // bytes of the model of what is meant; that of dangers comes behind
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
	limits, err := chooseLimits(all, topics)
	if err != nil {
		return nil, err
	}
	of, err := digest()
	if err != nil {
		return nil, err
	}
	var meant, warns bytes.Buffer
	if err := errors.Join(e.model.Write(&meant), e.warns.Write(&warns)); err != nil {
		return nil, err
	}
	words := learn.Uses(taughtWords(e.mk.ideas, all))
	head, err := json.Marshal(learntOf{Files: of, Words: words, IDs: e.ids, Size: meant.Len(), Limits: limits})
	if err != nil {
		return nil, fmt.Errorf("write what was learnt: %w", err)
	}
	return learn.Pack(slices.Concat(head, []byte("\n"), meant.Bytes(), warns.Bytes()))
}

// effort is chosen by leaving voices out: longer and with less shrinking than for the guides alone, since
// there are more classes with fewer phrases each.
var effort = learn.Effort{Rounds: 16, Shrink: 2e-4}

// learnFrom makes an ear that has learnt just now.
func learnFrom(all []said, topics []search.Topic, find *search.Index) (*Ear, error) {
	e, err := untaught(find)
	if err != nil {
		return nil, err
	}
	e.mk.sp = learn.NewSpeller(learn.Uses(taughtWords(e.mk.ideas, all)), learn.English())
	t := teach(all, topics)
	e.ids = t.ids
	e.model = effort.New(e.examples(t), len(t.rows))
	e.warns = effort.New(e.warnings(all, topics), len(dangers))
	return e, nil
}

func (e *Ear) readLearnt(file []byte) error {
	plain, err := learn.Unpack(file)
	if err != nil {
		return err
	}
	head, rest, _ := bytes.Cut(plain, []byte("\n"))
	var of learntOf
	if err := json.Unmarshal(head, &of); err != nil {
		return fmt.Errorf("read what was learnt: %w", err)
	}
	if of.Size < 0 || of.Size > len(rest) {
		return fmt.Errorf("read what was learnt: %d bytes of %d", of.Size, len(rest))
	}
	var also error
	e.model, err = learn.Read(rest[:of.Size])
	e.warns, also = learn.Read(rest[of.Size:])
	if err := errors.Join(err, also); err != nil {
		return fmt.Errorf("read what was learnt: %w", err)
	}
	if e.model.Classes() != len(of.IDs) || e.warns.Classes() != len(dangers) {
		return fmt.Errorf("read what was learnt: %d and %d classes, %d names", e.model.Classes(),
			e.warns.Classes(), len(of.IDs))
	}
	e.ids, e.limits = of.IDs, of.Limits
	e.mk.sp = learn.NewSpeller(of.Words, learn.English())
	return nil
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
	sum.Write([]byte(dangerFile))
	sum.Write([]byte(signsFile))
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
			words := wording.Unpolite(wording.Of(text))
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
		if s.id == nearFile {
			continue
		}
		var texts []string
		for _, p := range s.phrases {
			texts = append(texts, p.text)
		}
		if s.guide || s.id == chatterFile || s.id == calmFile {
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
	t.add(None, slices.Concat(search.Chatter(), said[chatterFile], said[calmFile]))
	return t
}

func (t *taught) add(id string, texts []string) {
	t.ids, t.rows = append(t.ids, id), append(t.rows, texts)
}

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
	"shopfloat/internal/hearing/phrases"
	"shopfloat/internal/learn"
	"shopfloat/internal/wording"
)

//go:generate go run ../teach

// learntFile is what was learnt from the phrases, so that no start has to wait
// for it: a line that says of what, and what was learnt, compressed.
//
//go:embed data/learnt.bin
var learntFile []byte

// learntOf says what a model was learnt from, what its classes stand for, and how many
// bytes its parts have.
type learntOf struct {
	Files string   // digest of the phrases and of the ideas
	IDs   []string // by class
	Words int      // the vocabulary
	Meant int      // the model of what is meant; that of dangers comes behind
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
	all, err := phrases.Read()
	if err != nil {
		return nil, err
	}
	e, v, err := learnFrom(all, topics, find)
	if err != nil {
		return nil, err
	}
	limits, err := chooseLimits(all, topics)
	if err != nil {
		return nil, err
	}
	return e.pack(v, limits)
}

// pack writes what was learnt to a file.
func (e *Ear) pack(v vocabulary, limits Limits) ([]byte, error) {
	files, err := digest()
	if err != nil {
		return nil, err
	}
	var meant, warns bytes.Buffer
	words := v.text()
	err = errors.Join(e.model.Write(&meant), e.warns.Write(&warns))
	head, also := json.Marshal(learntOf{Files: files, IDs: e.ids, Words: len(words), Meant: meant.Len(),
		Limits: limits})
	if err := errors.Join(err, also); err != nil {
		return nil, fmt.Errorf("write what was learnt: %w", err)
	}
	return learn.Pack(slices.Concat(head, []byte("\n"), words, meant.Bytes(), warns.Bytes()))
}

// effort is chosen by leaving voices out: with less shrinking than for the guides alone, since there are
// more classes with fewer phrases each, and with the means of some rounds, since one order or another
// moved each rate by a point or two.
var effort = learn.Effort{Rounds: 12, Shrink: 2e-4, Mean: true}

// learnFrom makes an ear that has learnt just now, and gives the words it knows.
func learnFrom(all []phrases.Said, topics []search.Topic, find *search.Index) (*Ear, vocabulary, error) {
	t := teach(all, topics)
	v, err := vocabularyOf(all, t)
	if err != nil {
		return nil, v, err
	}
	e, err := untaught(v, find)
	if err != nil {
		return nil, v, err
	}
	e.ids = t.ids
	e.model = effort.New(e.examples(t), len(t.rows))
	e.warns = effort.New(e.warnings(all, topics), len(dangers))
	return e, v, nil
}

// remembered makes an ear of what was learnt.
func remembered(file []byte, find *search.Index) (*Ear, error) {
	plain, err := learn.Unpack(file)
	if err != nil {
		return nil, err
	}
	head, rest, _ := bytes.Cut(plain, []byte("\n"))
	var of learntOf
	if err := json.Unmarshal(head, &of); err != nil {
		return nil, err
	}
	if of.Words < 0 || of.Meant < 0 || of.Words > len(rest) || of.Meant > len(rest)-of.Words {
		return nil, fmt.Errorf("%d and %d bytes of %d", of.Words, of.Meant, len(rest))
	}
	v, err := readVocabulary(string(rest[:of.Words]))
	if err != nil {
		return nil, err
	}
	e, err := untaught(v, find)
	if err != nil {
		return nil, err
	}
	var also error
	e.model, err = learn.Read(rest[of.Words : of.Words+of.Meant])
	e.warns, also = learn.Read(rest[of.Words+of.Meant:])
	if err := errors.Join(err, also); err != nil {
		return nil, err
	}
	if e.model.Classes() != len(of.IDs) || e.warns.Classes() != len(dangers) {
		return nil, fmt.Errorf("%d and %d classes, %d names", e.model.Classes(), e.warns.Classes(), len(of.IDs))
	}
	e.ids, e.limits = of.IDs, of.Limits
	return e, nil
}

// digest is that of all that the model is learnt from here. What is said for
// guides is not in it: a new phrase there is found by the search for guides.
func digest() (string, error) {
	said, err := phrases.Digest()
	if err != nil {
		return "", err
	}
	sum := sha256.Sum256([]byte(said + ideasFile + dangerFile + signsFile))
	return hex.EncodeToString(sum[:]), nil
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
func teach(all []phrases.Said, topics []search.Topic) taught {
	var t taught
	said := map[string][]string{}
	for _, s := range all {
		if s.ID == phrases.Near {
			continue
		}
		var texts []string
		for _, p := range s.Phrases {
			if !p.Alarming {
				texts = append(texts, p.Text)
			}
		}
		if s.Guide || s.ID == phrases.Chatter || s.ID == phrases.Calm {
			said[s.ID] = texts
			continue
		}
		id := s.ID
		if !strings.HasPrefix(id, dangerID) {
			id = commandID + id
		}
		t.add(id, texts)
	}
	for _, topic := range topics {
		t.add(topic.ID, append(append([]string(nil), topic.Asked...), said[topic.ID]...))
	}
	t.add(None, slices.Concat(search.Chatter(), said[phrases.Chatter], said[phrases.Calm]))
	return t
}

func (t *taught) add(id string, texts []string) {
	t.ids, t.rows = append(t.ids, id), append(t.rows, texts)
}

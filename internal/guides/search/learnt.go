package search

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"fmt"
	"strings"

	"shopfloat/internal/learn"
)

// learntFile is what was learnt from the guides that the program comes with, so that the first question
// does not wait for it: the digest of what it was learnt from, and the model to the last bit. go generate
// in internal/hearing writes it.
//
//go:embed data/learnt.bin
var learntFile []byte

// Teach learns from topics and gives the file to be kept. The same topics give the same bytes on one
// kind of processor.
func Teach(topics []Topic) ([]byte, error) {
	ix, all, err := untaught(topics)
	if err != nil {
		return nil, err
	}
	ix.learn(all)
	var model bytes.Buffer
	if err := ix.m.WriteExact(&model); err != nil {
		return nil, err
	}
	of := digest(all)
	return append(of[:], model.Bytes()...), nil
}

// remembered gives the model of a file that was learnt from just these topics; false where it is of others,
// which are to be learnt first.
func remembered(file []byte, all []Topic) (learn.Model, bool, error) {
	of := digest(all)
	model, same := bytes.CutPrefix(file, of[:])
	if !same {
		return learn.Model{}, false, nil
	}
	m, err := learn.ReadExact(model)
	if err == nil && m.Classes() != len(all) {
		err = fmt.Errorf("%d classes of %d", m.Classes(), len(all))
	}
	if err != nil {
		return m, false, fmt.Errorf("read what was learnt of guides: %w", err)
	}
	return m, true, nil
}

// digest is that of all a model is learnt from but for the words that the program itself has.
func digest(all []Topic) [sha256.Size]byte {
	h := sha256.New()
	h.Write(conceptsFile)
	for _, t := range all {
		fmt.Fprintf(h, "%q %d\n%s\n", t.ID, len(t.Asked), strings.Join(t.Asked, "\n"))
	}
	return [sha256.Size]byte(h.Sum(nil))
}

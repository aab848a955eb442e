package learn

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
)

// A model as a file: magic, classes, marks; for each mark in the order of their
// hashes the hash, the number of weights, what one step of them is worth, and
// each weight as its class and so many steps. All numbers are little endian.
const magic = "marks 1\n"

// faint weights are left out of a file: they hardly change an answer, and are most.
const faint = 0.12

// steps is how finely the largest weight of a mark is kept.
const steps = math.MaxInt8

// Write writes the model. The same model gives the same bytes.
func (m *Model) Write(to io.Writer) error {
	w := bufio.NewWriter(to)
	put := func(v any) { _ = binary.Write(w, binary.LittleEndian, v) } // bufio keeps the error for Flush
	put([]byte(magic))
	put([]uint32{uint32(m.classes), uint32(len(m.ids))})
	for _, hash := range slices.Sorted(maps.Keys(m.ids)) {
		id := m.ids[hash]
		var kept []uint32
		most := float32(0)
		for i := m.first[id]; i < m.first[id+1]; i++ {
			if v := max(m.weight[i], -m.weight[i]); v > faint {
				kept, most = append(kept, i), max(most, v)
			}
		}
		step := most / steps
		put(hash)
		put(uint8(len(kept)))
		put(step)
		for _, i := range kept {
			put(m.class[i])
			put(int8(math.Round(float64(m.weight[i] / step))))
		}
	}
	if err := w.Flush(); err != nil {
		return fmt.Errorf("write model: %w", err)
	}
	return nil
}

// errModel is what is said of a file that holds no model.
var errModel = errors.New("no model, or a damaged one")

// Read takes a model from what [Model.Write] wrote.
func Read(data []byte) (Model, error) {
	const head = len(magic) + 8
	if len(data) < head || string(data[:len(magic)]) != magic {
		return Model{}, errModel
	}
	classes := binary.LittleEndian.Uint32(data[len(magic):])
	marks := binary.LittleEndian.Uint32(data[len(magic)+4:])
	data = data[head:]
	const perMark = 8 + 1 + 4
	if classes > classMax || uint64(marks)*perMark > uint64(len(data)) {
		return Model{}, errModel
	}
	m := Model{classes: int(classes), ids: make(map[uint64]int32, marks)}
	m.first = make([]uint32, 0, marks+1)
	m.class = make([]uint8, 0, (len(data)-int(marks)*perMark)/2)
	m.weight = make([]float32, 0, cap(m.class))
	for id := range marks {
		if len(data) < perMark || len(data) < perMark+2*int(data[8]) {
			return Model{}, errModel
		}
		n, step := int(data[8]), math.Float32frombits(binary.LittleEndian.Uint32(data[9:]))
		m.ids[binary.LittleEndian.Uint64(data)] = int32(id)
		m.first = append(m.first, uint32(len(m.class)))
		for _, w := range slices.Collect(slices.Chunk(data[perMark:perMark+2*n], 2)) {
			if w[0] >= uint8(classes) {
				return Model{}, errModel
			}
			m.class, m.weight = append(m.class, w[0]), append(m.weight, step*float32(int8(w[1])))
		}
		data = data[perMark+2*n:]
	}
	m.first = append(m.first, uint32(len(m.class)))
	if len(data) > 0 {
		return Model{}, errModel
	}
	return m, nil
}

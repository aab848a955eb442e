package learn

import (
	"encoding/binary"
	"fmt"
	"io"
	"math"
)

// A model to the last bit as a file: magic, classes, marks; the hashes of the marks in their order; the
// weights of each mark, one a class. Numbers are little endian. It is larger than what [Model.Write] writes,
// and answers as the model does.
const magicExact = "marks exact 1\n"

// WriteExact writes the model to the last bit.
func (m *Model) WriteExact(to io.Writer) error {
	out := binary.LittleEndian.AppendUint32([]byte(magicExact), uint32(m.classes))
	out = binary.LittleEndian.AppendUint32(out, uint32(m.ids.n))
	hashes := m.ids.keys()
	for _, hash := range hashes {
		out = binary.LittleEndian.AppendUint32(out, hash)
	}
	row := make([]float32, m.classes)
	for _, hash := range hashes {
		clear(row)
		id, _ := m.ids.row(hash)
		for i := m.first[id]; i < m.first[id+1]; i++ {
			row[m.class[i]] = m.weight[i]
		}
		for _, w := range row {
			out = binary.LittleEndian.AppendUint32(out, math.Float32bits(w))
		}
	}
	if _, err := to.Write(out); err != nil {
		return fmt.Errorf("write model: %w", err)
	}
	return nil
}

// ReadExact takes a model from what [Model.WriteExact] wrote.
func ReadExact(data []byte) (Model, error) {
	const head = len(magicExact) + 8
	if len(data) < head || string(data[:len(magicExact)]) != magicExact {
		return Model{}, errModel
	}
	classes := uint64(binary.LittleEndian.Uint32(data[len(magicExact):]))
	marks := uint64(binary.LittleEndian.Uint32(data[len(magicExact)+4:]))
	data = data[head:]
	if classes > classMax || marks*(1+classes)*4 != uint64(len(data)) {
		return Model{}, errModel
	}
	n := int(marks)
	hashes, weights := data[:4*n], data[4*n:]
	m := Model{classes: int(classes), ids: tableFor(n), first: make([]uint32, 1, n+1)}
	m.class, m.weight = make([]uint8, 0, len(weights)/4), make([]float32, 0, len(weights)/4)
	for id := range n {
		m.ids.put(binary.LittleEndian.Uint32(hashes[4*id:]), int32(id))
		for c := range m.classes {
			w := math.Float32frombits(binary.LittleEndian.Uint32(weights[4*(id*m.classes+c):]))
			if w != 0 {
				m.class, m.weight = append(m.class, uint8(c)), append(m.weight, w)
			}
		}
		m.first = append(m.first, uint32(len(m.class)))
	}
	if m.ids.n != n {
		return Model{}, errModel
	}
	return m, nil
}

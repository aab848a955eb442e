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
// hashes the hash, what one step of its weights is worth, a bit for each class
// that has a weight, and each weight as so many steps, two in a byte. All numbers are
// little endian.
const magic = "marks 3\n"

// faint weights are left out of a file: they hardly change an answer, and are most.
const faint = 0.24

// steps is how finely the largest weight of a mark is kept: with its sign it is half a byte.
const steps = 7

// Write writes the model. The same model gives the same bytes.
func (m *Model) Write(to io.Writer) error {
	w := bufio.NewWriter(to)
	put := func(v any) { _ = binary.Write(w, binary.LittleEndian, v) } // bufio keeps the error for Flush
	put([]byte(magic))
	put([]uint32{uint32(m.classes), uint32(len(m.ids))})
	having := make([]byte, bitsOf(m.classes))
	for _, hash := range slices.Sorted(maps.Keys(m.ids)) {
		id := m.ids[hash]
		most := float32(0)
		for _, v := range m.weight[m.first[id]:m.first[id+1]] {
			most = max(most, v, -v)
		}
		size := sizeOf(most / steps)
		clear(having)
		var halves []byte
		for i := m.first[id]; i < m.first[id+1]; i++ {
			v := max(-steps, min(steps, math.Round(float64(m.weight[i]/stepOf(size)))))
			if max(m.weight[i], -m.weight[i]) > faint && v != 0 {
				having[m.class[i]/8] |= 1 << (m.class[i] % 8)
				halves = append(halves, byte(int8(v)+half))
			}
		}
		put(hash)
		put(size)
		put(having)
		put(paired(halves))
	}
	if err := w.Flush(); err != nil {
		return fmt.Errorf("write model: %w", err)
	}
	return nil
}

// half is what makes a number of steps one without a sign.
const half = 8

// paired puts two halves of a byte into one, the first into its lower bits.
func paired(halves []byte) []byte {
	out := make([]byte, (len(halves)+1)/2)
	for i, h := range halves {
		out[i/2] |= h << (i % 2 * 4)
	}
	return out
}

// A step is a sixteenth of a power of two: size says how many below one.
const stepsInTwo = 16

// sizeOf is the size of the least step that is no less.
func sizeOf(step float32) uint8 {
	if step <= 0 {
		return math.MaxUint8
	}
	return uint8(max(0, min(math.MaxUint8, math.Floor(-stepsInTwo*math.Log2(float64(step))))))
}

func stepOf(size uint8) float32 { return float32(math.Exp2(-float64(size) / stepsInTwo)) }

// errModel is what is said of a file that holds no model.
var errModel = errors.New("no model, or a damaged one")

// bitsOf is how many bytes have a bit for each class.
func bitsOf(classes int) int { return (classes + 7) / 8 }

// Read takes a model from what [Model.Write] wrote.
func Read(data []byte) (Model, error) {
	const head, hash = len(magic) + 8, 4
	if len(data) < head || string(data[:len(magic)]) != magic {
		return Model{}, errModel
	}
	classes := binary.LittleEndian.Uint32(data[len(magic):])
	marks := binary.LittleEndian.Uint32(data[len(magic)+4:])
	data = data[head:]
	if classes > classMax {
		return Model{}, errModel
	}
	perMark := hash + 1 + bitsOf(int(classes))
	if uint64(marks)*uint64(perMark) > uint64(len(data)) {
		return Model{}, errModel
	}
	m := Model{classes: int(classes), ids: make(map[uint32]int32, marks)}
	m.first = make([]uint32, 0, marks+1)
	m.class = make([]uint8, 0, 2*(len(data)-int(marks)*perMark))
	m.weight = make([]float32, 0, cap(m.class))
	for id := range marks {
		if len(data) < perMark {
			return Model{}, errModel
		}
		m.ids[binary.LittleEndian.Uint32(data)] = int32(id)
		m.first = append(m.first, uint32(len(m.class)))
		step, having := stepOf(data[hash]), data[hash+1:perMark]
		data = data[perMark:]
		n := 0
		for class := range 8 * len(having) {
			if having[class/8]>>(class%8)&1 == 0 {
				continue
			}
			if class >= int(classes) || n/2 >= len(data) {
				return Model{}, errModel
			}
			steps := int(data[n/2]>>(n%2*4)&0xf) - half
			m.class, m.weight = append(m.class, uint8(class)), append(m.weight, step*float32(steps))
			n++
		}
		data = data[(n+1)/2:]
	}
	m.first = append(m.first, uint32(len(m.class)))
	if len(data) > 0 {
		return Model{}, errModel
	}
	return m, nil
}

package learn

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"math/bits"
	"slices"
)

// A model as a file: magic, classes, marks; then column by column, which packs better than mark
// by mark: the hashes of the marks in their order, each by how much it is more than the one
// before, the highest bytes of all first; what one step of the weights of each is worth; a bit
// for each class that has a weight; and each weight as so many steps, two in a byte. Other numbers are
// little endian.
const magic = "marks 4\n"

// hashSize is how many bytes a hash has.
const hashSize = 4

// faint weights are left out of a file: they hardly change an answer, and are most.
const faint = 0.24

// steps is how finely the largest weight of a mark is kept: with its sign it is half a byte.
const steps = 7

// Write writes the model. The same model gives the same bytes.
func (m *Model) Write(to io.Writer) error {
	var planes [hashSize][]byte
	var sizes, having, halves []byte
	before := uint32(0)
	for _, hash := range m.ids.keys() {
		for i := range planes {
			planes[i] = append(planes[i], byte((hash-before)>>(8*(hashSize-1-i))))
		}
		before = hash
		id, _ := m.ids.row(hash)
		size, has, steps := m.inSteps(id)
		sizes, having, halves = append(sizes, size), append(having, has...), append(halves, steps...)
	}
	head := binary.LittleEndian.AppendUint32([]byte(magic), uint32(m.classes))
	head = binary.LittleEndian.AppendUint32(head, uint32(m.ids.n))
	_, err := to.Write(slices.Concat(head, slices.Concat(planes[:]...), sizes, having, paired(halves)))
	if err != nil {
		return fmt.Errorf("write model: %w", err)
	}
	return nil
}

// inSteps gives what one step of a mark's weights is worth, which classes have a weight, and
// each of these as steps.
func (m *Model) inSteps(id int32) (size uint8, having, halves []byte) {
	most := float32(0)
	for _, v := range m.weight[m.first[id]:m.first[id+1]] {
		most = max(most, v, -v)
	}
	size, having = sizeOf(most/steps), make([]byte, bitsOf(m.classes))
	for i := m.first[id]; i < m.first[id+1]; i++ {
		v := max(-steps, min(steps, math.Round(float64(m.weight[i]/stepOf(size)))))
		if max(m.weight[i], -m.weight[i]) > faint && v != 0 {
			having[m.class[i]/8] |= 1 << (m.class[i] % 8)
			halves = append(halves, byte(int8(v)+half))
		}
	}
	return size, having, halves
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
	const head = len(magic) + 8
	if len(data) < head || string(data[:len(magic)]) != magic {
		return Model{}, errModel
	}
	classes := binary.LittleEndian.Uint32(data[len(magic):])
	marks := binary.LittleEndian.Uint32(data[len(magic)+4:])
	data = data[head:]
	if classes > classMax || uint64(marks)*uint64(hashSize+1+bitsOf(int(classes))) > uint64(len(data)) {
		return Model{}, errModel
	}
	n, size := int(marks), bitsOf(int(classes))
	m := Model{classes: int(classes), ids: tableFor(n), first: make([]uint32, 0, n+1)}
	planes, sizes := data[:hashSize*n], data[hashSize*n:(hashSize+1)*n]
	having, halves := data[(hashSize+1)*n:(hashSize+1+size)*n], data[(hashSize+1+size)*n:]
	m.class, m.weight = make([]uint8, 0, 2*len(halves)), make([]float32, 0, 2*len(halves))
	hash := uint32(0)
	for id := range n {
		more := uint32(0)
		for i := range hashSize {
			more = more<<8 | uint32(planes[i*n+id])
		}
		hash += more
		m.ids.put(hash, int32(id))
		m.first = append(m.first, uint32(len(m.class)))
		if !m.readMark(having[id*size:(id+1)*size], stepOf(sizes[id]), halves) {
			return Model{}, errModel
		}
	}
	m.first = append(m.first, uint32(len(m.class)))
	if len(halves) != (len(m.class)+1)/2 {
		return Model{}, errModel
	}
	return m, nil
}

// readMark takes in the weights of one mark, which come next of all; false where there are
// fewer, or some of no class.
func (m *Model) readMark(having []byte, step float32, halves []byte) bool {
	for i, has := range having {
		for ; has != 0; has &= has - 1 {
			class, at := 8*i+bits.TrailingZeros8(has), len(m.class)
			if class >= m.classes || at/2 >= len(halves) {
				return false
			}
			steps := int(halves[at/2]>>(at%2*4)&0xf) - half
			m.class, m.weight = append(m.class, uint8(class)), append(m.weight, step*float32(steps))
		}
	}
	return true
}

package dialogs

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
)

// Bounds of a machine, common practice, no source.
const (
	maxBoxes    = 12
	maxCapacity = 10_000
)

// usualCapacity is offered as the notes that fit into a box. Common practice, no source.
const usualCapacity = 2000

func boxesTopic() topic {
	return topic{
		name: "boxes", read: readBoxes, doubt: doubtBoxes, offer: offerBoxes,
		taken: func(c *talk) { c.forget("capacity", "low", "bundle") },
		show:  func(c *talk, v string) string { return kinds(c, facesOf(v)) },
	}
}

// offerBoxes offers three boxes of the middle kinds of note, and two.
func offerBoxes(c *talk) []offer {
	known := cashmath.Denominations(c.chosen("currency"))
	slices.Reverse(known)
	from := slices.IndexFunc(known, func(f cashmath.Face) bool { return f.Cmp("50") <= 0 })
	if from < 0 || len(known)-from < 3 {
		return nil
	}
	var list []offer
	for _, pick := range [][]cashmath.Face{known[from : from+3], known[from+1 : from+3]} {
		list = append(list, offer{clip(kinds(c, pick)), joinFaces(pick)})
	}
	return list
}

func kinds(c *talk, faces []cashmath.Face) string {
	names := make([]string, len(faces))
	for i, f := range faces {
		names[i] = c.v.Kind(f)
	}
	return strings.Join(names, ", ")
}

func joinFaces(faces []cashmath.Face) string {
	parts := make([]string, len(faces))
	for i, f := range faces {
		parts[i] = string(f)
	}
	return strings.Join(parts, " ")
}

// readBoxes takes face values from the top box to the bottom one: "50 20 10".
func readBoxes(c *talk, s string) (value, problem string) {
	var faces []cashmath.Face
	for _, word := range splitWords(s) {
		f, err := cashmath.ParseFace(strings.TrimFunc(word, func(r rune) bool { return !unicode.IsDigit(r) }))
		if err != nil {
			return "", c.v.Say("boxes-unread", "near", word)
		}
		faces = append(faces, f)
	}
	if len(faces) == 0 || len(faces) > maxBoxes {
		return "", c.v.Say("boxes-number", "max", maxBoxes)
	}
	return joinFaces(faces), ""
}

// splitWords splits at blanks, commas and semicolons.
func splitWords(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool { return unicode.IsSpace(r) || r == ',' || r == ';' })
}

// doubtBoxes asks back a face value that is not in circulation as far as is known.
func doubtBoxes(c *talk, value string) string {
	known := cashmath.Denominations(c.chosen("currency"))
	for _, f := range facesOf(value) {
		if len(known) > 0 && !slices.Contains(known, f) {
			return c.v.Say("boxes-doubt", "kind", c.v.Kind(f), "kinds", kinds(c, known))
		}
	}
	return ""
}

func facesOf(value string) []cashmath.Face {
	var faces []cashmath.Face
	for _, word := range strings.Fields(value) {
		faces = append(faces, cashmath.Face(word))
	}
	return faces
}

func numbersOf(value string) []int64 {
	var list []int64
	for _, word := range strings.Fields(value) {
		n, err := strconv.ParseInt(word, 10, 64)
		if err != nil {
			return nil
		}
		list = append(list, n)
	}
	return list
}

func at64(list []int64, i int) int64 {
	if i < len(list) {
		return list[i]
	}
	return 0
}

// same writes one number for each of n boxes.
func same(number int64, n int) string {
	return strings.TrimSpace(strings.Repeat(strconv.FormatInt(number, 10)+" ", n))
}

// readNumbers takes one number for all, or one for each of n.
func readNumbers(s string, n int, fits func(i int, number int64) bool) (string, bool) {
	var list []int64
	for _, word := range strings.Fields(strings.NewReplacer(";", " ", ", ", " ", ",", "").Replace(s)) {
		number, err := strconv.ParseInt(word, 10, 32)
		if err != nil {
			return "", false
		}
		list = append(list, number)
	}
	if len(list) == 1 {
		list = slices.Repeat(list, n)
	}
	if len(list) != n {
		return "", false
	}
	out := make([]string, n)
	for i, number := range list {
		if !fits(i, number) {
			return "", false
		}
		out[i] = strconv.FormatInt(number, 10)
	}
	return strings.Join(out, " "), true
}

func (c *talk) drawn() int { return len(strings.Fields(c.chosen("boxes"))) }

func capacityTopic() topic {
	return topic{
		name: "capacity",
		offer: func(c *talk) []offer {
			return []offer{{c.v.Say("each", "n", c.v.Number(usualCapacity)), same(usualCapacity, c.drawn())}}
		},
		read: func(c *talk, s string) (value, problem string) {
			value, ok := readNumbers(
				s,
				c.drawn(),
				func(_ int, n int64) bool { return n > 0 && n <= maxCapacity },
			)
			if !ok {
				return "", c.v.Say("capacity-unread", "n", c.drawn(), "max", c.v.Number(maxCapacity))
			}
			return value, ""
		},
		taken: func(c *talk) { c.forget("low") },
	}
}

// lowPercent of the capacity is offered as the number at which a box counts as
// nearly empty. Common practice, no source.
const lowPercent = 2

func lowTopic() topic {
	return topic{
		name: "low",
		offer: func(c *talk) []offer {
			var parts []string
			for _, n := range numbersOf(c.chosen("capacity")) {
				parts = append(parts, strconv.FormatInt(max(n*lowPercent/100, 1), 10))
			}
			value := strings.Join(parts, " ")
			return []offer{{clip(strings.Join(slices.Compact(parts), ", ")), value}}
		},
		read: func(c *talk, s string) (value, problem string) {
			capacity := numbersOf(c.chosen("capacity"))
			value, ok := readNumbers(
				s,
				c.drawn(),
				func(i int, n int64) bool { return n >= 0 && n < at64(capacity, i) },
			)
			if !ok {
				return "", c.v.Say("low-unread", "n", c.drawn())
			}
			return value, ""
		},
	}
}

// drawnFaces are the kinds of note in the draft, each once, highest first.
func (c *talk) drawnFaces() []cashmath.Face {
	m := shop.Machine{}
	for _, f := range facesOf(c.chosen("boxes")) {
		m.Boxes = append(m.Boxes, shop.Box{Face: f})
	}
	return m.Faces()
}

func bundleTopic() topic {
	return topic{
		name: "bundle",
		offer: func(c *talk) []offer {
			var parts, labels []string
			for _, f := range c.drawnFaces() {
				n := strconv.FormatInt(cashmath.NotesPerBundle(c.chosen("currency"), f), 10)
				parts, labels = append(parts, n), append(labels, c.v.Kind(f)+": "+n)
			}
			return []offer{{clip(strings.Join(labels, ", ")), strings.Join(parts, " ")}}
		},
		read: func(c *talk, s string) (value, problem string) {
			faces := c.drawnFaces()
			value, ok := readNumbers(
				s,
				len(faces),
				func(_ int, n int64) bool { return n > 0 && n <= maxCapacity },
			)
			if !ok {
				return "", c.v.Say("bundle-unread", "kinds", kinds(c, faces))
			}
			return value, ""
		},
	}
}

// drawnBundles lays down the notes per bundle of the kinds in the draft; other
// kinds keep theirs.
func (c *talk) drawnBundles(was []shop.FaceNotes, faces []cashmath.Face) []shop.FaceNotes {
	list := slices.Clone(was)
	for i, f := range faces {
		n := at64(numbersOf(c.chosen("bundle")), i)
		if j := slices.IndexFunc(list, func(x shop.FaceNotes) bool { return x.Face == f }); j >= 0 {
			list[j].Notes = n
		} else {
			list = append(list, shop.FaceNotes{Face: f, Notes: n})
		}
	}
	return list
}

package setup

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
)

// Bounds of a machine, common practice, no source.
const (
	maxBoxes    = 12
	maxCapacity = 10_000
)

func boxesTopic() ask.Topic {
	return ask.Topic{
		Name: "boxes", Read: readBoxes, Doubt: doubtBoxes, Offer: offerBoxes,
		Taken: func(c *engine.Talk) { c.Forget("capacity", "low", "bundle") },
		Show:  func(c *engine.Talk, v string) string { return kinds(c, facesOf(v)) },
	}
}

// offerBoxes offers three boxes of the middle kinds of note, and two.
func offerBoxes(c *engine.Talk) []ask.Offer {
	known := cashmath.Denominations(c.Chosen("currency"))
	slices.Reverse(known)
	from := slices.IndexFunc(known, func(f cashmath.Face) bool { return f.Cmp("50") <= 0 })
	if from < 0 || len(known)-from < 3 {
		return nil
	}
	var list []ask.Offer
	for _, pick := range [][]cashmath.Face{known[from : from+3], known[from+1 : from+3]} {
		list = append(list, ask.Offer{Label: ask.Clip(kinds(c, pick)), Value: joinFaces(pick)})
	}
	return list
}

func kinds(c *engine.Talk, faces []cashmath.Face) string {
	names := make([]string, len(faces))
	for i, f := range faces {
		names[i] = c.V.Kind(f)
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
func readBoxes(c *engine.Talk, s string) (value, problem string) {
	var faces []cashmath.Face
	for _, word := range splitWords(s) {
		f, err := cashmath.ParseFace(strings.TrimFunc(word, func(r rune) bool { return !unicode.IsDigit(r) }))
		if err != nil {
			return "", c.V.Say("boxes-unread", "near", word)
		}
		faces = append(faces, f)
	}
	if len(faces) == 0 || len(faces) > maxBoxes {
		return "", c.V.Say("boxes-number", "max", maxBoxes)
	}
	return joinFaces(faces), ""
}

// splitWords splits at blanks, commas and semicolons.
func splitWords(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool { return unicode.IsSpace(r) || r == ',' || r == ';' })
}

// doubtBoxes asks back a face value that is not in circulation as far as is known.
func doubtBoxes(c *engine.Talk, value string) string {
	known := cashmath.Denominations(c.Chosen("currency"))
	for _, f := range facesOf(value) {
		if len(known) > 0 && !slices.Contains(known, f) {
			return c.V.Say("boxes-doubt", "kind", c.V.Kind(f), "kinds", kinds(c, known))
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

func drawn(c *engine.Talk) int { return len(strings.Fields(c.Chosen("boxes"))) }

func capacityTopic() ask.Topic {
	return ask.Topic{
		Name: "capacity",
		Offer: func(c *engine.Talk) []ask.Offer {
			return []ask.Offer{
				{Label: c.V.Say("each", "n", c.V.Number(ask.UsualCapacity)), Value: same(ask.UsualCapacity, drawn(c))}}
		},
		Read: func(c *engine.Talk, s string) (value, problem string) {
			value, ok := readNumbers(s, drawn(c), func(_ int, n int64) bool { return n > 0 && n <= maxCapacity })
			if !ok {
				return "", c.V.Say("capacity-unread", "n", drawn(c), "max", c.V.Number(maxCapacity))
			}
			return value, ""
		},
		Taken: func(c *engine.Talk) { c.Forget("low") },
	}
}

// lowPercent of the capacity is offered as the number at which a box counts as
// nearly empty. Common practice, no source.
const lowPercent = 2

func lowTopic() ask.Topic {
	return ask.Topic{
		Name: "low",
		Offer: func(c *engine.Talk) []ask.Offer {
			var parts []string
			for _, n := range numbersOf(c.Chosen("capacity")) {
				parts = append(parts, strconv.FormatInt(max(n*lowPercent/100, 1), 10))
			}
			value := strings.Join(parts, " ")
			return []ask.Offer{{Label: ask.Clip(strings.Join(slices.Compact(parts), ", ")), Value: value}}
		},
		Read: func(c *engine.Talk, s string) (value, problem string) {
			capacity := numbersOf(c.Chosen("capacity"))
			value, ok := readNumbers(s, drawn(c), func(i int, n int64) bool { return n >= 0 && n < at64(capacity, i) })
			if !ok {
				return "", c.V.Say("low-unread", "n", drawn(c))
			}
			return value, ""
		},
	}
}

// drawnFaces are the kinds of note in the draft, each once, highest first.
func drawnFaces(c *engine.Talk) []cashmath.Face {
	m := shop.Machine{}
	for _, f := range facesOf(c.Chosen("boxes")) {
		m.Boxes = append(m.Boxes, shop.Box{Face: f})
	}
	return m.Faces()
}

func bundleTopic() ask.Topic {
	return ask.Topic{
		Name: "bundle",
		Offer: func(c *engine.Talk) []ask.Offer {
			var parts, labels []string
			for _, f := range drawnFaces(c) {
				n := strconv.FormatInt(cashmath.NotesPerBundle(c.Chosen("currency"), f), 10)
				parts, labels = append(parts, n), append(labels, c.V.Kind(f)+": "+n)
			}
			return []ask.Offer{{Label: ask.Clip(strings.Join(labels, ", ")), Value: strings.Join(parts, " ")}}
		},
		Read: func(c *engine.Talk, s string) (value, problem string) {
			faces := drawnFaces(c)
			value, ok := readNumbers(s, len(faces), func(_ int, n int64) bool { return n > 0 && n <= maxCapacity })
			if !ok {
				return "", c.V.Say("bundle-unread", "kinds", kinds(c, faces))
			}
			return value, ""
		},
	}
}

// drawnBundles lays down the notes per bundle of the kinds in the draft; other
// kinds keep theirs.
func drawnBundles(c *engine.Talk, was []shop.FaceNotes, faces []cashmath.Face) []shop.FaceNotes {
	list := slices.Clone(was)
	for i, f := range faces {
		n := at64(numbersOf(c.Chosen("bundle")), i)
		if j := slices.IndexFunc(list, func(x shop.FaceNotes) bool { return x.Face == f }); j >= 0 {
			list[j].Notes = n
		} else {
			list = append(list, shop.FaceNotes{Face: f, Notes: n})
		}
	}
	return list
}

package setup

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/lines"
	"shopfloat/internal/shop"
)

// Bounds of a machine, common practice, no source.
const (
	maxBoxes    = 12
	maxCapacity = 10_000
)

func boxesTopic() topic[[]cashmath.Face] {
	return topic[[]cashmath.Face]{
		Name: "boxes", In: func(d *shopDraft) **[]cashmath.Face { return &d.Boxes },
		Read: readBoxes, Doubt: doubtBoxes, Offer: offerBoxes, Show: kinds,
		Taken: func(c *engine.Talk) { draft(c).Capacity, draft(c).Low, draft(c).Bundle = nil, nil, nil },
	}
}

// offerBoxes offers three boxes of the middle kinds of note, and two.
func offerBoxes(c *engine.Talk) (list []ask.Offer[[]cashmath.Face]) {
	known := cashmath.Denominations(said(draft(c).Currency))
	slices.Reverse(known)
	from := slices.IndexFunc(known, func(f cashmath.Face) bool { return f.Cmp("50") <= 0 })
	if from < 0 || len(known)-from < 3 {
		return nil
	}
	for _, pick := range [][]cashmath.Face{known[from : from+3], known[from+1 : from+3]} {
		list = append(list, ask.Offer[[]cashmath.Face]{Label: ask.Clip(kinds(c, pick)), Value: pick})
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

// readBoxes takes face values from the top box to the bottom one: "50 20 10".
func readBoxes(c *engine.Talk, s string) (faces []cashmath.Face, problem string) {
	parted := func(r rune) bool { return unicode.IsSpace(r) || r == ',' || r == ';' }
	for _, word := range strings.FieldsFunc(s, parted) {
		f, err := cashmath.ParseFace(strings.TrimFunc(word, func(r rune) bool { return !unicode.IsDigit(r) }))
		if err != nil {
			return nil, c.V.Say("boxes-unread", "near", word)
		}
		faces = append(faces, f)
	}
	if len(faces) == 0 || len(faces) > maxBoxes {
		return nil, c.V.Say("boxes-number", "max", maxBoxes)
	}
	return faces, ""
}

// doubtBoxes asks back a face value that is not in circulation as far as is known.
func doubtBoxes(c *engine.Talk, faces []cashmath.Face) string {
	known := cashmath.Denominations(said(draft(c).Currency))
	for _, f := range faces {
		if len(known) > 0 && !slices.Contains(known, f) {
			return c.V.Say("boxes-doubt", "kind", c.V.Kind(f), "kinds", kinds(c, known))
		}
	}
	return ""
}

// readNumbers takes one number for all, or one for each of n.
func readNumbers(s string, n int, fits func(i int, number int64) bool) (list []int64, ok bool) {
	for _, word := range strings.Fields(strings.NewReplacer(";", " ", ", ", " ", ",", "").Replace(s)) {
		number, err := strconv.ParseInt(word, 10, 32)
		if err != nil {
			return nil, false
		}
		list = append(list, number)
	}
	if len(list) == 1 {
		list = slices.Repeat(list, n)
	}
	for i, number := range list {
		if len(list) != n || !fits(i, number) {
			return nil, false
		}
	}
	return list, len(list) == n
}

func asRoom(_ int, n int64) bool { return n > 0 && n <= maxCapacity }

// row shows a number for each of several things.
func row(_ *engine.Talk, list []int64) string { return strings.Trim(fmt.Sprint(list), "[]") }

func capacityTopic() topic[[]int64] {
	return topic[[]int64]{
		Name: "capacity", In: func(d *shopDraft) **[]int64 { return &d.Capacity }, Show: row,
		Offer: func(c *engine.Talk) []ask.Offer[[]int64] {
			return []ask.Offer[[]int64]{{Label: c.V.Say("each", "n", c.V.Number(lines.UsualCapacity)),
				Value: slices.Repeat([]int64{lines.UsualCapacity}, len(said(draft(c).Boxes)))}}
		},
		Read: func(c *engine.Talk, s string) (value []int64, problem string) {
			boxes := len(said(draft(c).Boxes))
			value, ok := readNumbers(s, boxes, asRoom)
			if !ok {
				problem = c.V.Say("capacity-unread", "n", boxes, "max", c.V.Number(maxCapacity))
			}
			return value, problem
		},
		Taken: func(c *engine.Talk) { draft(c).Low = nil },
	}
}

// lowPercent of the capacity is offered as the number at which a box counts as
// nearly empty. Common practice, no source.
const lowPercent = 2

func lowTopic() topic[[]int64] {
	return topic[[]int64]{
		Name: "low", In: func(d *shopDraft) **[]int64 { return &d.Low }, Show: row,
		Offer: func(c *engine.Talk) []ask.Offer[[]int64] {
			var low []int64
			for _, n := range said(draft(c).Capacity) {
				low = append(low, max(n*lowPercent/100, 1))
			}
			label := strings.ReplaceAll(row(c, slices.Compact(slices.Clone(low))), " ", ", ")
			return []ask.Offer[[]int64]{{Label: ask.Clip(label), Value: low}}
		},
		Read: func(c *engine.Talk, s string) (value []int64, problem string) {
			boxes, capacity := len(said(draft(c).Boxes)), said(draft(c).Capacity)
			value, ok := readNumbers(s, boxes, func(i int, n int64) bool { return n >= 0 && n < at(capacity, i) })
			if !ok {
				problem = c.V.Say("low-unread", "n", boxes)
			}
			return value, problem
		},
	}
}

// at gives one of several numbers; 0 where there is none.
func at(list []int64, i int) int64 {
	if i < len(list) {
		return list[i]
	}
	return 0
}

func bundleTopic() topic[[]int64] {
	return topic[[]int64]{
		Name: "bundle", In: func(d *shopDraft) **[]int64 { return &d.Bundle }, Show: row,
		Offer: func(c *engine.Talk) []ask.Offer[[]int64] {
			var bundle []int64
			var labels []string
			for _, f := range drawnFaces(draft(c)) {
				n := cashmath.NotesPerBundle(said(draft(c).Currency), f)
				bundle, labels = append(bundle, n), append(labels, fmt.Sprintf("%s: %d", c.V.Kind(f), n))
			}
			return []ask.Offer[[]int64]{{Label: ask.Clip(strings.Join(labels, ", ")), Value: bundle}}
		},
		Read: func(c *engine.Talk, s string) (value []int64, problem string) {
			faces := drawnFaces(draft(c))
			value, ok := readNumbers(s, len(faces), asRoom)
			if !ok {
				problem = c.V.Say("bundle-unread", "kinds", kinds(c, faces))
			}
			return value, problem
		},
	}
}

// drawnFaces are the kinds of note in the draft, each once, highest first.
func drawnFaces(d *shopDraft) []cashmath.Face {
	m := shop.Machine{Boxes: drawnBoxes(d, &shop.Machine{})}
	return m.Faces()
}

// drawnBoxes are the note boxes of the draft; what a box that stays as it is
// usually holds is kept.
func drawnBoxes(d *shopDraft, was *shop.Machine) []shop.Box {
	boxes := make([]shop.Box, len(said(d.Boxes)))
	for i, f := range said(d.Boxes) {
		boxes[i] = shop.Box{Position: i + 1, Face: f, Capacity: at(said(d.Capacity), i), Low: at(said(d.Low), i)}
		if i < len(was.Boxes) && was.Boxes[i].Face == f {
			boxes[i].Usual = was.Boxes[i].Usual
		}
	}
	return boxes
}

// drawnBundles lays down the notes per bundle of the kinds in the draft; other
// kinds keep theirs.
func drawnBundles(d *shopDraft, was []shop.FaceNotes, faces []cashmath.Face) []shop.FaceNotes {
	list := slices.Clone(was)
	for i, f := range faces {
		n := at(said(d.Bundle), i)
		if j := slices.IndexFunc(list, func(x shop.FaceNotes) bool { return x.Face == f }); j >= 0 {
			list[j].Notes = n
		} else {
			list = append(list, shop.FaceNotes{Face: f, Notes: n})
		}
	}
	return list
}

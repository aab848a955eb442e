package setup

import (
	"fmt"
	"slices"
	"strings"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/founding"
	"shopfloat/internal/lines"
)

func boxesTopic() topic[[]cashmath.Face] {
	return topic[[]cashmath.Face]{
		Name: "boxes", In: func(d *shopDraft) **[]cashmath.Face { return &d.Boxes },
		Read: told(founding.Boxes), Doubt: doubtBoxes, Offer: offerBoxes, Show: shown(founding.Kinds),
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
		label := ask.Clip(founding.Kinds(c.Teller, pick))
		list = append(list, ask.Offer[[]cashmath.Face]{Label: label, Value: pick})
	}
	return list
}

// doubtBoxes asks back a face value that is not in circulation as far as is known.
func doubtBoxes(c *engine.Talk, faces []cashmath.Face) string {
	known := cashmath.Denominations(said(draft(c).Currency))
	for _, f := range faces {
		if len(known) > 0 && !slices.Contains(known, f) {
			return c.V.Say("boxes-doubt", "kind", c.V.Kind(f), "kinds", founding.Kinds(c.Teller, known))
		}
	}
	return ""
}

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
			value, ok := founding.Numbers(s, boxes, founding.AsRoom)
			if !ok {
				problem = c.V.Say("capacity-unread", "n", boxes, "max", c.V.Number(founding.MaxCapacity))
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
			less := func(i int, n int64) bool { return n >= 0 && n < founding.At(capacity, i) }
			value, ok := founding.Numbers(s, boxes, less)
			if !ok {
				problem = c.V.Say("low-unread", "n", boxes)
			}
			return value, problem
		},
	}
}

func bundleTopic() topic[[]int64] {
	return topic[[]int64]{
		Name: "bundle", In: func(d *shopDraft) **[]int64 { return &d.Bundle }, Show: row,
		Offer: func(c *engine.Talk) []ask.Offer[[]int64] {
			var bundle []int64
			var labels []string
			for _, f := range draft(c).Faces() {
				n := cashmath.NotesPerBundle(said(draft(c).Currency), f)
				bundle, labels = append(bundle, n), append(labels, fmt.Sprintf("%s: %d", c.V.Kind(f), n))
			}
			return []ask.Offer[[]int64]{{Label: ask.Clip(strings.Join(labels, ", ")), Value: bundle}}
		},
		Read: func(c *engine.Talk, s string) (value []int64, problem string) {
			faces := draft(c).Faces()
			value, ok := founding.Numbers(s, len(faces), founding.AsRoom)
			if !ok {
				problem = c.V.Say("bundle-unread", "kinds", founding.Kinds(c.Teller, faces))
			}
			return value, problem
		},
	}
}

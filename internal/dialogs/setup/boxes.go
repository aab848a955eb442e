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
		Name: "boxes", On: "machine", In: func(d *shopDraft) **[]cashmath.Face { return &d.Boxes },
		Read: read((*shopDraft).ReadBoxes), Doubt: doubt((*shopDraft).DoubtBoxes), Show: shown(founding.Kinds),
		Taken: func(c *engine.Talk) { draft(c).Capacity, draft(c).Low, draft(c).Bundle = nil, nil, nil },
		Offer: func(c *engine.Talk) (list []ask.Offer[[]cashmath.Face]) {
			for _, kinds := range draft(c).OfferedBoxes() {
				label := ask.Clip(founding.Kinds(c.Teller, kinds))
				list = append(list, ask.Offer[[]cashmath.Face]{Label: label, Value: kinds})
			}
			return list
		},
	}
}

// row shows a number for each of several things.
func row(_ *engine.Talk, list []int64) string { return strings.Trim(fmt.Sprint(list), "[]") }

func capacityTopic() topic[[]int64] {
	return topic[[]int64]{
		Name: "capacity", On: "machine", In: func(d *shopDraft) **[]int64 { return &d.Capacity }, Show: row,
		Offer: func(c *engine.Talk) []ask.Offer[[]int64] {
			return []ask.Offer[[]int64]{{Label: c.V.Say("each", "n", c.V.Number(lines.UsualCapacity)),
				Value: slices.Repeat([]int64{lines.UsualCapacity}, len(said(draft(c).Boxes)))}}
		},
		Read:  read((*shopDraft).ReadCapacity),
		Taken: func(c *engine.Talk) { draft(c).Low = nil },
	}
}

func lowTopic() topic[[]int64] {
	return topic[[]int64]{
		Name: "low", On: "machine", In: func(d *shopDraft) **[]int64 { return &d.Low }, Show: row,
		Offer: func(c *engine.Talk) []ask.Offer[[]int64] {
			low := draft(c).OfferedLow()
			label := strings.ReplaceAll(row(c, slices.Compact(slices.Clone(low))), " ", ", ")
			return []ask.Offer[[]int64]{{Label: ask.Clip(label), Value: low}}
		},
		Read: read((*shopDraft).ReadLow),
	}
}

func bundleTopic() topic[[]int64] {
	return topic[[]int64]{
		Name: "bundle", On: "machine", In: func(d *shopDraft) **[]int64 { return &d.Bundle }, Show: row,
		Offer: func(c *engine.Talk) []ask.Offer[[]int64] {
			var bundle []int64
			var labels []string
			for _, f := range draft(c).Faces() {
				n := cashmath.NotesPerBundle(said(draft(c).Currency), f)
				bundle, labels = append(bundle, n), append(labels, fmt.Sprintf("%s: %d", c.V.Kind(f), n))
			}
			label := strings.Join(labels, ", ")
			if label != ask.Clip(label) {
				label = ask.Clip(strings.ReplaceAll(row(c, bundle), " ", ", "))
			}
			return []ask.Offer[[]int64]{{Label: label, Value: bundle}}
		},
		Read: read((*shopDraft).ReadBundle),
	}
}

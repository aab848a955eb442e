package recall

import (
	"regexp"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
)

// titles are the names of dialogs in the first lines of their cards.
var titles = []struct{ flow, id string }{
	{engine.DoOpen, "title.opening"}, {engine.DoTopUp, "title.topup"}, {engine.DoSwap, "title.swap"},
	{engine.DoMove, "title.move"}, {engine.DoTest, "title.test"}, {engine.DoFound, "title.found"},
	{engine.DoSpot, "title.spot"}, {engine.DoSettle, "title.settle"}, {engine.DoClose, "title.closing"},
}

// counted are the words under which a card lists what somebody counted, and nothing else.
var counted = []string{"review.topup", "review.count"}

// atOnce is how long ago a card may be that is still about now.
const atOnce = 15 * time.Minute

// titled reads in the first line of a card which dialog it is of.
func (k *talk) titled(card *chat.Card) (flow string, ok bool) {
	first, _, _ := strings.Cut(card.Text, "\n")
	for _, t := range titles {
		before, after, _ := strings.Cut(k.v.Say("title-of", "what", k.v.Say(t.id), "day", hole), hole)
		if strings.HasPrefix(first, before) && strings.HasSuffix(first, after) {
			return t.flow, true
		}
	}
	return "", false
}

// open reads a card that asks, of something that was not recorded yet.
func (k *talk) open(card *chat.Card) (had Had, ok bool) {
	flow, ok := k.titled(card)
	return Had{Flow: flow, Said: card.Text, At: card.At.UTC().Truncate(time.Minute),
		Open: k.in.At.Sub(card.At) < atOnce, Notes: k.rows(card.Text)}, ok
}

// rows reads the notes of each box out of a card that lists them, and gives them in the
// order of the boxes. What is not listed so is asked for.
func (k *talk) rows(text string) string {
	listed := false
	for _, id := range counted {
		listed = listed || strings.Contains(text, k.v.Say(id))
	}
	boxes := k.boxes()
	if !listed || len(boxes) == 0 {
		return ""
	}
	list, any := make([]string, len(boxes)), false
	for i, b := range boxes {
		re, err := regexp.Compile(`(?m)^\S.*\s` + regexp.QuoteMeta(k.v.Kind(b.Face)) + `\s+(\d\S*) `)
		if err != nil {
			return ""
		}
		found := re.FindAllStringSubmatch(text, -1)
		if list[i] = "0"; len(found) == 0 {
			continue
		}
		if len(found) > 1 {
			return ""
		}
		digits := strings.Map(func(r rune) rune {
			if r >= '0' && r <= '9' {
				return r
			}
			return -1
		}, found[0][1])
		list[i], any = digits, true
	}
	if !any {
		return ""
	}
	return strings.Join(list, " ")
}

// boxes are those of the machine that the chat is about.
func (k *talk) boxes() []shop.Box {
	if m := k.facts.Shop.Machine(k.facts.Machine.ID); m != nil {
		return m.Boxes
	}
	return nil
}

// code is what a button keeps of a card: 64 bytes hold no more.
func (h Had) code() string {
	minutes := int64(0)
	if !h.Open {
		minutes = h.At.Unix() / 60
	}
	return h.Flow + "." + strconv.FormatInt(minutes, 36) + "." + strings.ReplaceAll(h.Notes, " ", "-")
}

// decode reads it back, and takes nothing else.
func decode(code string) (h Had, ok bool) {
	parts := strings.Split(code, ".")
	if len(parts) != 3 || kinds[parts[0]] == nil {
		return h, false
	}
	minutes, err := strconv.ParseInt(parts[1], 36, 64)
	if err != nil || minutes < 0 || strings.Trim(parts[2], "0123456789-") != "" {
		return h, false
	}
	h = Had{Flow: parts[0], Open: minutes == 0, Notes: strings.ReplaceAll(parts[2], "-", " ")}
	h.At = time.Unix(minutes*60, 0).UTC()
	return h, true
}

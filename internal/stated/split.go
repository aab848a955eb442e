package stated

import (
	"cmp"
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dues"
	"shopfloat/internal/matching"
	"shopfloat/internal/settling"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// splitDays bounds the days that a line may be shared out over.
const splitDays = 24

// OpenDays lists the days of the machines of a statement that a line could be for in part,
// the newest first; those it has a part for already are left out.
func OpenDays(t *telling.Teller, r *settling.Reading, o *settling.Offer, parts []settling.Part) (
	list []settling.Part) {
	if t.F.Ask.Sites == nil {
		return nil
	}
	for _, s := range t.F.Ask.Sites() {
		if s.Machine == nil || s.Ask.Claims == nil || !access.Keeping.Has(s.Person.Role) || s.Shared ||
			s.Shop.Currency != cmp.Or(o.Currency, s.Shop.Currency) {
			continue
		}
		if _, tied := r.At[s.Machine.ID]; !tied {
			continue
		}
		for _, c := range s.Ask.Claims(dues.Wanted{Is: dues.Still, To: o.Line.Day, Order: dues.Newest,
			Limit: splitDays + len(parts)}) {
			p := settling.Part{As: matching.Pays, Shop: s.Shop.ID, Machine: s.Machine.ID, Seq: c.Seq, Day: c.Day,
				Value: c.Left()}
			had := func(x settling.Part) bool { return x.Machine == p.Machine && x.Seq == p.Seq }
			if p.Value.IsPositive() && c.Day != "" && c.Day <= o.Line.Day && !slices.ContainsFunc(parts, had) {
				list = append(list, p)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b settling.Part) int { return cmp.Compare(b.Day, a.Day) })
	return list[:min(len(list), splitDays)]
}

// OpenDay names such a day with what is due for it.
func OpenDay(t *telling.Teller, p settling.Part, shops []*shop.Shop) string {
	return partDay(t, p, shops) + ", " + in(t, p.Value, shops, p.Shop)
}

// PartMoney writes an amount in the money of a part's shop.
func PartMoney(t *telling.Teller, d decimal.Decimal, p settling.Part) string {
	return in(t, d, Kept(t), p.Shop)
}

// Split tells how far a line is shared out.
func Split(t *telling.Teller, o *settling.Offer, parts []settling.Part, shops []*shop.Shop) []chat.Block {
	w := settling.Way{Why: settling.ByHand, Parts: parts}
	if len(parts) == 0 {
		w.Parts = o.Ways[0].Parts[:1]
	}
	body := []chat.Block{chat.Lines(lineHead(t, o, &w, shops))}
	if len(parts) > 0 {
		body = Way(t, o, &w, shops)
	}
	rest := in(t, o.Rest(parts), shops, w.Parts[0].Shop)
	return append(body, chat.Lines(t.V.Say("statement.split", "money", rest)))
}

// Share asks how much of a line is for a day.
func Share(t *telling.Teller, o *settling.Offer, parts []settling.Part, p settling.Part,
	shops []*shop.Shop) string {
	return t.V.Say("statement.share", "day", partDay(t, p, shops), "due", in(t, p.Value, shops, p.Shop),
		"rest", in(t, o.Rest(parts), shops, p.Shop))
}

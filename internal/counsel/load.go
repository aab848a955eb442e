package counsel

import (
	"errors"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"shopfloat/internal/advice"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/dues"
	"shopfloat/internal/lines"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// Learn gives what the machine's ledger tells about demand; nothing where it is not at hand.
func Learn(t *telling.Teller) (*advice.Past, error) {
	if t.F.Ask.Learned == nil {
		return advice.Learn(t.F.Shop, t.Kit.ID, t.Ledger())
	}
	s, err := t.F.Ask.Learned()
	if err != nil {
		return nil, err
	}
	return s.Past(t.F.Shop)
}

// Outlook forecasts from a date on.
func Outlook(t *telling.Teller, date shop.Date) (*advice.Outlook, error) {
	past, err := Learn(t)
	if err != nil {
		return nil, err
	}
	return advice.NewOutlook(t.F.Shop, t.Kit, past, date)
}

// Lasting says whether the shop's own notes last until the bank pays, from what is owed. Claims
// due beyond what the plan looks at are in none, those due before it are read as sums.
func Lasting(t *telling.Teller, own, takings map[cashmath.Face]int64) (plan advice.Plan, err error) {
	from := LoadDate(t)
	o, err := Outlook(t, from)
	if err != nil {
		return plan, err
	}
	near := dues.Wanted{Is: dues.Still, Due: [2]shop.Date{from, from.Add(2 * advice.SightDays)}}
	if plan, err = o.Cash(own, takings, t.Claims(near)); err != nil {
		return plan, err
	}
	plan.Late = t.DueBefore(from).Sum
	plan.Undated = t.Owed("").Sum.Sub(t.DueBefore("9999-12-31").Sum)
	return plan, nil
}

// LoadDate is the day the next load is for: today, unless that one is in already.
func LoadDate(t *telling.Teller) shop.Date {
	date := reminders.DayOf(t.F.Shop, t.Now)
	for _, p := range t.M.Periods {
		if t.DayOf(p) >= date && !p.Paper {
			date = reminders.After(t.F.Shop, t.DayOf(p))
		}
	}
	return date
}

// ForOpening is the advice for the day an opening now is for; ok is false where there is none,
// and while the machine is not to be loaded.
func ForOpening(t *telling.Teller) (a advice.Advice, ok bool) {
	if t.F.Shop.Plan.Hold != nil {
		return a, false
	}
	date := LoadDate(t)
	o, err := Outlook(t, date)
	if err != nil {
		return a, false
	}
	a, err = o.For(advice.Until(t.F.Shop, date), nil)
	return a, err == nil
}

// daysMost is how many days a load may be for.
const daysMost = 30

// LoadDays reads days to load for: until friday, tomorrow, 3 days, fri to sun.
func LoadDays(t *telling.Teller, s string) (from, to shop.Date, ok bool) {
	next := LoadDate(t)
	if words := strings.Fields(s); len(words) >= 2 && t.IsWord("load-days", words[len(words)-1]) {
		n, err := strconv.Atoi(words[len(words)-2])
		return next, next.Add(n - 1), err == nil && n >= 1 && n <= daysMost
	}
	from, to, rest := telling.Days(t, s)
	_, err := shop.ParseDate(s)
	if figures := !strings.ContainsFunc(s, unicode.IsLetter); rest != "" || figures && err != nil {
		return from, to, false // 10/5 and 20.10 are notes here
	}
	return max(from, next), max(to, next), true
}

// BareCounts reports whether a text is figures only, which may have been meant
// as an opening.
func BareCounts(s string) bool {
	return strings.Trim(s, "0123456789 ,/+x") == "" && strings.ContainsAny(s, "0123456789")
}

// None says why there is no advice.
func None(t *telling.Teller, err error) []chat.Block {
	why := texts.Either(errors.Is(err, advice.ErrDays), "load.none-days", "load.none-other")
	return []chat.Block{chat.Lines(t.V.Say("load.none"), t.V.Say(why))}
}

// Nothing reports whether an advice is none: no day is known, and nothing is laid down as usual.
func Nothing(a advice.Advice) bool {
	some := func(l advice.Line) bool { return l.Notes > 0 }
	return a.KnownDays == 0 && !slices.ContainsFunc(a.Lines, some)
}

// Advised is an advice as a card: the days, a table, and what it rests on. Hand is what
// somebody has to load with; nil: they did not say.
func Advised(t *telling.Teller, a advice.Advice, kinds []lines.Line, hand books.Notes) []chat.Block {
	v := make([]int64, len(a.Lines))
	for i, l := range a.Lines {
		v[i] = l.Notes
	}
	table, _ := telling.CountTable(t, kinds, v)
	said := AdviceHolds(t, a)
	if hand != nil {
		said = append(said, t.V.Say("load.hand", "counts", t.Notes(hand)))
	}
	return []chat.Block{{Text: texts.Upper(t.V.Say("load.for", "days", t.Between(a.From, a.To)))}, table,
		chat.Lines(append(said, AdviceCuts(t, a)...)...)}
}

// Takings are what moves between tills and safe say the tills bring, in the order of the
// lines, and as notes, as far as it is anything.
func Takings(t *telling.Teller, kinds []lines.Line) (v []int64, some books.Notes) {
	v, some = make([]int64, len(kinds)), books.Notes{}
	past, err := Learn(t)
	if err != nil {
		return v, some
	}
	for i, l := range kinds {
		if v[i] = past.Takings[l.Face]; v[i] > 0 {
			some[l.Face] = v[i]
		}
	}
	return v, some
}

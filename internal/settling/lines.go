package settling

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/matching"
	"shopfloat/internal/shop"
)

// lines are payments that were booked from lines of statements. One line may have
// been split between machines.
type lines struct {
	list  []booked
	index map[matching.Key]int // by all but the running number
}

type booked struct {
	matching.Booked
	value, sum decimal.Decimal
}

func keyOf(l *shop.Line) matching.Key {
	return matching.Key{Ref: l.Ref, Day: l.Day, Digest: l.Digest}
}

func (l *lines) add(p books.Payment, b matching.Booked) {
	key := keyOf(p.Line)
	i, ok := l.index[key]
	if !ok {
		if l.index == nil {
			l.index = map[matching.Key]int{}
		}
		i, l.index[key] = len(l.list), len(l.list)
		l.list = append(l.list, booked{Booked: b, value: p.Line.Value, sum: b.Amount})
		l.list[i].Key, l.list[i].Day, l.list[i].Amount = key, p.Line.Day, p.Line.Value
		return
	}
	l.list[i].sum = l.list[i].sum.Add(b.Amount)
	l.list[i].Claims = append(l.list[i].Claims, b.Claims...)
}

// booked lists the lines: of those that cannot be told apart as many as their
// payments come to. What was booked of one in part counts as all of it, so that
// nothing is booked twice.
func (l *lines) booked() (all []matching.Booked) {
	for _, b := range l.list {
		n := int64(1)
		if !b.value.IsZero() {
			n = max(1, b.sum.Div(b.value).Ceil().IntPart())
		}
		for range n {
			all = append(all, b.Booked)
		}
	}
	return all
}

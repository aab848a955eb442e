package dues

import (
	"cmp"
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// Wanted says which of a machine's claims are asked for: those that are all of what is named.
// Nothing named: all.
type Wanted struct {
	Of       []int64      // of these settlements; nil: of any
	Is       State        // empty: whatever became of them
	From, To shop.Date    // of these days of trading; empty: of any
	Due      [2]shop.Date // due from one day to another; empty: on any, or on none

	// What is left is no less, and no more; nil: any.
	Least, Most *decimal.Decimal

	After, Before int64 // of later and of earlier settlements than these; 0: of any
	Order         Order
	Skip, Limit   int // of those in that order; a limit of 0: all
}

// State is what has become of a claim.
type State string

// The states that are asked for.
const (
	Live  State = "live"  // money may still go for it, see [books.Claim.Live]
	Still State = "still" // something of it is still to come
	Over  State = "over"  // too much was paid for it
	Paid  State = "paid"  // something was paid for it
)

// Order is that in which claims are given.
type Order string

// The orders. Among claims of which as much is left the oldest comes first.
const (
	Oldest   Order = ""
	Newest   Order = "newest"
	Smallest Order = "smallest" // by what is left
	Largest  Order = "largest"
)

// Exactly asks for claims of which just so much is left.
func (w Wanted) Exactly(v decimal.Decimal) Wanted {
	w.Least, w.Most = &v, &v
	return w
}

// Has reports whether a claim is one of those that are asked for, order and number apart.
func (w *Wanted) Has(c *books.Claim) bool {
	left := c.Left()
	switch {
	case w.Of != nil && !slices.Contains(w.Of, c.Seq),
		w.Is == Live && !c.Live(), w.Is == Still && !left.IsPositive(),
		w.Is == Over && !left.IsNegative(), w.Is == Paid && !c.Paid.IsPositive(),
		w.From != "" && c.Day < w.From, w.To != "" && c.Day > w.To,
		w.Due[0] != "" && c.On < w.Due[0], w.Due[1] != "" && (c.On == "" || c.On > w.Due[1]),
		w.Least != nil && left.LessThan(*w.Least), w.Most != nil && left.GreaterThan(*w.Most),
		w.After != 0 && c.Seq <= w.After, w.Before != 0 && c.Seq >= w.Before:
		return false
	}
	return true
}

// Among gives of claims those that are asked for.
func (w *Wanted) Among(claims []books.Claim) (list []books.Claim) {
	for i := range claims {
		if w.Has(&claims[i]) {
			list = append(list, claims[i])
		}
	}
	slices.SortStableFunc(list, func(a, b books.Claim) int {
		switch older := cmp.Compare(a.Seq, b.Seq); w.Order {
		case Newest:
			return -older
		case Smallest:
			return cmp.Or(a.Left().Cmp(b.Left()), older)
		case Largest:
			return cmp.Or(b.Left().Cmp(a.Left()), older)
		default:
			return older
		}
	})
	list = list[min(w.Skip, len(list)):]
	if w.Limit > 0 {
		list = list[:min(w.Limit, len(list))]
	}
	return list
}

// Owed is how much is still to come, and for how many settlements.
type Owed struct {
	Sum   decimal.Decimal
	Count int
}

// OwedOf adds up claims.
func OwedOf(claims []books.Claim) (o Owed) {
	for i := range claims {
		if left := claims[i].Left(); left.IsPositive() {
			o.Sum, o.Count = o.Sum.Add(left), o.Count+1
		}
	}
	return o
}

// ByAges splits what is owed by how many days ago its day was, of what is still to come for
// days since some; since is asked for each age.
func ByAges(today shop.Date, all Owed, since func(shop.Date) Owed) (sums [len(Ages) + 1]decimal.Decimal) {
	newer := decimal.Zero
	for i, days := range Ages {
		until := since(today.Add(-days)).Sum
		sums[i], newer = until.Sub(newer), until
	}
	sums[len(Ages)] = all.Sum.Sub(newer)
	return sums
}

// windowed bounds how many claims are tried together, of the newest and of the oldest.
const windowed = 24

// Candidates asks for the claims that a payment of a sum may be for where nobody said which:
// those of just that, the one below and the one above, and the newest and oldest of all, which may
// be paid together. A claim of any other day is found once its day is said.
func Candidates(sum decimal.Decimal) []Wanted {
	still := Wanted{Is: Still, Limit: 1}
	exact, below, above, newest, oldest := still.Exactly(sum), still, still, still, still
	below.Most, below.Order = &sum, Largest
	above.Least, above.Order = &sum, Smallest
	exact.Limit, newest.Limit, oldest.Limit = 3, windowed, windowed
	newest.Order = Newest
	return []Wanted{exact, below, above, newest, oldest, {Is: Over, Order: Newest, Limit: windowed}}
}

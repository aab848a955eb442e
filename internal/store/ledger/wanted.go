package ledger

import "shopfloat/internal/shop"

// Wanted says which of a machine's claims are asked for: those that are all of
// what is named.
type Wanted struct {
	Of       []int64   // of these settlements
	Live     bool      // money may still go for them, see [books.Claim.Live]
	From, To shop.Date // of these days of trading; empty: of any
	After    int64     // of later settlements than this
	Newest   bool      // the newest first
	Limit    int       // so many at most; 0: all
}

package shop

import (
	"strings"

	"github.com/shopspring/decimal"
)

// maxCost is how many signs a cost may have.
const maxCost = 9

// Costs finds two amounts above nothing in a text: costs 1.20 0.10; nil where
// they are not there.
func Costs(s string) *Load {
	var found []decimal.Decimal
	for _, word := range strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == ';' || r == '/' }) {
		word = strings.ReplaceAll(strings.Trim(word, "€$£,"), ",", ".")
		if d, err := decimal.NewFromString(word); err == nil && len(word) <= maxCost {
			found = append(found, d)
		}
	}
	if len(found) != 2 || !found[0].IsPositive() || !found[1].IsPositive() {
		return nil
	}
	return &Load{Level: ByCosts, Missed: found[0], Idle: found[1]}
}

package advice

import (
	"fmt"
	"math"

	"shopfloat/internal/demand"
	"shopfloat/internal/shop"
)

// Shares of days on which a load is enough, by level: common practice, no source.
// Which of them suits a shop is for its owner to say; costs tell it exactly.
const (
	shareRarely   = 0.98
	shareBalanced = 0.95
	shareLittle   = 0.90
)

// Shares from costs are kept within these bounds: beyond them the surprises of
// one shop's past say nothing.
const shareLeast, shareMost = 0.05, 0.995

// alike says how far the kinds of note of a shop run out on days of their own: 1 would be
// always, 0 never. Chosen in the closed loop of package demand's tests.
const alike = 0.93

// kindShare is the share of days on which one of so many kinds must be enough, so that
// all of them together are on a share of days.
func kindShare(share float64, kinds int) float64 {
	return 1 - (1-share)*math.Pow(float64(max(kinds, 1)), -alike)
}

// Share gives the share of days on which the load should be enough, of all kinds together. From two
// costs it is the critical fractile, see [demand.CriticalFractile].
func Share(l shop.Load) (float64, error) {
	switch l.Level {
	case shop.RarelyEmpty:
		return shareRarely, nil
	case shop.Balanced, "":
		return shareBalanced, nil
	case shop.LittleCash:
		return shareLittle, nil
	case shop.ByCosts:
		p, err := demand.CriticalFractile(l.Missed.InexactFloat64(), l.Idle.InexactFloat64())
		return min(max(p, shareLeast), shareMost), err
	}
	return 0, fmt.Errorf("how full to load is %q", l.Level)
}

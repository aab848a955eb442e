package ask

import (
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/lines"
)

// CheckPaid asks back a printed figure above what was put in.
func CheckPaid(c *engine.Talk, l Line, n int64) Doubt { return lines.Paid(Target(c), l, n) }

// CheckFits asks back a count that is more than the box holds. It knows only
// the box, so it may be asked while nobody may see what should be there.
func CheckFits(_ *engine.Talk, l Line, n int64) Doubt { return lines.Fits(l, n) }

// CheckLoad asks back a load that does not fit or is not what the shop loads.
func CheckLoad(_ *engine.Talk, l Line, n int64) Doubt { return lines.Load(l, n) }

package statement

import "shopfloat/internal/headings"

// Role says what a column holds.
type Role = headings.Role

// The roles of columns. The names stand in a remembered [Layout].
const (
	ByDay      = headings.ByDay
	ByValueDay = headings.ByValueDay
	ByAmount   = headings.ByAmount
	ByCredit   = headings.ByCredit
	ByDebit    = headings.ByDebit
	BySign     = headings.BySign
	ByCurrency = headings.ByCurrency
	ByBalance  = headings.ByBalance
	ByRef      = headings.ByRef
	ByName     = headings.ByName
	ByText     = headings.ByText
	ByStatus   = headings.ByStatus
	ByAccount  = headings.ByAccount
)

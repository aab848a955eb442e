package founding

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/shop"
)

// Fresh are the settings of a shop before anything is known of it.
func Fresh(owner shop.Person) shop.Settings {
	return shop.Settings{Zone: "UTC", Currency: "EUR", Limit: decimal.Zero, Fresh: true,
		People: []shop.Person{owner}}
}

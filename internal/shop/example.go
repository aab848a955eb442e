package shop

import "github.com/shopspring/decimal"

// Example lays down the example shop with people numbered 1 to 3.
func Example() Settings { return ExampleWith(1, 2, 3) }

// ExampleWith lays down an invented shop in the euro area for demonstrations
// and tests: one machine of three note boxes, an owner and two staff.
//
// Notes are checked before they are paid out because a trader with a cash
// dispenser has to (Regulation (EC) 1338/2001, article 6; Decision
// ECB/2010/14). A hundred notes to a bundle is common practice, no source.
func ExampleWith(owner, staff1, staff2 PersonID) Settings {
	s := Settings{
		Name: "Example corner shop", Country: "IE", Zone: "Europe/Dublin", Currency: "EUR",
		Nightly: true, Limit: decimal.NewFromInt(40_000), SafeOpen: true, Checked: true,
		CreditDays: 1,
		Machines: []Machine{{
			ID: 1, Name: "Cash machine", LargestDispense: 40, TestDispense: true,
			Boxes: []Box{
				{Position: 1, Face: "50", Capacity: 2000, Low: 10, Usual: 40},
				{Position: 2, Face: "20", Capacity: 2000, Low: 30, Usual: 150},
				{Position: 3, Face: "10", Capacity: 2000, Low: 40, Usual: 200},
			},
		}},
		People: []Person{
			{ID: owner, Name: "Ada", Role: Owner},
			{ID: staff1, Name: "Ben", Role: Staff},
			{ID: staff2, Name: "Cleo", Role: Staff},
		},
		Bundles:   []FaceNotes{{"50", 100}, {"20", 100}, {"10", 100}},
		Tolerance: []FaceNotes{{"50", 0}, {"20", 1}, {"10", 1}},
	}
	for day := range s.Hours {
		s.Hours[day] = Hours{Open: 7 * 60, Close: 21 * 60}
	}
	return s
}

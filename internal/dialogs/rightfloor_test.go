package dialogs_test

import (
	"slices"
	"sync"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// floors are the shops that are played in: of one machine and of two, whose second has its
// notes in the other order, in euros and in yen.
var floors = sync.OnceValues(func() (list [4]*shop.Shop, err error) {
	for i := range list {
		s := shop.Example()
		if i >= 2 {
			s.Country, s.Currency, s.Zone = "JP", "JPY", "Asia/Tokyo"
			s.Limit, s.Bundles, s.Tolerance = decimal.Zero, nil, nil
			for at, face := range []cashmath.Face{"10000", "5000", "1000"} {
				s.Machines[0].Boxes[at].Face = face
			}
		}
		if i%2 == 1 {
			back := s.Machines[0]
			back.ID, back.Name, back.Boxes = 2, "Back machine", slices.Clone(back.Boxes)
			boxes := back.Boxes
			boxes[0].Face, boxes[2].Face = boxes[2].Face, boxes[0].Face
			s.Machines = append(s.Machines, back)
		}
		if list[i], err = shop.New(1, 1, s); err != nil {
			return list, err
		}
	}
	return list, nil
})

// placed puts a floor into one of them; of two machines the owner may have opened one, which
// is given.
func placed(rt *rapid.T, f *floor.Floor) (opened *books.Machine) {
	f.T.Helper()
	shops, err := floors()
	if err != nil {
		f.T.Fatal(err)
	}
	s := shops[rapid.SampledFrom([]int{0, 0, 1, 1, 2, 3}).Draw(rt, "shop")]
	f.Takes(s)
	if len(s.Machines) == 1 || rapid.IntRange(0, 3).Draw(rt, "opened before") == 0 {
		return nil
	}
	m := rapid.SampledFrom(s.Machines).Draw(rt, "opened")
	f.TurnTo(m.ID)
	r := books.Record{Kind: books.Opening, Happened: f.Now.UTC(), Day: shop.DateOf(f.Now)}
	for i, notes := range []int64{40, 150, 200} {
		b := m.Boxes[i]
		in := books.Figure{Field: books.Loaded, Box: b.Position, Face: b.Face, Notes: notes}
		r.Figures = append(r.Figures, in)
	}
	f.Record(floor.People["owner"], books.Ruled(r))
	return f.Machine
}

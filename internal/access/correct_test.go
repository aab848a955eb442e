package access_test

import (
	"testing"

	"shopfloat/internal/access"
	"shopfloat/internal/shop"
)

// Who has to correct a day that somebody closed: whoever manages, without the closer, without
// those whose account is in doubt; nobody where the shop leaves it to the closer.
func TestCorrectsFor(t *testing.T) {
	s := example(t)
	s.People = []shop.Person{{ID: 1, Role: shop.Owner}, {ID: 2, Role: shop.Manager}, {ID: 3, Role: shop.Staff},
		{ID: 4, Role: shop.Manager, Disputed: true}, {ID: 5, Role: shop.Staff, Deputy: true}}
	for _, c := range []struct {
		closer shop.PersonID
		own    bool
		want   []shop.PersonID
	}{
		{3, false, []shop.PersonID{1, 2, 5}}, {2, false, []shop.PersonID{1, 5}},
		{0, false, nil}, {3, true, nil}, {0, true, nil},
	} {
		s.OwnCorrect = c.own
		got := access.CorrectsFor(&s.Settings, c.closer)
		if len(got) != len(c.want) {
			t.Errorf("closed by %d, own %t: %v, want %v", c.closer, c.own, got, c.want)
			continue
		}
		for i, p := range got {
			if p.ID != c.want[i] {
				t.Errorf("closed by %d: %d is asked, want %d", c.closer, p.ID, c.want[i])
			}
		}
	}
}

func example(t *testing.T) *shop.Shop {
	t.Helper()
	s, err := shop.New(1, 1, shop.Example())
	if err != nil {
		t.Fatal(err)
	}
	return s
}

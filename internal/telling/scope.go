package telling

import (
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/shop"
)

// At tells of another machine of the shop; who may see its figures is asked there.
func (t *Teller) At(kit *shop.Machine) *Teller {
	if kit.ID == t.M.ID || t.F.Ask.At == nil {
		return t
	}
	o := *t
	m, blind, ask := t.F.Ask.At(kit.ID)
	o.M, o.Kit, o.F.Machine, o.F.Ask, o.F.Others = m, kit, m, ask, nil
	o.unseen, o.sought = nil, decimal.Zero
	o.Hides = func() bool { return blind }
	return &o
}

// Scope gives the machines that words are about: all of the shop together, one by
// its name, else the one at hand; and what else the words say.
func (t *Teller) Scope(words string) (of []*Teller, rest string) {
	kits := t.F.Shop.Machines
	if len(kits) < 2 {
		return []*Teller{t}, words
	}
	low := strings.ToLower(words)
	var named *shop.Machine
	for i := range kits { // the longest name: one may begin like another
		if k := &kits[i]; strings.Contains(low, strings.ToLower(k.Name)) && (named == nil ||
			len(k.Name) > len(named.Name)) {
			named = k
		}
	}
	if named != nil {
		before, after, _ := strings.Cut(low, strings.ToLower(named.Name))
		say := strings.Fields(before)
		for len(say) > 0 && t.IsWord("for-day", say[len(say)-1]) { // 500 for the hall: left alone it were today
			say = say[:len(say)-1]
		}
		return []*Teller{t.At(named)}, strings.TrimSpace(strings.Join(say, " ") + " " + after)
	}
	fields := strings.Fields(words)
	for i, w := range fields {
		if t.IsWord("together", strings.ToLower(w)) {
			for k := range kits {
				of = append(of, t.At(&kits[k]))
			}
			return of, strings.Join(append(fields[:i:i], fields[i+1:]...), " ")
		}
	}
	return []*Teller{t}, words
}

// Place names what is told of: a machine and its shop, or the shop where it is all
// of its machines.
func Place(of []*Teller) string {
	t := of[0]
	switch {
	case len(t.F.Shop.Machines) < 2:
		return ""
	case len(of) > 1:
		return t.V.Say("place-together", "shop", t.F.Shop.Name)
	}
	return t.V.Say("place", "shop", t.F.Shop.Name, "machine", t.Kit.Name)
}

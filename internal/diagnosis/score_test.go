package diagnosis_test

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/checks"
	"shopfloat/internal/diagnosis"
)

// score counts how often the true explanation was found.
type score struct{ days, first, ranked, three int }

func (s *score) add(place, rank int) {
	s.days++
	if rank == 1 {
		s.ranked++
	}
	if place == 1 {
		s.first++
	}
	if place >= 1 && place <= 3 {
		s.three++
	}
}

func share(part, whole int) float64 { return 100 * float64(part) / float64(max(whole, 1)) }

// String prints the shares: the truth among the best equals, at the very top of the
// list, and among its first three.
func (s score) String() string {
	return fmt.Sprintf("%6d days  rank 1 %6.2f %%  first %6.2f %%  top-3 %6.2f %%",
		s.days, share(s.ranked, s.days), share(s.first, s.days), share(s.three, s.days))
}

// tells reports whether found says what truth says: the kind of slip and, for a
// figure written wrongly, its line and field.
func tells(found, truth diagnosis.Slip) bool {
	if found.ID != truth.ID || truth.Field != "" && found.Field != truth.Field {
		return false
	}
	straight := found.Face == truth.Face && found.OtherFace == truth.OtherFace
	crossed := found.Face == truth.OtherFace && found.OtherFace == truth.Face && truth.ID != diagnosis.WrongLine
	return truth.Face == "" || straight || crossed
}

// placeOf is where in the list the truth stands, from 1, or 0 if it does not.
func placeOf(causes []diagnosis.Cause, truth []diagnosis.Slip) int {
	for i, cause := range causes {
		if len(cause.Slips) != len(truth) {
			continue
		}
		all := true
		for _, slip := range truth {
			all = all && slices.ContainsFunc(cause.Slips, func(s diagnosis.Slip) bool { return tells(s, slip) })
		}
		if all {
			return i + 1
		}
	}
	return 0
}

// withSlips invents a day with the given kinds of slip, one after the other. Kinds
// that exclude each other give a day with fewer slips than asked for.
func (g generator) withSlips(ids ...diagnosis.ID) (facts diagnosis.Facts, truth []diagnosis.Slip) {
	const attempts = 300
	all := injections()
	for range attempts {
		s := g.shop()
		facts, truth = g.balanced(s), nil
		for _, id := range ids {
			if slip, ok := all[id](g, s, &facts); ok {
				truth = append(truth, slip)
			}
		}
		if len(truth) == len(ids) && differs(facts) {
			return facts, truth
		}
	}
	return facts, nil
}

func differs(facts diagnosis.Facts) bool {
	return slices.ContainsFunc(cashmath.Reconcile(facts.Day).Lines,
		func(line cashmath.Line) bool { return line.VarianceNotes != 0 })
}

func kinds() []diagnosis.ID { return slices.Sorted(maps.Keys(injections())) }

// rankOf is the rank of the truth in the list, or 0.
func rankOf(causes []diagnosis.Cause, place int) int {
	if place == 0 {
		return 0
	}
	return causes[place-1].Rank
}

// Goals: the true slip has rank 1 on 97 of 100 days and is among the first three on
// 99. Kinds that leave the very same figures behind (two exchanged note boxes or two
// exchanged paid-out figures; money for tens or a nought too many) share a rank.
func TestSingleSlips(t *testing.T) {
	perKind := checks.Size(t, 300, 1_500, 60_000)
	g := newGenerator(1)
	var total score
	for _, id := range kinds() {
		var s score
		instead := map[string]int{}
		for range perKind {
			facts, truth := g.withSlips(id)
			causes := diagnosis.Explain(facts)
			place := placeOf(causes, truth)
			s.add(place, rankOf(causes, place))
			total.add(place, rankOf(causes, place))
			if place != 1 {
				instead[describe(causes[0])]++
			}
		}
		t.Logf("%-22s %s   %s", id, s, mostCommon(instead))
	}
	t.Logf("%-22s %s", "all single slips", total)
	if share(total.ranked, total.days) < 97 || share(total.three, total.days) < 99 {
		t.Errorf("single slips below the goal of 97 %% and 99 %%: %s", total)
	}
}

func describe(cause diagnosis.Cause) string {
	var ids []string
	for _, slip := range cause.Slips {
		ids = append(ids, string(slip.ID))
	}
	return strings.Join(ids, "+")
}

func mostCommon(counts map[string]int) string {
	names := slices.SortedFunc(maps.Keys(counts), func(a, b string) int {
		return cmp.Or(cmp.Compare(counts[b], counts[a]), cmp.Compare(a, b))
	})
	var parts []string
	for _, name := range names[:min(len(names), 3)] {
		parts = append(parts, fmt.Sprintf("%s %d", name, counts[name]))
	}
	return strings.Join(parts, ", ")
}

// lonely are kinds of slip after which no second one can be told: nothing is left of the
// figure, or of the field, that would show it.
var lonely = []diagnosis.ID{diagnosis.BundleMiscounted, diagnosis.CassettesExchanged, diagnosis.BoxForgotten,
	diagnosis.OtherDay, diagnosis.SumOnLine}

// twoKinds draws two kinds of slip that can happen on one day, in the order in which
// they do: what others rest on is settled before anything is misread.
func (g generator) twoKinds() (a, b diagnosis.ID) {
	for {
		a, b = pick(g, kinds()), pick(g, kinds())
		if b == diagnosis.RejectsMissed || b == diagnosis.CarriedOver || b == diagnosis.TopupUnrecorded {
			a, b = b, a
		}
		// What is not in the count cannot be counted twice.
		contradicts := a == diagnosis.RejectsMissed && b == diagnosis.RejectsCountedTwice
		if a != b && !contradicts && !slices.Contains(lonely, a) && !slices.Contains(lonely, b) {
			return a, b
		}
	}
}

func TestTwoSlips(t *testing.T) {
	days := checks.Size(t, 1_500, 5_000, 300_000)
	g := newGenerator(2)
	var total score
	missed := map[string]int{}
	for total.days < days {
		a, b := g.twoKinds()
		facts, truth := g.withSlips(a, b)
		if len(truth) < 2 {
			continue
		}
		causes := diagnosis.Explain(facts)
		place := placeOf(causes, truth)
		total.add(place, rankOf(causes, place))
		if place == 0 || place > 3 {
			missed[string(a+" with "+b)]++
		}
	}
	t.Logf("two slips              %s   missed: %s", total, mostCommon(missed))
	if share(total.three, total.days) < 86 {
		t.Errorf("two slips below the goal of 86 %%: %s", total)
	}
}

func TestBalancedDaysHaveNoCause(t *testing.T) {
	g := newGenerator(3)
	for range checks.Size(t, 2_000, 10_000, 1_000_000) {
		facts := g.balanced(g.shop())
		if causes := diagnosis.Explain(facts); len(causes) != 0 {
			t.Fatalf("a balanced day %v has causes %v", facts, causes)
		}
	}
}

// Notes that are simply gone: between 1 and so many of one kind.
func TestPlainLossIsUnexplained(t *testing.T) {
	days := checks.Size(t, 1_000, 5_000, 300_000)
	for _, most := range []int64{5, 12, 20, 40, 80} {
		g := newGenerator(4)
		unexplained, instead := 0, map[string]int{}
		for done := 0; done < days; {
			s := g.shop()
			facts := g.balanced(s)
			if !addTo(facts.Day.Remaining, notes{pick(g, s.faces): g.between(1, most)}, -1) {
				continue
			}
			done++
			if cause := diagnosis.Explain(facts)[0]; cause.Slips[0].ID == diagnosis.Unexplained {
				unexplained++
			} else {
				instead[describe(cause)]++
			}
		}
		t.Logf("loss of 1 to %2d notes   unexplained %6.2f %%   instead: %s",
			most, share(unexplained, days), mostCommon(instead))
		if share(unexplained, days) < 94 {
			t.Errorf("plain loss of up to %d notes below the goal of 94 %%", most)
		}
	}
}

// Slips without a name of their own: what is claimed at rank 1, and alone, is wrong.
// Unexplained claims nothing, and several equals claim no one of them.
func TestUnnamedSlipsAreNotClaimed(t *testing.T) {
	perKind := checks.Size(t, 200, 1_500, 60_000)
	g := newGenerator(5)
	all := unnamed()
	days, claimed := 0, 0
	for _, name := range slices.Sorted(maps.Keys(all)) {
		wrong, instead := 0, map[string]int{}
		for done := 0; done < perKind; {
			s := g.shop()
			facts := g.balanced(s)
			if _, ok := all[name](g, s, &facts); !ok || !differs(facts) {
				continue
			}
			done++
			days++
			if causes := diagnosis.Explain(facts); claims(causes) {
				wrong++
				instead[describe(causes[0])]++
			}
		}
		claimed += wrong
		t.Logf("%-22s claimed %5.2f %%   %s", name, share(wrong, perKind), mostCommon(instead))
	}
	t.Logf("all unnamed slips      claimed %5.2f %%", share(claimed, days))
	if share(claimed, days) > 5 {
		t.Errorf("slips without a name are claimed on %.2f %% of days, want at most 5 %%", share(claimed, days))
	}
}

// claims reports whether a list names one slip, alone at rank 1.
func claims(causes []diagnosis.Cause) bool {
	first := causes[0].Slips
	alone := len(causes) == 1 || causes[1].Rank > 1
	return alone && len(first) == 1 && first[0].ID != diagnosis.Unexplained
}

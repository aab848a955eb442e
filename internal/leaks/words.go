package leaks

import (
	"fmt"

	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// Say words what the watch over a machine found, for its owner: a line for each kind of
// note, then what it means and what to try. It names no person and accuses nobody.
func Say(v *texts.Voice, kinds []Kind) []string {
	var lines []string
	told := false
	for i := range kinds {
		k := &kinds[i]
		switch {
		case !k.Enough():
			lines = append(lines, v.Say("leaks.little", "kind", v.Kind(k.Face), "n", k.Days, "min", DaysMin))
			continue
		case len(k.Leaks) == 0:
			lines = append(lines, v.Say("leaks.none", "kind", v.Kind(k.Face), "n", k.Days))
			continue
		}
		for _, l := range k.Leaks {
			told = told || !l.Ended
			lines = append(lines, sayLeak(v, l)...)
		}
	}
	if told {
		lines = append(lines, "", v.Say("leaks.means"), "", v.Say("leaks.try"))
	}
	return lines
}

// Line says of one what keeps missing, or is too many.
func Line(v *texts.Voice, l Leak) string { return sayLeak(v, l)[0] }

func sayLeak(v *texts.Voice, l Leak) []string {
	ids, weekday := [2]string{"leaks.missing", "leaks.over"}, ""
	switch {
	case l.Weekly && l.Named:
		ids = [2]string{"leaks.missing-weekday", "leaks.over-weekday"}
		weekday = v.Say(fmt.Sprintf("weekday.%d", l.Weekday))
	case l.Weekly:
		ids = [2]string{"leaks.missing-weekly", "leaks.over-weekly"}
	}
	id := ids[0]
	if l.Over {
		id = ids[1]
	}
	lines := []string{v.Say(id, "kind", v.Kind(l.Face), "times", l.Times, "days", l.Days, "notes", l.Notes,
		"since", on(v, l.Since), "weekday", weekday)}
	if l.Ended {
		lines = append(lines, v.Say("leaks.ended", "until", on(v, l.Until)))
	}
	return lines
}

func on(v *texts.Voice, d shop.Date) string { return v.Day(d.Time()) }

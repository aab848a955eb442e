package advice_test

import (
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/demand"
)

// A machine out of service all day tells nothing, for some hours the least, at night
// nothing special; one that turned out to have served all the time, everything.
func TestLearnOutage(t *testing.T) {
	for name, c := range map[string]struct {
		out, back [2]int // hour and minute
		served    bool
		want      demand.Known
	}{
		"all day":                         {[2]int{7, 0}, [2]int{21, 0}, false, demand.Missing},
		"hours":                           {[2]int{12, 0}, [2]int{15, 0}, false, demand.AtLeast},
		"minutes":                         {[2]int{12, 0}, [2]int{12, 10}, false, demand.Full},
		"29 minutes":                      {[2]int{12, 0}, [2]int{12, 29}, false, demand.Full},
		"30 minutes":                      {[2]int{12, 0}, [2]int{12, 30}, false, demand.AtLeast},
		"19 minutes short of nine tenths": {[2]int{7, 0}, [2]int{19, 17}, false, demand.AtLeast},
		"nine tenths of 14 hours":         {[2]int{7, 0}, [2]int{19, 36}, false, demand.Missing},
		"before it opened":                {[2]int{6, 50}, [2]int{7, 29}, false, demand.Full},
		"until after it closed":           {[2]int{20, 31}, [2]int{21, 50}, false, demand.Full},
		"night":                           {[2]int{21, 1}, [2]int{21, 50}, false, demand.Full},
		"served":                          {[2]int{12, 0}, [2]int{15, 0}, true, demand.Full},
	} {
		l := newLedger(t, nil)
		l.run(day{Date: "2026-01-05", Loaded: notes(200), Asked: notes(120)})
		l.run(day{Date: "2026-01-06", Loaded: notes(200), Asked: notes(50)})
		out, back := l.at("2026-01-06", c.out[0], c.out[1]), l.at("2026-01-06", c.back[0], c.back[1])
		no := l.post(out, books.Record{Kind: books.Incident, Trouble: &books.Trouble{Topic: "offline"}})
		l.post(out, books.Record{Kind: books.News, Target: no,
			Trouble: &books.Trouble{Ending: books.OutOfService, Out: out}})
		l.post(back, books.Record{Kind: books.News, Target: no, Trouble: &books.Trouble{Ending: books.Solved}})
		if c.served {
			l.post(back, books.Record{Kind: books.News, Target: no, Trouble: &books.Trouble{Served: true}})
		}
		if got := observed(l.past().Paid["20"], "2026-01-06"); got.Known != c.want {
			t.Errorf("%s: %+v, want known %d", name, got, c.want)
		}
	}
}

package advice

import (
	"shopfloat/internal/cashmath"
	"shopfloat/internal/demand"
	"shopfloat/internal/shop"
)

// Chart is a picture to be drawn of notes by day, one panel above the other.
type Chart struct {
	Title  string  `json:"title"`
	Unit   string  `json:"unit"` // what the upright axis counts
	Names  Names   `json:"names"`
	Ticks  []Tick  `json:"ticks"`
	Panels []Panel `json:"panels"`
}

// Names are what the lines of a chart are called.
type Names struct {
	Paid     string `json:"paid"`
	Least    string `json:"least"`
	Expected string `json:"expected"`
	Band     string `json:"band"`
	Load     string `json:"load"`
}

// Tick is a word under a day, counted from the first one shown.
type Tick struct {
	Day  int    `json:"day"`
	Text string `json:"text"`
}

// Panel is one kind of note: days that are known, then days that are expected.
type Panel struct {
	Name  string   `json:"name"`
	Past  []Was    `json:"past"`
	Ahead []Coming `json:"ahead"`
}

// Was is a day that is over, in notes.
type Was struct {
	Paid  float64 `json:"paid"`
	Known bool    `json:"known,omitempty"` // false: no figure
	Least bool    `json:"least,omitempty"` // ran out: at least so many were asked for
}

// Coming is a day ahead, in notes.
type Coming struct {
	Mean float64 `json:"mean"`
	Low  float64 `json:"low"` // of the band
	High float64 `json:"high"`
	Load int64   `json:"load,omitempty"` // advised for this day; 0: none
	Off  bool    `json:"off,omitempty"`  // the machine does not pay
}

// Days that a chart shows, before the advice and from it on.
const pastDays, aheadDays = 35, 7

// bandLow is the lower edge of the band: one day in ten asks for less.
const bandLow = 0.10

// Panels draws what is known of each kind, what is expected and what is advised.
// The first day of all panels is the date returned.
func (o *Outlook) Panels(a Advice) (first shop.Date, panels []Panel) {
	start := o.next - pastDays
	for _, l := range a.Lines {
		p := Panel{Past: wasOn(o.past.Paid[l.Face], start, o.next)}
		for d := o.next; d < o.next+aheadDays; d++ {
			p.Ahead = append(p.Ahead, o.coming(l.Face, d, a.Share))
		}
		if len(a.Days) == 1 && int(a.Days[0]-o.next) < aheadDays {
			p.Ahead[a.Days[0]-o.next].Load = l.Notes
		}
		panels = append(panels, p)
	}
	return dateOf(start), panels
}

func wasOn(h demand.History, from, to demand.Day) []Was {
	list := make([]Was, 0, to-from)
	for d := from; d < to; d++ {
		w := Was{}
		if d >= h.First && d < h.Next() {
			seen := h.Days[d-h.First]
			w = Was{Paid: seen.Notes, Known: seen.Known != demand.Missing, Least: seen.Known == demand.AtLeast}
		}
		list = append(list, w)
	}
	return list
}

func (o *Outlook) coming(face cashmath.Face, d demand.Day, share float64) Coming {
	f, ok := o.Of(face, []demand.Day{d})
	if !ok || !pays(o.shop, dateOf(d)) {
		return Coming{Off: true}
	}
	low, err := f.Quantile(bandLow)
	high, err2 := f.Quantile(share)
	if err != nil || err2 != nil {
		return Coming{Off: true}
	}
	return Coming{Mean: f.Mean, Low: low, High: high}
}

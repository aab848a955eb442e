package rota

import (
	"slices"
	"strings"

	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
	"shopfloat/internal/when"
)

// Said reads a sentence of its own that says how some days are kept: tomorrow 7-13 and 15-19,
// closing an hour earlier today, 24 and 31 december 8-13, closed from 12 to 2 on friday. Every
// word of it is explained, else it says nothing of the kind.
func Said(t *telling.Teller, text string) ([]shop.Change, bool) {
	list, _, ok := said(t, text)
	return list, ok
}

// said is [Said]; likely are hours that were read in the likelier of two ways.
func said(t *telling.Teller, text string) (list []shop.Change, likely []shop.Hours, ok bool) {
	if Unsaid(t, text) != "" {
		return nil, nil, false
	}
	r := telling.Reader(t)
	text = partOfToday(t, text)
	ours := strings.TrimSpace(text[len(phraseOf(t, "we-are-on", text)):])
	if away := phraseOf(t, "shop-holiday", ours); away != "" {
		text = r.Words.Closed[0] + strings.TrimPrefix(ours, away)
	}
	for _, until := range r.Words.Until { // christmas eve till 2 is no range of days
		if before, after, is := strings.Cut(text, " "+until+" "); is {
			if day, why := r.Day(before, when.Ahead); why == when.OK {
				if list, likely, ok := keptOn(t, []when.Range{{From: day, To: day}}, until+" "+after); ok {
					return list, likely, true
				}
			}
		}
	}
	if list, ok = closing(t, text); ok {
		return list, nil, true
	}
	if list, ok = reopening(t, text); ok {
		return list, nil, true
	}
	days, rest, why := r.SomeDays(text)
	if why != when.OK {
		return nil, nil, false
	}
	return keptOn(t, days, rest)
}

// partOfToday writes today for a part of it, where the text says the time as well: closed this
// afternoon from 2.
func partOfToday(t *telling.Teller, text string) string {
	if !strings.ContainsAny(text, "0123456789") {
		return text
	}
	for _, part := range t.V.List("words.part-of-today") {
		if before, after, is := strings.Cut(" "+text+" ", " "+part+" "); is {
			return strings.TrimSpace(before + " " + telling.Reader(t).Words.Today[0] + " " + after)
		}
	}
	return text
}

// keptOn reads how days are kept, from what a sentence says beside them.
func keptOn(t *telling.Teller, days []when.Range, rest string) (
	list []shop.Change, likely []shop.Hours, ok bool,
) {
	for _, d := range days {
		if d.To < t.Today() {
			return nil, nil, false
		}
		how := manner{t: t, usual: usualOf(t, max(d.From, t.Today()))}
		change, ok := how.read(rest)
		for date := d.From.Add(1); ok && how.relative && date <= d.To; date = date.Add(1) {
			ok = usualOf(t, date) == how.usual // else it is another hour on another day
		}
		if !ok {
			return nil, nil, false
		}
		likely = append(likely, how.likely...)
		change.From, change.To = d.From, d.To
		if how.reopens {
			if change.To = d.From.Add(-1); t.M.Current() != nil {
				change.From = t.Today().Add(1)
			} else {
				change.From = t.Today()
			}
			ok = change.From <= change.To
		}
		if list = append(list, change); !ok {
			return nil, nil, false
		}
	}
	return list, likely, true
}

// usualOf are the hours of a date as they are laid down so far, or by the week.
func usualOf(t *telling.Teller, date shop.Date) shop.Hours {
	if d := reminders.On(t.F.Shop, date); d.Closed == reminders.Trading {
		return d.Hours
	}
	return t.F.Shop.Weekly(date)
}

// manner is how a day is kept, under way.
type manner struct {
	t        *telling.Teller
	usual    shop.Hours
	likely   []shop.Hours
	relative bool // to the usual hours
	reopens  bool // the day is the first on which the shop trades again
}

// read reads how a day is kept, from what a sentence says beside the day.
func (k *manner) read(s string) (c shop.Change, ok bool) {
	mine := strings.HasPrefix(strings.TrimSpace(s), "i ") // i don't work is no day of the shop
	s = k.bare(s)
	is := func(list, s string) bool { return k.t.IsWord(list, s) }
	switch {
	case is("reopen", s):
		k.reopens = true
		return shop.Change{Closed: true}, true
	case is("not-open", s), !mine && is("not-work", s):
		return shop.Change{Closed: true}, true
	}
	if c, ok = k.moved(s); ok {
		return c, true
	}
	s = k.without(s, "around-hours")
	switch {
	case is("closed", s), is("day-off", s):
		return shop.Change{Closed: true}, true
	case is("open-day", s):
		return shop.Change{Usual: true}, true
	case is("no-break", s):
		k.relative = true
		return k.hours(shop.Hours{Open: k.usual.Open, Close: k.usual.Close}), k.usual.Split()
	}
	if h, is := k.pause(s); is {
		k.relative = true
		return k.hours(h), true
	}
	for _, shut := range k.t.V.List("words.closed") {
		if rest, is := strings.CutPrefix(s, shut+" "); is {
			return k.shut(rest)
		}
	}
	if c, ok = k.at(s); ok {
		return c, true
	}
	return k.inHours(s)
}

// bare leaves out signs between words, courtesy and who is meant.
func (k *manner) bare(s string) string {
	signs := func(r rune) bool { return strings.ContainsRune(" ,;!", r) }
	s = strings.Trim(strings.Join(strings.FieldsFunc(s, signs), " "), " .:")
	for {
		who := phraseOf(k.t, "who-is-open", s)
		if who == "" || who == s {
			return s
		}
		s = strings.TrimSpace(s[len(who):])
	}
}

// without leaves out the phrases of a list wherever they stand.
func (k *manner) without(s, list string) string {
	s = " " + s + " "
	for _, w := range k.t.V.List("words." + list) {
		s = strings.ReplaceAll(s, " "+w+" ", " ")
	}
	return strings.TrimSpace(s)
}

// moved reads an opening or closing that is so much earlier or later: closing an hour earlier.
func (k *manner) moved(s string) (c shop.Change, ok bool) {
	words := strings.Fields(s)
	if len(words) < 3 || k.usual == (shop.Hours{}) {
		return c, false
	}
	first, last := words[0], words[len(words)-1]
	sign := 1
	if k.t.IsWord("hours-sooner", last) {
		sign = -1
	} else if !k.t.IsWord("hours-later", last) {
		return c, false
	}
	minutes := k.howLong(strings.Join(words[1:len(words)-1], " "))
	at := func(m int) *int { m = (m + sign*minutes + shop.DayMinutes) % shop.DayMinutes; return &m }
	k.relative = true
	switch opens, closes := k.verb(first); {
	case minutes <= 0:
		return c, false
	case opens:
		return shop.Change{Open: at(k.usual.Open)}, true
	case closes:
		return shop.Change{Close: at(k.usual.Close)}, true
	}
	return c, false
}

// howLong reads half an hour, an hour, 2 hours, 30 minutes; 0 for none.
func (k *manner) howLong(s string) int {
	if k.t.IsWord("half-hour", s) {
		return 30
	}
	r := telling.Reader(k.t)
	many, unit, _ := strings.Cut(s, " ")
	n := slices.Index(r.Words.Few, many) + 1
	if many == "a" || many == "an" {
		n = 1
	} else if n == 0 && len(many) < 3 && strings.Trim(many, "0123456789") == "" {
		for _, digit := range many {
			n = 10*n + int(digit-'0')
		}
	}
	switch {
	case k.t.IsWord("hour-units", unit):
		return 60 * n
	case k.t.IsWord("minute-units", unit):
		return n
	}
	return 0
}

// shut reads what stands behind "closed": a reason, or a part of the day.
func (k *manner) shut(s string) (c shop.Change, ok bool) {
	r := telling.Reader(k.t)
	for _, why := range k.t.V.List("words.because") {
		if reason, is := strings.CutPrefix(s, why+" "); is && !strings.ContainsAny(s, "0123456789") {
			return shop.Change{Closed: true}, !slices.ContainsFunc(strings.Fields(reason), func(w string) bool {
				return k.t.IsWord("parts-of-day", w)
			})
		}
	}
	for _, from := range slices.Concat(r.Words.Since, k.t.V.List("words.after-time")) {
		if at, is := strings.CutPrefix(s, from+" "); is {
			if c, ok = k.only(at, func(c *shop.Change, m *int) { c.Close = m }); ok {
				return c, true
			}
		}
	}
	for _, until := range r.Words.Until {
		if at, is := strings.CutPrefix(s, until+" "); is {
			return k.only(at, func(c *shop.Change, m *int) { c.Open = m })
		}
	}
	if h, is := k.span(s); is && !h.Split() { // closed from 12 to 2
		k.relative = true
		u := k.usual
		u.PauseFrom, u.PauseTo = h.Open, h.Close
		if h.Close < h.Open || !k.usual.Split() && !u.Sound() {
			u.PauseFrom, u.PauseTo = h.Open, (h.Close+shop.DayMinutes/2)%shop.DayMinutes
		}
		return k.hours(u), !k.usual.Split() && u.Sound() && u.Split()
	}
	return c, false
}

// verb says of a word whether a shop opens or closes by it.
func (k *manner) verb(w string) (opens, closes bool) {
	is := func(lists ...string) bool {
		return slices.ContainsFunc(lists, func(list string) bool { return k.t.IsWord(list, w) })
	}
	return is("opens", "open", "starts"), is("closes", "finishes")
}

// at reads a verb and a time: close at 3, opening at half nine, close 3pm, open till 8.
func (k *manner) at(s string) (c shop.Change, ok bool) {
	verb, rest, _ := strings.Cut(s, " ")
	opens, closes := k.verb(verb)
	if !opens && !closes {
		return c, false
	}
	r := telling.Reader(k.t)
	said := false
	for _, at := range slices.Concat(r.Words.At, r.Words.Since, k.t.V.List("words.after-time")) {
		if after, is := strings.CutPrefix(rest, at+" "); is {
			rest, said = after, true
		}
	}
	if _, sure, left, why := r.Hour(rest); why != when.OK || left != "" || !said && !sure {
		return c, false
	}
	if closes {
		return k.only(rest, func(c *shop.Change, m *int) { c.Close = m })
	}
	return k.only(rest, func(c *shop.Change, m *int) { c.Open = m })
}

// only reads one time and nothing else.
func (k *manner) only(s string, set func(*shop.Change, *int)) (c shop.Change, ok bool) {
	minutes, sure, rest, why := telling.Reader(k.t).Hour(s)
	if why != when.OK || rest != "" {
		return c, false
	}
	if !sure {
		minutes = k.usual.Likely(minutes) // 3 is three in the afternoon
	}
	if set(&c, &minutes); c.Close != nil && !sure {
		*c.Close = k.usual.LikelyClose(minutes)
	}
	return c, c.Open == nil || minutes < shop.DayMinutes
}

// inHours reads hours of a whole day: 8-13, 7-13 and 15-19, until 3.
func (k *manner) inHours(s string) (c shop.Change, ok bool) {
	h, ok := k.span(s)
	if !ok || h == (shop.Hours{}) {
		return c, false
	}
	return k.hours(h), true
}

// span reads hours by the likelier reading.
func (k *manner) span(s string) (shop.Hours, bool) {
	r, d := telling.Reader(k.t), Draft{}
	u := k.usual
	r.Usual = &[7]shop.Hours{u, u, u, u, u, u, u}
	h, ok := d.oneDay(r, s)
	k.likely = append(k.likely, d.Likely...)
	return h, ok
}

func (k *manner) hours(h shop.Hours) shop.Change {
	return shop.Change{Open: &h.Open, Close: &h.Close, PauseFrom: h.PauseFrom, PauseTo: h.PauseTo}
}

// How names the question with which what was not read is asked back.
func How(t *telling.Teller, name, typed string) string {
	if what := Unsaid(t, typed); what != "" {
		return "shift.how-" + what
	}
	if partOfDay(t, typed) && (name == "away" || name == "ill") {
		return "shift.how-away-part"
	}
	if slices.ContainsFunc(strings.Fields(typed), func(w string) bool { return t.IsWord("parts-of-day", w) }) {
		return "shift.how-part"
	}
	return "shift.how-" + name
}

// SaysDays reports whether somebody says by themselves how some days are kept.
func SaysDays(t *telling.Teller, text string) bool {
	_, ok := Said(t, texts.Fold(text))
	return ok
}

package dialogs

import (
	"strconv"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/counts"
)

// earlierFlow enters something that happened before, like a day kept on paper.
func (e *Engine) earlierFlow() *flow {
	tap := func(name string) func(*talk) {
		return func(c *talk) {
			c.enter(name)
			e.flows[name].start(c)
		}
	}
	return &flow{
		name: "earlier", title: "earlier", start: startEarlier,
		screens: map[string]screen{
			"when": {ask: askWhen, answer: answerWhen, what: "what.when"},
			"what": {ask: askWhat, what: "what.earlier", taps: map[string]func(*talk){
				"open": tap("open"), "topup": tap("topup"), "move": tap("move"), "close": tap("close"), "settle": tap("settle"),
			}},
		},
	}
}

func startEarlier(c *talk) {
	c.State.Draft.Happened = time.Time{}
	c.goTo("when")
	if c.rest != "" && !answerWhen(c, c.rest) {
		c.first(c.v.Say("not-time", "near", c.rest))
	}
}

func askWhen(c *talk) *card {
	yesterday := c.local(c.in.At).AddDate(0, 0, -1)
	return &card{body: []Block{{Text: c.v.Say("ask.when", "example", yesterday.Format("2.1.")+" 06:40")}}}
}

func answerWhen(c *talk, s string) bool {
	t, ok := parseWhen(s, c.local(c.in.At), c.v.Say("words.yesterday"))
	switch {
	case !ok:
		return false
	case t.After(c.in.At):
		c.first(c.v.Say("when-future", "when", c.v.Day(t)+", "+c.v.Clock(t)))
		return true
	case c.in.At.Sub(t) > earliest:
		c.first(c.v.Say("when-long-ago"))
		return true
	}
	c.State.Draft.Happened = t.UTC()
	c.goTo("what")
	return true
}

// earliest is how far back something may be entered.
const earliest = 62 * 24 * time.Hour

// parseWhen reads "06:40", "yesterday 18:30" or "24.11. 06:40" on the shop's
// clock. A time without a day is the last one that has passed.
func parseWhen(s string, now time.Time, yesterday string) (time.Time, bool) {
	day, rest := now, counts.Fold(fold(s))
	dated := false
	if after, ok := strings.CutPrefix(rest, yesterday); ok {
		day, rest, dated = now.AddDate(0, 0, -1), after, true
	} else if d, after, ok := cutDate(rest, now); ok {
		day, rest, dated = d, after, true
	}
	hour, minute, ok := clockOf(strings.TrimSpace(strings.Trim(strings.TrimSpace(rest), ",.")))
	if !ok {
		return time.Time{}, false
	}
	t := time.Date(day.Year(), day.Month(), day.Day(), hour, minute, 0, 0, now.Location())
	if !dated && t.After(now) {
		t = t.AddDate(0, 0, -1)
	}
	return t, true
}

// cutDate reads a day and month, "24.11." or "24/11" or "2026-11-24".
func cutDate(s string, now time.Time) (time.Time, string, bool) {
	first, rest, found := strings.Cut(s, " ")
	if !found {
		return now, s, false
	}
	if t, err := time.ParseInLocation(time.DateOnly, first, now.Location()); err == nil {
		return t, rest, true
	}
	parts := strings.FieldsFunc(first, func(r rune) bool { return r == '.' || r == '/' || r == '-' })
	if len(parts) != 2 {
		return now, s, false
	}
	d, err1 := strconv.Atoi(parts[0])
	m, err2 := strconv.Atoi(parts[1])
	t := time.Date(now.Year(), time.Month(m), d, 0, 0, 0, 0, now.Location())
	if err1 != nil || err2 != nil || t.Day() != d || int(t.Month()) != m {
		return now, s, false
	}
	if t.After(now) {
		t = t.AddDate(-1, 0, 0)
	}
	return t, rest, true
}

func clockOf(s string) (hour, minute int, ok bool) {
	for _, layout := range []string{"15:04", "15.04", "3:04pm", "3pm", "15"} {
		if t, err := time.Parse(layout, strings.ReplaceAll(s, " ", "")); err == nil {
			return t.Hour(), t.Minute(), true
		}
	}
	return 0, 0, false
}

func askWhat(c *talk) *card {
	t := c.local(c.State.Draft.Happened)
	k := &card{body: []Block{{Text: c.v.Say("ask.what", "when", c.v.Day(t)+", "+c.v.Clock(t))}}}
	for _, name := range []string{"open", "topup", "move", "settle", "close"} {
		k.buttons = append(k.buttons, c.button("earlier-"+name, name))
	}
	return k
}

// amount reads money as people type it.
func (c *talk) amount(s string) (decimal.Decimal, bool) {
	text, code := counts.ParseAmount(s, c.minorDigits())
	if code != counts.OK {
		return decimal.Zero, false
	}
	return amountOf(text), true
}

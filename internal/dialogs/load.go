package dialogs

import (
	"errors"
	"strconv"
	"strings"
	"unicode"

	"shopfloat/internal/access"
	"shopfloat/internal/advice"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/counts"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// loadFlow tells how much to load. It records nothing.
func loadFlow() *flow {
	return &flow{
		name: doLoad, title: "load", version: 1, start: startLoad,
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsNothing, again: answersAgain,
		paper: offPaper, loses: losesCosts, stopped: nothingBooked,
		rights:   rights{access.Counting, anyPhone, onceSetUp},
		commands: []command{{name: doLoad, does: startsDialog, help: helpOften, takes: anyWords}},
		screens: map[string]screen{
			"advice": {ask: askLoad, answer: answerLoad, what: "what.load", taps: map[string]func(*talk){
				"why": func(c *talk) { c.goTo("why") }, "picture": sendPicture, "full": func(c *talk) { c.goTo("full") },
				"all": forgetHand,
			}},
			"why": {ask: askWhy, answer: answerLoad, what: "what.load",
				taps: map[string]func(*talk){"back": func(c *talk) { c.goTo("advice") }}},
			"full": pick{first: costBooking.card, head: askFull, options: levelOptions, take: takeFull,
				answer: answerFull, back: "advice", what: "what.full",
				taps: map[string]func(*talk){"back": backFromFull, "confirm": costBooking.confirm}}.screen(),
		},
	}
}

// handQuestion reads what somebody has to load with; kinds not named are none.
var handQuestion = question{name: "hand", lines: kindLines, partial: true}

func startLoad(c *talk) {
	c.goTo("advice")
	if c.rest != "" && !answerLoad(c, c.rest) {
		c.first(c.v.Say("load.not", "near", c.rest))
	}
}

// usualDays sets the days to those the next load is for. A card from yesterday
// must not go on about yesterday.
func (c *talk) usualDays() {
	next := c.loadDate()
	if from := shop.Date(c.chosen("from")); from == "" || from < next {
		c.choose("from", string(next))
		c.choose("to", string(advice.Until(c.f.Shop, next)))
	}
}

// bareCounts reports whether a text is figures only, which may have been meant
// as an opening.
func bareCounts(s string) bool {
	return strings.Trim(s, "0123456789 ,/+x") == "" && strings.ContainsAny(s, "0123456789")
}

// loadDate is the day the next load is for: today, unless that one is in already.
func (c *talk) loadDate() shop.Date {
	date := reminders.DayOf(c.f.Shop, c.in.At)
	for _, p := range c.m.Periods {
		if c.dayOf(p) >= date && !p.Paper {
			date = reminders.After(c.f.Shop, c.dayOf(p))
		}
	}
	return date
}

// answerLoad takes other days, or the notes at hand.
func answerLoad(c *talk, s string) bool {
	from, to, ok := c.span(fold(s))
	if ok {
		c.choose("from", string(from))
		c.choose("to", string(to))
		c.goTo("advice")
		return true
	}
	res := counts.Parse(s, c.request(kindLines(c), 0, handQuestion))
	if len(res.Items) == 0 || !handQuestion.answer(c, s) {
		return false
	}
	if bareCounts(s) {
		c.first(c.v.Say("load.not-opening", "counts", strings.TrimSpace(s)))
	}
	c.goTo("advice")
	return true
}

// span reads days to load for: until friday, tomorrow, 3 days, fri to sun.
func (c *talk) span(s string) (from, to shop.Date, ok bool) {
	next := c.loadDate()
	if words := strings.Fields(s); len(words) >= 2 && c.isWord("load-days", words[len(words)-1]) {
		n, err := strconv.Atoi(words[len(words)-2])
		return next, next.Add(n - 1), err == nil && n >= 1 && n <= daysMost
	}
	from, to, rest := c.days(s)
	_, err := shop.ParseDate(s)
	if figures := !strings.ContainsFunc(s, unicode.IsLetter); rest != "" || figures && err != nil {
		return from, to, false // 10/5 and 20.10 are notes here
	}
	return max(from, next), max(to, next), true
}

// daysMost is how many days a load may be for.
const daysMost = 30

// forgetHand asks again as if there were notes enough.
func forgetHand(c *talk) { c.forget("hand") }

// hand gives the notes at hand by kind; nil when nothing was typed.
func (c *talk) hand() map[cashmath.Face]int64 {
	v, ok := c.State.Draft.Counts["hand"]
	lines := kindLines(c)
	if !ok || len(v) != len(lines) {
		return nil
	}
	hand := map[cashmath.Face]int64{}
	for i, l := range lines {
		hand[l.face] = max(v[i], 0)
	}
	return hand
}

// known is the machine's whole ledger; nothing where it is not at hand.
func (c *talk) known() []books.Entry {
	if c.f.Ask.Entries == nil {
		return nil
	}
	return c.f.Ask.Entries()
}

// outlook forecasts from a date on.
func (c *talk) outlook(date shop.Date) (*advice.Outlook, *advice.Past, error) {
	past, err := advice.Learn(c.f.Shop, c.kit.ID, c.known())
	if err != nil {
		return nil, nil, err
	}
	o, err := advice.NewOutlook(c.f.Shop, c.kit, past, date)
	return o, past, err
}

// advised is the advice for the days in the draft.
func (c *talk) advised() (*advice.Outlook, advice.Advice, error) {
	c.usualDays()
	from, to := shop.Date(c.chosen("from")), shop.Date(c.chosen("to"))
	o, _, err := c.outlook(from)
	if err != nil {
		return nil, advice.Advice{}, err
	}
	a, err := o.For(to, c.hand())
	return o, a, err
}

// noAdvice says why there is none.
func (c *talk) noAdvice(err error) *card {
	why := either(errors.Is(err, advice.ErrDays), "load.none-days", "load.none-other")
	return &card{body: []Block{text(c.v.Say("load.none"), c.v.Say(why))}}
}

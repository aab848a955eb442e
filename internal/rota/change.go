package rota

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// May reports whether the speaker may say so without a manager.
func May(t *telling.Teller, change shop.Change) bool {
	if isForGood(change) {
		return t.F.Person.Role == shop.Owner
	}
	return t.F.Person.Role.Manages() || change.Absent != 0 || change.Back != 0 || change.Mute ||
		change.Duty != shop.Duty{}
}

// Another names somebody of the shop for an example: not the speaker, where there is another.
func Another(t *telling.Teller) string {
	name := t.F.Person.Name
	for _, p := range t.F.Shop.People {
		if p.ID != t.F.Person.ID && p.Name != "" {
			return p.Name
		}
	}
	return name
}

// standInsMax bounds the people offered to stand in.
const standInsMax = 4

// StandIns offers managers the people who could open or close instead.
func StandIns(t *telling.Teller, change shop.Change) (rows [][]chat.Button) {
	day := Compact(change.From)
	if change.Each != "" { // hours say who comes each week: wed sam opens
		return nil
	}
	for _, p := range t.F.Shop.People {
		if p.ID == change.Absent || t.F.Shop.Plan.Absent(p.ID, change.From) || len(rows) >= standInsMax {
			continue
		}
		id := "." + day + "." + strconv.FormatInt(int64(p.ID), 10)
		rows = append(rows, slices.Concat(t.Button("opens", "o:duty:opens"+id, "name", p.Name),
			t.Button("closes", "o:duty:closes"+id, "name", p.Name)))
	}
	return rows
}

// Compact writes a date as 20261125, which leaves room in a button.
func Compact(d shop.Date) string { return strings.ReplaceAll(string(d), "-", "") }

// CompactDate reads it back.
func CompactDate(s string) (shop.Date, bool) {
	t, err := time.Parse("20060102", s)
	return shop.DateOf(t), err == nil
}

// TappedUsual says that the shop trades on a public holiday.
func TappedUsual(t *telling.Teller, arg string) (change shop.Change, key string, ok bool) {
	date, ok := CompactDate(arg)
	return shop.Change{From: date, To: date, Usual: true},
		DueKey(t, reminders.Name{Date: date.Add(-1), Task: reminders.Eve}), ok
}

// TappedDuty gives somebody's task to another.
func TappedDuty(t *telling.Teller, arg string) (change shop.Change, key string, ok bool) {
	parts := strings.Split(arg, ".")
	if len(parts) != 3 || parts[0] != "opens" && parts[0] != "closes" {
		return change, "", false
	}
	date, dated := CompactDate(parts[1])
	id, err := strconv.ParseInt(parts[2], 10, 64)
	_, works := t.F.Shop.Person(shop.PersonID(id))
	change = shop.Change{From: date, To: date, Duty: dutyOf(shop.PersonID(id), parts[0] == "opens")}
	return change, "", dated && err == nil && works
}

// Tapped makes a change that somebody else asked a manager for, see [Button].
func Tapped(_ *telling.Teller, arg string) (change shop.Change, key string, ok bool) {
	parts := strings.Split(arg, ".")
	if len(parts) != 3 {
		return change, "", false
	}
	from, okFrom := CompactDate(parts[1])
	to, okTo := CompactDate(parts[2])
	change = shop.Change{From: from, To: to}
	what, minutes, _ := strings.Cut(parts[0], "-")
	m, err := strconv.Atoi(minutes)
	switch {
	case what == "hours":
		h, is := hoursOf(minutes)
		change.Open, change.Close, change.PauseFrom, change.PauseTo = &h.Open, &h.Close, h.PauseFrom, h.PauseTo
		okTo = okTo && is
	case what == "open" && err == nil && m >= 0 && m < 24*60:
		change.Open = &m
	case what == "close" && err == nil && m >= 0 && m <= 24*60:
		change.Close = &m
	default:
		change.Usual, change.Off, change.Closed = what == "usual", what == "off", what == "closed"
	}
	meant := change.Open != nil || change.Close != nil || change.Usual || change.Silences()
	return change, Key(change), okFrom && okTo && to >= from && meant
}

// Key names the message that asks managers for a change.
func Key(change shop.Change) string { return "say-" + Button(change) }

// Button writes a change that only a manager may make as a button does:
// closed.20261224.20261227, or close-900.20261125.20261125.
func Button(change shop.Change) string {
	what := "closed"
	switch {
	case change.Open != nil && change.Close != nil:
		what = fmt.Sprintf("hours-%d-%d-%d-%d", *change.Open, *change.Close, change.PauseFrom, change.PauseTo)
	case change.Open != nil:
		what = "open-" + strconv.Itoa(*change.Open)
	case change.Close != nil:
		what = "close-" + strconv.Itoa(*change.Close)
	case change.Usual:
		what = "usual"
	case change.Off:
		what = "off"
	}
	return what + "." + Compact(change.From) + "." + Compact(change.To)
}

// hoursOf reads the hours of a button, 420-1140-780-900: from when to when, and the pause.
func hoursOf(s string) (h shop.Hours, ok bool) {
	n, err := fmt.Sscanf(s, "%d-%d-%d-%d", &h.Open, &h.Close, &h.PauseFrom, &h.PauseTo)
	again := fmt.Sprintf("%d-%d-%d-%d", h.Open, h.Close, h.PauseFrom, h.PauseTo)
	return h, err == nil && n == 4 && again == s && h.Sound()
}

// absent names the words for somebody who cannot come: the speaker or another.
func absent(t *telling.Teller, how string, change shop.Change) string {
	return texts.Either(how == "shift." && change.Absent != t.F.Person.ID, "absent", "ill")
}

// Words words changes, a line each.
func Words(t *telling.Teller, how string, list []shop.Change) string {
	var lines []string
	for _, change := range list {
		lines = append(lines, Word(t, how, change))
	}
	return strings.Join(lines, "\n")
}

// Word words a change, as it is asked or as it is told.
func Word(t *telling.Teller, how string, change shop.Change) string {
	fill := []any{"days", t.Between(change.From, change.To), "who", t.F.Person.Name}
	if change.Each != "" {
		day := t.V.List("words.weekdays")[slices.Index(shop.Weekdays(), change.Each)]
		fill[1] = t.V.Say("shift.each", "day", strings.ToUpper(day[:1])+day[1:])
	}
	switch {
	case change.Back != 0 && change.Each != "":
		return t.V.Say(how+"back-each", append(fill, "name", t.Name(change.Back))...)
	case change.Back != 0:
		fill[1] = t.Between(change.From, change.From)
		self := how == "shift." && change.Back == t.F.Person.ID
		return t.V.Say(how+texts.Either(self, "back-self", "back"), append(fill, "name", t.Name(change.Back))...)
	case change.Absent != 0:
		return t.V.Say(how+absent(t, how, change), append(fill, "name", t.Name(change.Absent))...)
	case change.Duty.Opens != 0:
		return t.V.Say(how+"opens", append(fill, "name", t.Name(change.Duty.Opens))...)
	case change.Duty.Closes != 0:
		return t.V.Say(how+"closes", append(fill, "name", t.Name(change.Duty.Closes))...)
	case change.Open != nil && change.Close != nil:
		h := shop.Hours{Open: *change.Open, Close: *change.Close,
			PauseFrom: change.PauseFrom, PauseTo: change.PauseTo}
		return t.V.Say(how+"hours-on", append(fill, "hours", telling.Span(h))...)
	case change.Open != nil:
		return t.V.Say(how+"opening-at", append(fill, "time", telling.ClockText(*change.Open))...)
	case change.Close != nil:
		return t.V.Say(how+"closing-at", append(fill, "time", telling.ClockText(*change.Close))...)
	case change.Usual:
		return t.V.Say(how+"usual", fill...)
	case change.Off:
		return t.V.Say(how+"nobody", fill...)
	case change.Mute:
		return t.V.Say(how+"mute", fill...)
	case isForGood(change):
		return t.V.Say(how+"for-good", append(fill, "day", t.DayYear(change.From))...)
	}
	return t.V.Say(how+"closed", fill...)
}

package staff

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// Without are settings of a shop that somebody left.
func Without(s shop.Settings, p shop.Person) shop.Settings {
	s.People = slices.DeleteFunc(slices.Clone(s.People), func(o shop.Person) bool { return o.ID == p.ID })
	p.Deputy = false
	s.Former = append(slices.Clone(s.Former), p)
	return s
}

// lookBack is how far back the records of somebody who left are shown.
const lookBack = 7 * 24 * time.Hour

// Did are the records that somebody made in the last seven days, newest first.
func Did(t *telling.Teller, who shop.PersonID) []chat.Did {
	if t.F.Ask.Did == nil {
		return nil
	}
	did := t.F.Ask.Did(who, t.Now.Add(-lookBack))
	slices.Reverse(did)
	return did
}

// DidLines tells some of them, a line each.
func DidLines(t *telling.Teller, who shop.PersonID, did []chat.Did) []string {
	lines := []string{t.V.Say("days", "who", t.Name(who))}
	for _, d := range did {
		line := t.Clock(d.Happened) + " " + t.V.Say("kind."+string(d.Kind))
		if m := t.F.Shop.Machine(d.Machine); m != nil && len(t.F.Shop.Machines) > 1 {
			line += ", " + m.Name
		}
		lines = append(lines, line)
	}
	return lines
}

// leaverItems are what the shop should change when somebody leaves. Only
// whether it is done is asked, never a number.
var leaverItems = []string{"keys", "safe", "alarm"}

// Leaver asks what of it is done; a bit of done for each item.
func Leaver(t *telling.Teller, p shop.Person, done int) chat.Reply {
	id := strconv.FormatInt(int64(p.ID), 10)
	lines := []string{t.V.Say("leaver", "who", t.Called(p))}
	var rows [][]chat.Button
	for i, item := range leaverItems {
		if done>>i&1 == 1 {
			lines = append(lines, t.V.Say("leaver-done", "what", t.V.Say("leaver."+item)))
			continue
		}
		lines = append(lines, "- "+t.V.Say("leaver."+item))
		rows = append(rows, t.Button("leaver-"+item, "o:leaver:"+id+"."+strconv.Itoa(done)+"."+strconv.Itoa(i)))
	}
	return chat.Reply{Key: "leaver-" + id, Body: []chat.Block{chat.Lines(lines...)}, Buttons: rows}
}

// Ticked reads what a button of that card says: who left, and what is done once it is
// tapped.
func Ticked(s *shop.Shop, arg string) (p shop.Person, done int, ok bool) {
	parts := strings.Split(arg, ".")
	if len(parts) != 3 {
		return p, 0, false
	}
	id, bad := strconv.ParseInt(parts[0], 10, 64)
	before, bad2 := strconv.ParseUint(parts[1], 10, len(leaverItems))
	item, bad3 := strconv.Atoi(parts[2])
	if bad != nil || bad2 != nil || bad3 != nil || item < 0 || item >= len(leaverItems) {
		return p, 0, false
	}
	p, ok = s.Known(shop.PersonID(id))
	return p, int(before) | 1<<item, ok
}

// Losable are the people whose phone the speaker may cut off.
func Losable(t *telling.Teller) (list []shop.Person) {
	for _, p := range t.F.Shop.People {
		live, _, _ := PhonesOf(t, p.ID)
		if live && p.ID != t.F.Person.ID && access.MayManage(t.F.Person.Role, p.Role) {
			list = append(list, p)
		}
	}
	return list
}

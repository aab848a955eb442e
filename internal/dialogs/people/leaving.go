package people

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/staff"
)

func askRemove(c *engine.Talk) *engine.Card {
	p, ok := whom(c)
	if !ok {
		c.GoTo("list")
		return nil
	}
	if staff.LastOwner(c.Teller, p) {
		c.First(c.V.Say("last-owner"))
		c.GoTo("person")
		return nil
	}
	return &engine.Card{Body: []chat.Block{{Text: c.V.Say("ask.remove", "who", p.Name)}},
		Buttons: [][]chat.Button{c.Button("remove", "yes"), c.Button("back", "back")}}
}

// removePerson cuts somebody off at once. Their records keep their name.
func removePerson(c *engine.Talk) {
	p, ok := whom(c)
	if !ok || !staff.MayManage(c.Teller, p) || staff.LastOwner(c.Teller, p) {
		c.GoTo("list")
		return
	}
	s := c.F.Shop.Settings
	s.People = slices.DeleteFunc(slices.Clone(s.People), func(o shop.Person) bool { return o.ID == p.ID })
	p.Deputy = false
	s.Former = append(slices.Clone(s.Former), p)
	c.Settings, c.Remove = &s, p.ID
	if p.ID == c.F.Person.ID {
		c.Close(chat.Block{Text: c.V.Say("left")})
		return
	}
	card := leaverCard(c, p, 0)
	if c.F.Person.Role == shop.Owner {
		c.Post(card)
	} else {
		for _, o := range s.People {
			if o.Role == shop.Owner {
				c.TellPerson(o.ID, card)
			}
		}
	}
	c.First(c.V.Say("removed", "who", p.Name))
	ask.FirstPage("days")(c)
}

// lookBack is how far back the records of somebody who left are shown.
const lookBack = 7 * 24 * time.Hour

func daysTaps() map[string]func(*engine.Talk) {
	return map[string]func(*engine.Talk){"more": ask.NextPage,
		"done": func(c *engine.Talk) { c.Close(chat.Block{Text: c.V.Say("days-done")}) }}
}

// askDays lists what somebody recorded in the last seven days, newest first.
func askDays(c *engine.Talk) *engine.Card {
	var did []chat.Did
	if c.F.Ask.Did != nil {
		did = c.F.Ask.Did(who(c), c.In.At.Add(-lookBack))
	}
	slices.Reverse(did)
	if len(did) == 0 {
		c.Close(chat.Block{Text: c.V.Say("days-none")})
		return nil
	}
	from, to, more := ask.Paged(c, len(did))
	lines := []string{c.V.Say("days", "who", c.Name(who(c)))}
	for _, d := range did[from:to] {
		line := c.Clock(d.Happened) + " " + c.V.Say("kind."+string(d.Kind))
		if m := c.F.Shop.Machine(d.Machine); m != nil && len(c.F.Shop.Machines) > 1 {
			line += ", " + m.Name
		}
		lines = append(lines, line)
	}
	k := &engine.Card{Body: []chat.Block{chat.Lines(lines...)}}
	if more {
		k.Buttons = append(k.Buttons, c.Button("more", "more"))
	}
	k.Buttons = append(k.Buttons, c.Button("days-done", "done"))
	return k
}

// leaverItems are what the shop should change when somebody leaves. Only
// whether it is done is asked, never a number.
var leaverItems = []string{"keys", "safe", "alarm"}

// leaverCard asks what is done; a bit of done for each item.
func leaverCard(c *engine.Talk, p shop.Person, done int) chat.Reply {
	id := strconv.FormatInt(int64(p.ID), 10)
	lines := []string{c.V.Say("leaver", "who", c.Called(p))}
	var rows [][]chat.Button
	for i, item := range leaverItems {
		if done>>i&1 == 1 {
			lines = append(lines, c.V.Say("leaver-done", "what", c.V.Say("leaver."+item)))
			continue
		}
		lines = append(lines, "- "+c.V.Say("leaver."+item))
		rows = append(rows, c.Button("leaver-"+item, "o:leaver:"+id+"."+strconv.Itoa(done)+"."+strconv.Itoa(i)))
	}
	return chat.Reply{Key: "leaver-" + id, Body: []chat.Block{chat.Lines(lines...)}, Buttons: rows}
}

// leaverTap ticks one item off.
func leaverTap(c *engine.Talk, arg string) {
	parts := strings.Split(arg, ".")
	if len(parts) != 3 {
		c.Notice = c.V.Say("notice.unknown")
		return
	}
	id, err := strconv.ParseInt(parts[0], 10, 64)
	done, ok := ask.Index(parts[1], 1<<len(leaverItems))
	item, ok2 := ask.Index(parts[2], len(leaverItems))
	p, known := c.F.Shop.Known(shop.PersonID(id))
	if err != nil || !ok || !ok2 || !known {
		c.Notice = c.V.Say("notice.unknown")
		return
	}
	c.Rewrite(leaverCard(c, p, done|1<<item))
}

func formerOptions(c *engine.Talk) []ask.Option {
	return named(staff.FormerNamed(c.Teller), "f-", "erase")
}

func askErase(c *engine.Talk) *engine.Card {
	p, ok := c.F.Shop.Known(who(c))
	if !ok || p.Name == "" || c.F.Person.Role != shop.Owner {
		c.GoTo("former")
		return nil
	}
	return &engine.Card{Body: []chat.Block{{Text: c.V.Say("ask.erase", "who", p.Name, "as", c.Pseudonym(p.ID))}},
		Buttons: [][]chat.Button{c.Button("erase", "yes"), c.Button("back", "back")}}
}

// erasePerson takes a name out of the file. The records stay as they are.
func erasePerson(c *engine.Talk) {
	if c.F.Person.Role != shop.Owner {
		c.GoTo("list")
		return
	}
	c.Erase = who(c)
	c.Close(chat.Block{Text: c.V.Say("erased", "as", c.Pseudonym(who(c)))})
}

package dialogs

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/shop"
)

func askRemove(c *talk) *card {
	p, ok := c.whom()
	if !ok {
		c.goTo("list")
		return nil
	}
	if c.lastOwner(p) {
		c.first(c.v.Say("last-owner"))
		c.goTo("person")
		return nil
	}
	return &card{body: []Block{{Text: c.v.Say("ask.remove", "who", p.Name)}},
		buttons: [][]Button{c.button("remove", "yes"), c.button("back", "back")}}
}

// removePerson cuts somebody off at once. Their records keep their name.
func removePerson(c *talk) {
	p, ok := c.whom()
	if !ok || !c.mayManage(p) || c.lastOwner(p) {
		c.goTo("list")
		return
	}
	s := c.f.Shop.Settings
	s.People = slices.DeleteFunc(slices.Clone(s.People), func(o shop.Person) bool { return o.ID == p.ID })
	p.Deputy = false
	s.Former = append(slices.Clone(s.Former), p)
	c.Settings, c.Remove = &s, p.ID
	if p.ID == c.f.Person.ID {
		c.close(Block{Text: c.v.Say("left")})
		return
	}
	card := c.leaverCard(p, 0)
	if c.f.Person.Role == shop.Owner {
		c.post(card)
	} else {
		for _, o := range s.People {
			if o.Role == shop.Owner {
				c.tellPerson(o.ID, card)
			}
		}
	}
	c.first(c.v.Say("removed", "who", p.Name))
	c.choose("page", "0")
	c.goTo("days")
}

// lookBack is how far back the records of somebody who left are shown.
const lookBack = 7 * 24 * time.Hour

func daysTaps() map[string]func(*talk) {
	return map[string]func(*talk){
		"more": nextPage,
		"done": func(c *talk) { c.close(Block{Text: c.v.Say("days-done")}) },
	}
}

// askDays lists what somebody recorded in the last seven days, newest first.
func askDays(c *talk) *card {
	var did []Did
	if c.f.Ask.Did != nil {
		did = c.f.Ask.Did(c.coded(), c.in.At.Add(-lookBack))
	}
	slices.Reverse(did)
	if len(did) == 0 {
		c.close(Block{Text: c.v.Say("days-none")})
		return nil
	}
	from, to, more := c.paged(len(did))
	lines := []string{c.v.Say("days", "who", c.name(c.coded()))}
	for _, d := range did[from:to] {
		line := c.clock(d.Happened) + " " + c.v.Say("kind."+string(d.Kind))
		if m := c.f.Shop.Machine(d.Machine); m != nil && len(c.f.Shop.Machines) > 1 {
			line += ", " + m.Name
		}
		lines = append(lines, line)
	}
	k := &card{body: []Block{text(lines...)}}
	if more {
		k.buttons = append(k.buttons, c.button("more", "more"))
	}
	k.buttons = append(k.buttons, c.button("days-done", "done"))
	return k
}

// leaverItems are what the shop should change when somebody leaves. Only
// whether it is done is asked, never a number.
var leaverItems = []string{"keys", "safe", "alarm"}

// leaverCard asks what is done; a bit of done for each item.
func (c *talk) leaverCard(p shop.Person, done int) Reply {
	id := strconv.FormatInt(int64(p.ID), 10)
	lines := []string{c.v.Say("leaver", "who", c.called(p))}
	var rows [][]Button
	for i, item := range leaverItems {
		if done>>i&1 == 1 {
			lines = append(lines, c.v.Say("leaver-done", "what", c.v.Say("leaver."+item)))
			continue
		}
		lines = append(lines, "- "+c.v.Say("leaver."+item))
		rows = append(rows, c.button("leaver-"+item, "o:leaver:"+id+"."+strconv.Itoa(done)+"."+strconv.Itoa(i)))
	}
	return Reply{Key: "leaver-" + id, Body: []Block{text(lines...)}, Buttons: rows}
}

// leaverTap ticks one item off.
func (c *talk) leaverTap(arg string) {
	parts := strings.Split(arg, ".")
	if len(parts) != 3 {
		c.Notice = c.v.Say("notice.unknown")
		return
	}
	id, err := strconv.ParseInt(parts[0], 10, 64)
	done, ok := index(parts[1], 1<<len(leaverItems))
	item, ok2 := index(parts[2], len(leaverItems))
	p, known := c.f.Shop.Known(shop.PersonID(id))
	if err != nil || !ok || !ok2 || !known {
		c.Notice = c.v.Say("notice.unknown")
		return
	}
	c.rewrite(c.leaverCard(p, done|1<<item))
}

// formerNamed are people who left and still have their name; only an owner may see to them.
func (c *talk) formerNamed() []shop.Person {
	if c.f.Person.Role != shop.Owner {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(c.f.Shop.Former), func(p shop.Person) bool { return p.Name == "" })
}

func formerOptions(c *talk) []option { return named(c.formerNamed(), "f-", remembered("who", "erase")) }

func askErase(c *talk) *card {
	p, ok := c.f.Shop.Known(c.coded())
	if !ok || p.Name == "" || c.f.Person.Role != shop.Owner {
		c.goTo("former")
		return nil
	}
	return &card{body: []Block{{Text: c.v.Say("ask.erase", "who", p.Name, "as", c.pseudonym(p.ID))}},
		buttons: [][]Button{c.button("erase", "yes"), c.button("back", "back")}}
}

// erasePerson takes a name out of the file. The records stay as they are.
func erasePerson(c *talk) {
	if c.f.Person.Role != shop.Owner {
		c.goTo("list")
		return
	}
	c.Erase = c.coded()
	c.close(Block{Text: c.v.Say("erased", "as", c.pseudonym(c.coded()))})
}

// called is a person's name, or what stands for it once it is erased.
func (c *talk) called(p shop.Person) string {
	if p.Name == "" {
		return c.pseudonym(p.ID)
	}
	return p.Name
}

// pseudonym stands for somebody whose name was erased, the same everywhere.
func (c *talk) pseudonym(id shop.PersonID) string {
	const letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"
	code := make([]byte, 0, 4)
	for n := uint64(id); len(code) < cap(code); n /= uint64(len(letters)) {
		code = append(code, letters[n%uint64(len(letters))])
	}
	return c.v.Say("pseudonym", "code", string(code))
}

package dialogs

import (
	"strconv"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// switchFlow turns to another shop or machine.
func switchFlow() *flow {
	return &flow{
		name: doSwitch, title: "switch", version: 1, start: func(c *talk) { c.goTo("which") },
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsNothing, again: answersAgain,
		paper: offPaper, loses: losesNothing, stopped: nothingChanged,
		rights:   rights{access.Everyone, ownPhone, fromStart},
		commands: []command{{name: doSwitch, does: startsDialog, help: helpMore, takes: anyWords}},
		screens:  map[string]screen{"which": pick{head: askSite, options: siteOptions, take: (*talk).turnTo, paged: true, what: "what.switch"}.screen()},
	}
}

func (c *talk) sites() []Site {
	if c.f.Ask.Sites == nil {
		return nil
	}
	return c.f.Ask.Sites()
}

// siteName names a shop, and its machine where there are several.
func (c *talk) siteName(s Site) string {
	if s.Shop.Name == "" {
		return c.v.Say("place-new")
	}
	if s.Machine == nil || len(s.Shop.Machines) < 2 {
		return s.Shop.Name
	}
	return c.v.Say("place", "shop", s.Shop.Name, "machine", s.Shop.Machine(s.Machine.ID).Name)
}

func (s Site) ref() string {
	id := shop.MachineID(0)
	if s.Machine != nil {
		id = s.Machine.ID
	}
	return "s-" + strconv.FormatInt(int64(s.Shop.ID), 10) + "." + strconv.FormatInt(int64(id), 10)
}

func askSite(c *talk) *card {
	sites := c.sites()
	c.nowhere = true
	if len(sites) < 2 {
		c.close(Block{Text: c.v.Say("switch-one", "place", c.f.Shop.Name)})
		return nil
	}
	return asking("ask.switch")(c)
}

// siteOptions are the machines that the speaker may look at, see [Engine.turnTo].
func siteOptions(c *talk) (list []option) {
	for _, s := range c.sites() {
		list = append(list, option{label: short(c.siteName(s), labelMax), value: s.ref()})
	}
	return list
}

// turnTo makes a site the one the chat talks about, and goes on with what was
// asked for before, if anything was.
func (c *talk) turnTo(choice string) {
	for _, s := range c.sites() {
		if s.ref() != choice {
			continue
		}
		want, name := c.chosen("want"), c.siteName(s)
		if s.Shop.ID != c.f.Shop.ID {
			c.Turn = s.Shop.ID
			want = ""
		}
		if s.Machine != nil {
			c.State.Machine, c.m, c.f.Machine, c.f.Others = s.Machine.ID, s.Machine, s.Machine, nil
			c.kit, c.unsure = s.Shop.Machine(s.Machine.ID), false
		}
		if f := c.e.flows[want]; f != nil && c.may(want) {
			c.first(c.v.Say("switched", "place", name))
			c.enter(want)
			f.start(c)
			return
		}
		c.nowhere = true
		c.close(Block{Text: c.v.Say("switched", "place", name)})
		return
	}

}

// askMachine asks which machine is meant, when somebody works at several and
// never said.
func (c *talk) askMachine(want string) {
	c.enter(doSwitch)
	c.choose("want", want)
	c.goTo("which")
	c.show()
}

// siteLines is how many machines an overview shows at once.
const siteLines = 5

func overviewCommand() command {
	return command{name: doOverview, rights: rights{access.Managing, ownPhone, onceSetUp},
		does: tellsOnly, help: helpMore, takes: anyWords, menu: 7, run: (*talk).overview}
}

// overview shows every machine of the shops that the speaker manages.
func (c *talk) overview() {
	var sites []Site
	for _, s := range c.sites() {
		if s.Person.Role.Manages() {
			sites = append(sites, s)
		}
	}
	page, _ := strconv.Atoi(c.rest)
	if page < 1 || (page-1)*siteLines >= len(sites) {
		page = 1
	}
	from := min((page-1)*siteLines, len(sites))
	to := min(from+siteLines, len(sites))
	body := []Block{{Text: c.v.Say("overview")}}
	for _, s := range sites[from:to] {
		body = append(body, text(c.siteBlock(s)...))
	}
	if to < len(sites) {
		body = append(body, Block{Text: c.v.Say("overview-more", "page", page+1)})
	}
	c.send(Reply{Body: body})
}

// siteBlock tells of one machine: open or closed, levels, last difference, and
// what is overdue.
func (c *talk) siteBlock(s Site) []string {
	name := c.siteName(s)
	if s.Machine == nil {
		return []string{name, c.v.Say("not-set-up")}
	}
	at := c.e.talk(State{V: StateFormat, Machine: s.Machine.ID}, c.in,
		Facts{Shop: s.Shop, Person: s.Person, Machine: s.Machine, Lang: c.f.Lang})
	lines := []string{name}
	p := at.m.Current()
	if p == nil {
		lines = append(lines, at.v.Say("site.closed"))
	} else {
		lines = append(lines, at.v.Say("site.open", "when", at.clock(p.Opened), "who", at.name(p.By)))
		if s.Blind {
			lines = append(lines, at.v.Say("hidden"))
		} else {
			lines = append(lines, at.v.Say("site.levels", "levels", at.levelsInWords(p)))
		}
	}
	if last := at.m.Last(); last != nil && last.Status == books.Closed && !s.Blind {
		lines = append(lines, at.v.Say("site.last", "day", at.v.Day(at.local(last.Opened)),
			"result", at.total(last, last.Verdict, last.Variance)))
	}
	if p != nil && !sameDay(at.local(p.Opened), at.local(c.in.At)) && s.Shop.Nightly {
		lines = append(lines, at.v.Say("site.overdue", "day", at.v.Day(at.local(p.Opened))))
	}
	return append(lines, at.todo()...)
}

// levelsInWords tells what is in the boxes in one line: 40 x 50s, 150 x 20s.
func (c *talk) levelsInWords(p *books.Period) string {
	var parts []string
	for _, l := range boxLines(c) {
		n, _ := estimate(p, l.box)
		parts = append(parts, c.v.Count("notes-of", n, "kind", c.v.Kind(l.face)))
	}
	return strings.Join(parts, ", ")
}

func newShopCommand() command {
	return command{name: doNewShop, rights: rights{access.Owning, ownPhone, fromStart},
		does: startsDialog, help: helpNever, takes: anyWords, run: (*talk).anotherShop}
}

// anotherShop founds one more shop for an owner.
func (c *talk) anotherShop() {
	st := c.State
	fresh, err := c.e.newShop(st, c.in, c.f, shop.Person{Name: c.f.Person.Name, Role: shop.Owner})
	if err != nil {
		c.refuse(err)
		return
	}
	fresh.Found = true
	fresh.first(c.v.Say("another-shop"))
	fresh.Replies = c.Replies
	*c = *fresh
	c.begin(doSetup)
}

// draftVoice speaks in the currency of the draft.
func (c *talk) draftVoice() *texts.Voice {
	return c.all.In(c.f.Lang, c.chosen("country"), c.chosen("currency"))
}

// setupMoments are a shop that is not set up, and a shop with several machines.
func setupMoments() moments { return moments{fresh: (*talk).fresh, which: (*talk).askMachine} }

package setup

import (
	"strconv"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/readback"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// switchDraft is what goes on once the chat talks about a machine.
type switchDraft struct {
	Want string `json:"want,omitempty"` // a dialog; empty: none
	Rest string `json:"rest,omitempty"` // what followed its command
}

// SwitchFlow turns to another shop or machine.
func SwitchFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoSwitch, Title: "switch", Version: 1, Draft: func() any { return &switchDraft{} },
		Start: func(c *engine.Talk) { c.GoTo("which") },
		Safe:  engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain, Paper: engine.OffPaper, Loses: engine.LosesNothing,
		Stopped: engine.NothingChanged,
		Rights:  engine.May(access.Everyone, engine.OwnPhone, engine.FromStart),
		Commands: []engine.Command{
			{Name: engine.DoSwitch, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.AnyWords}},
		View: true, Screens: map[string]engine.Screen{
			"which": ask.Pick{Head: askSite, Options: siteOptions, Take: turnTo, Paged: true,
				What: "what.switch"}.Screen(),
			"there": {Ask: askThere, What: "what.switch", Taps: map[string]func(*engine.Talk){"go": goThere}},
		},
	}
}

func sitesOf(c *engine.Talk) []chat.Site {
	if c.F.Ask.Sites == nil {
		return nil
	}
	return c.F.Ask.Sites()
}

func askSite(c *engine.Talk) *engine.Card {
	sites := sitesOf(c)
	c.Nowhere = true
	if len(sites) < 2 {
		c.Close(chat.Block{Text: c.V.Say("switch-one", "place", c.F.Shop.Name)})
		return nil
	}
	return ask.Asking("ask.switch")(c)
}

// siteOptions are the machines that the speaker may look at, see [Engine.turnTo]; of
// those it is asked of, the ones that the dialog which waits can be about.
func siteOptions(c *engine.Talk) (list []ask.Option) {
	sites := sitesOf(c)
	if fit, ok := telling.Fitting(sites, engine.Drafted[switchDraft](c).Want, c.In.At); ok {
		sites = fit
	}
	for _, s := range sites {
		label := texts.Short(readback.SiteName(c.Teller, s), texts.LabelMax)
		list = append(list, ask.Option{Label: label, Value: readback.SiteRef(s)})
	}
	return list
}

// turnTo makes a site the one the chat talks about, and goes on with what was
// asked for before, if anything was.
func turnTo(c *engine.Talk, choice string) {
	for _, s := range sitesOf(c) {
		if readback.SiteRef(s) != choice {
			continue
		}
		name := readback.SiteName(c.Teller, s)
		turn(c, s)
		switch f := c.E.Flows[engine.Drafted[switchDraft](c).Want]; {
		case f != nil && c.Turn != 0: // its books are at hand with the next tap
			c.Nowhere = true
			c.GoTo("there")
		case f != nil && c.May(f.Name):
			goThere(c)
		default:
			c.State.Turned, c.Nowhere = c.In.At, true
			c.Close(chat.Block{Text: c.V.Say("switched", "place", name)})
		}
		return
	}
}

// turn makes a site the one that this step is about.
func turn(c *engine.Talk, s chat.Site) {
	if s.Shop.ID != c.F.Shop.ID {
		c.Turn = s.Shop.ID
	}
	if s.Machine != nil && (s.Machine.ID != c.M.ID || c.Unsure) {
		c.State.Machine, c.M, c.F.Machine, c.F.Others = s.Machine.ID, s.Machine, s.Machine, nil
		c.Kit, c.Unsure = s.Shop.Machine(s.Machine.ID), false
	}
}

func askThere(c *engine.Talk) *engine.Card {
	what := c.V.Say("flow." + c.E.Flows[engine.Drafted[switchDraft](c).Want].Title)
	return &engine.Card{Body: []chat.Block{{Text: c.V.Say("switched-there", "what", what)}},
		Buttons: [][]chat.Button{c.Button("stay", "go", "what", what)}}
}

// goThere begins what was asked for, with what followed its command.
func goThere(c *engine.Talk) {
	d := *engine.Drafted[switchDraft](c)
	if !c.May(d.Want) {
		c.Close(chat.Block{Text: c.V.Say("notice.may-not")})
		return
	}
	c.Enter(d.Want)
	c.Rest = d.Rest
	c.E.Flows[d.Want].Start(c)
}

// turnHolds is how long it is taken that somebody is at the machine they named.
const turnHolds = 30 * time.Minute

// askMachine asks which machine is meant, where what is asked for can be about several. The
// one that was talked of last says nothing. Of a single one the card itself says which.
func askMachine(c *engine.Talk, want string) bool {
	list, known := telling.Fitting(sitesOf(c), want, c.In.At)
	named := !c.Unsure && (c.In.Kind == chat.Press || c.In.At.Sub(c.State.Turned) < turnHolds)
	switch {
	case named, !known && !(c.Unsure && c.E.Flows[want].Company == engine.OneAtATime):
		return false
	case known && len(list) == 1 && list[0].Shop.ID == c.F.Shop.ID:
		turn(c, list[0])
		return false
	}
	rest := c.Rest
	c.Enter(engine.DoSwitch)
	*engine.Drafted[switchDraft](c) = switchDraft{Want: want, Rest: rest}
	c.GoTo("which")
	c.Show()
	return true
}

// siteLines is how many machines an overview shows at once.
const siteLines = 5

// OverviewCommand tells how all machines stand that the speaker manages.
func OverviewCommand() engine.Command {
	return engine.Command{Name: engine.DoOverview,
		Rights: engine.May(access.Managing, engine.OwnPhone, engine.OnceSetUp), Does: engine.TellsOnly,
		Help: engine.HelpMore, Takes: engine.AnyWords, Menu: 7, Run: overview}
}

// overview shows every machine of the shops that the speaker manages.
func overview(c *engine.Talk) {
	var sites []chat.Site
	for _, s := range sitesOf(c) {
		if s.Person.Role.Manages() {
			sites = append(sites, s)
		}
	}
	page, _ := strconv.Atoi(c.Rest)
	if page < 1 || (page-1)*siteLines >= len(sites) {
		page = 1
	}
	from := min((page-1)*siteLines, len(sites))
	to := min(from+siteLines, len(sites))
	body := []chat.Block{{Text: c.V.Say("overview")}}
	for _, s := range sites[from:to] {
		body = append(body, chat.Lines(siteBlock(c, s)...))
	}
	if to < len(sites) {
		body = append(body, chat.Block{Text: c.V.Say("overview-more", "page", page+1)})
	}
	c.Send(chat.Reply{Body: body})
}

// siteBlock tells of one machine: open or closed, levels, last difference, and
// what is overdue.
func siteBlock(c *engine.Talk, s chat.Site) []string {
	name := readback.SiteName(c.Teller, s)
	if s.Machine == nil {
		return []string{name, c.V.Say("not-set-up")}
	}
	at := c.E.Talk(chat.State{V: chat.StateFormat, Machine: s.Machine.ID}, c.In,
		chat.Facts{Shop: s.Shop, Person: s.Person, Machine: s.Machine, Lang: c.F.Lang})
	lines := []string{name}
	p := at.M.Current()
	if p == nil {
		lines = append(lines, at.V.Say("site.closed"))
	} else {
		lines = append(lines, at.V.Say("site.open", "when", at.Clock(p.Opened), "who", at.Name(p.By)))
		if s.Blind {
			lines = append(lines, at.V.Say("hidden"))
		} else {
			levels := readback.LevelsInWords(at.Teller, ask.BoxLines(at), p)
			lines = append(lines, at.V.Say("site.levels", "levels", levels))
		}
	}
	if last := at.M.Last(); last != nil && last.Status == books.Closed && !s.Blind {
		lines = append(lines, at.V.Say("site.last", "day", at.V.Day(at.Local(last.Opened)),
			"result", telling.Total(at.Teller, last, last.Verdict, last.Variance)))
	}
	if p != nil && !telling.SameDay(at.Local(p.Opened), at.Local(c.In.At)) && s.Shop.Nightly {
		lines = append(lines, at.V.Say("site.overdue", "day", at.V.Day(at.Local(p.Opened))))
	}
	return append(lines, telling.Todo(at.Teller)...)
}

// NewShopCommand founds one more shop.
func NewShopCommand() engine.Command {
	return engine.Command{Name: engine.DoNewShop,
		Rights: engine.May(access.Owning, engine.OwnPhone, engine.FromStart), Does: engine.StartsDialog,
		Help: engine.HelpNever, Takes: engine.AnyWords, Run: anotherShop}
}

// anotherShop founds one more shop for an owner.
func anotherShop(c *engine.Talk) {
	st := c.State
	fresh, err := trade.NewShop(c.E, st, c.In, c.F, shop.Person{Name: c.F.Person.Name, Role: shop.Owner})
	if err != nil {
		c.Refuse(err)
		return
	}
	fresh.Found, fresh.State.Turned = true, c.In.At
	fresh.First(c.V.Say("another-shop"))
	fresh.Replies = c.Replies
	*c = *fresh
	c.Begin(engine.DoSetup)
}

// Moments are a shop that is not set up, and a shop with several machines.
func Moments() engine.Moments { return engine.Moments{Fresh: fresh, Which: askMachine} }

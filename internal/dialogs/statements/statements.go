// Package statements is the room of the bank's own statements: a file that was
// sent is read outside, and what its lines are for is booked here, by tap.
package statements

import (
	"slices"
	"strconv"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/settling"
	"shopfloat/internal/shop"
	"shopfloat/internal/stated"
	"shopfloat/internal/statement"
)

// draft is the statement at hand and how far it was gone through.
type draft struct {
	Statement int64             `json:"statement,omitempty"`
	Reading   *settling.Reading `json:"reading,omitempty"`
	Want      settling.Want     `json:"want,omitzero"` // by which it was read
	At        int               `json:"at,omitempty"`  // place of the line that is asked about
	Way       int               `json:"way,omitempty"` // what it was said to be for
	Ties      []shop.ID         `json:"ties,omitempty"`
	Booked    int               `json:"booked,omitempty"`
	Left      int               `json:"left,omitempty"`
	Parts     []settling.Part   `json:"parts,omitempty"` // of a line that is shared out by hand
	Part      settling.Part     `json:"part,omitzero"`   // the day whose part is asked for
}

func drafted(c *engine.Talk) *draft { return engine.Drafted[draft](c) }

// Flow goes through a statement.
func Flow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoStatement, Title: "statement", Version: 1, Draft: func() any { return &draft{} },
		Start: func(c *engine.Talk) { c.GoTo("wait") },
		Safe:  engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide,
		Tells: engine.TellsFigures, Again: engine.AnswersAgain, Paper: engine.OffPaper,
		Loses: engine.LosesNothing, Stopped: stopped,
		Rights: engine.May(access.Keeping, engine.OwnPhone, engine.OnceSetUp),
		Commands: []engine.Command{{Name: engine.DoStatement, Does: engine.TellsOnly, Help: engine.HelpMore,
			Takes: engine.AnyWords, Run: func(c *engine.Talk) { c.Say(c.V.Say("statement.how")) }}},
		Cards: []engine.Standing{{Name: engine.DoStatement, Tap: tapLook, Typed: chat.AnyTyped}},
		Screens: map[string]engine.Screen{
			"wait":  {Ask: askWait, Taps: map[string]func(*engine.Talk){"again": readAgain}},
			"dates": ask.Pick{Head: askDates, Options: dateOptions}.Screen(),
			"day":   columnOf(statement.ByDay), "amount": columnOf(statement.ByAmount),
			"shops": ask.Pick{Head: askShops, Options: shopOptions, Paged: true, Foot: shopsNamed,
				Taps: map[string]func(*engine.Talk){"tied": tied}, What: "what.statement-shops"}.Screen(),
			"sure":   sureBooking().Screen(),
			"line":   ask.Pick{Head: askLine, Options: wayOptions, What: "what.statement-line"}.Screen(),
			"review": lineBooking().Screen(),
			"split": ask.Pick{Head: askSplit, Options: splitOptions, Back: "line", Paged: true,
				What: "what.statement-split"}.Screen(),
			"share": {Ask: askShare, Answer: answerShare, What: "what.statement-split",
				Taps: map[string]func(*engine.Talk){"most": shareMost, "back": engine.GoBack("split")}},
		},
	}
}

// Moments take files and what was read in them.
func Moments() engine.Moments { return engine.Moments{Filed: filed} }

func filed(c *engine.Talk) {
	c.Nowhere = true
	switch f := c.Flow(); {
	case c.In.Kind == chat.Read:
		arrived(c)
	case !c.May(engine.DoStatement):
		c.Say(c.V.Say("statement.may-not"))
	default:
		c.Orders.Read = &chat.ToRead{Photo: c.In.Photo}
		if c.First(c.V.Say("statement.got")); f != nil {
			c.Show()
			return
		}
		c.Send(chat.Reply{})
	}
}

// arrived shows what was read, unless something else is under way: it waits then for a tap.
func arrived(c *engine.Talk) {
	if !c.May(engine.DoStatement) {
		return
	}
	here := engine.Keeps[draft](c)
	if here && c.State.Step == "wait" && drafted(c).Statement == c.In.Statement {
		take(c)
		return
	}
	if c.Flow() != nil {
		reply := chat.Reply{Body: stated.Unread(c.Teller, c.In.Reading)}
		if reply.Body == nil {
			reply.Body, reply.Buttons = []chat.Block{chat.Lines(c.V.Say("statement.waits"))}, lookButton(c)
		}
		c.Send(reply)
		return
	}
	c.Enter(engine.DoStatement)
	drafted(c).Statement = c.In.Statement
	take(c)
}

func lookButton(c *engine.Talk) [][]chat.Button {
	return [][]chat.Button{c.Button("statement-look", "o:statement:"+strconv.FormatInt(c.In.Statement, 10))}
}

// tapLook has a statement read anew that waits: much may have been booked since.
func tapLook(c *engine.Talk, arg string) {
	id, err := strconv.ParseInt(arg, 10, 64)
	switch {
	case err != nil || id <= 0:
		c.UnknownTap()
	case c.Flow() != nil:
		c.Notice = c.V.Say("finish-first", "what", c.V.Say("flow."+c.Flow().Title))
	default:
		c.Begin(engine.DoStatement)
		drafted(c).Statement = id
		readAgain(c)
	}
}

// readAgain asks for the statement at hand as it stands now.
func readAgain(c *engine.Talk) {
	d := drafted(c)
	c.Orders.Read = &chat.ToRead{Statement: d.Statement, Want: d.Want}
	c.GoTo("wait")
}

func askWait(c *engine.Talk) *engine.Card {
	c.Nowhere = true
	return &engine.Card{Body: []chat.Block{chat.Lines(c.V.Say("statement.wait"))},
		Buttons: [][]chat.Button{c.Button("statement-again", "again")}}
}

// take goes to the first question about what was read.
func take(c *engine.Talk) {
	d, r := drafted(c), c.In.Reading
	d.Reading, d.At, d.Way, d.Ties, d.Parts = r, 0, 0, nil, nil
	if why := stated.Unread(c.Teller, r); why != nil {
		c.Close(why...)
		return
	}
	switch {
	case r.Unsure != nil && r.Unsure.Dates != "":
		c.GoTo("dates")
	case r.Unsure != nil:
		c.GoTo("day")
	case r.Untied:
		c.GoTo("shops")
	default:
		remember(c, nil)
		c.GoTo("sure")
	}
	c.Show()
}

// remember keeps what a person had to say about the bank's files.
func remember(c *engine.Talk, accounts []string) {
	d, r := drafted(c), drafted(c).Reading
	t := &chat.Tie{Shops: d.Ties, Accounts: accounts}
	if r.Layout != nil {
		table := settling.TableOf(r.Head, *r.Layout)
		t.Table = &table
		if len(t.Shops) == 0 {
			t.Shops = []shop.ID{c.F.Shop.ID}
		}
	}
	if t.Table != nil || len(accounts) > 0 {
		c.Orders.Tie = t
	}
}

func askDates(c *engine.Talk) *engine.Card {
	c.Nowhere = true
	return &engine.Card{Body: []chat.Block{chat.Lines(c.V.Say("statement.dates",
		"near", drafted(c).Reading.Unsure.Dates))}}
}

func dateOptions(c *engine.Talk) (list []ask.Option) {
	u := drafted(c).Reading.Unsure
	days := map[statement.Order]shop.Date{statement.DayFirst: u.Day, statement.MonthDay: u.Month}
	for order, day := range days {
		list = append(list, ask.Option{Label: c.DayYear(day), Value: string(order), Take: func(c *engine.Talk) {
			drafted(c).Want.Dates = order
			readAgain(c)
		}})
	}
	slices.SortFunc(list, func(a, b ask.Option) int { return int(a.Value[0]) - int(b.Value[0]) })
	return list
}

// columnOf asks which column of a table holds something.
func columnOf(role statement.Role) engine.Screen {
	head := func(c *engine.Talk) *engine.Card {
		c.Nowhere = true
		return ask.Asking("statement.column-" + string(role))(c)
	}
	return ask.Pick{Head: head, Paged: true,
		Options: func(c *engine.Talk) (list []ask.Option) {
			for i, shown := range drafted(c).Reading.Unsure.Columns {
				list = append(list, ask.Option{Label: stated.Label(shown), Value: strconv.Itoa(i),
					Take: func(c *engine.Talk) { said(c, role, i) }})
			}
			return list
		}}.Screen()
}

func said(c *engine.Talk, role statement.Role, column int) {
	d := drafted(c)
	if d.Want.Said == nil {
		d.Want.Said = map[statement.Role]int{}
	}
	d.Want.Said[role] = column
	if c.State.Draft.Page = 0; role == statement.ByDay {
		c.GoTo("amount")
		return
	}
	readAgain(c)
}

func askShops(c *engine.Talk) *engine.Card {
	c.Nowhere = true
	return &engine.Card{Body: []chat.Block{chat.Lines(stated.Head(c.Teller, drafted(c).Reading),
		c.V.Say("statement.shops"))}}
}

// shopOptions are the shops whose books the speaker keeps: one tap for one of them, ticks for several.
func shopOptions(c *engine.Talk) (list []ask.Option) {
	d := drafted(c)
	shops := stated.Kept(c.Teller)
	for _, s := range shops {
		label := s.Name
		if slices.Contains(d.Ties, s.ID) {
			label = "✓ " + label
		}
		value := "s-" + strconv.FormatInt(int64(s.ID), 10)
		list = append(list, ask.Option{Label: stated.Label(label), Value: value,
			Take: func(c *engine.Talk) { tick(c, s.ID, len(shops) == 1) }})
	}
	return list
}

// shopsNamed ends the ticking, on whatever page.
func shopsNamed(c *engine.Talk) [][]chat.Button {
	if len(drafted(c).Ties) == 0 {
		return nil
	}
	return [][]chat.Button{c.Button("statement-tied", "tied")}
}

func tick(c *engine.Talk, id shop.ID, all bool) {
	d := drafted(c)
	if i := slices.Index(d.Ties, id); i >= 0 {
		d.Ties = slices.Delete(d.Ties, i, i+1)
	} else {
		d.Ties = append(d.Ties, id)
	}
	if all {
		tied(c)
	}
}

// tied keeps which shops the account is for, and has the statement read for these.
func tied(c *engine.Talk) {
	c.State.Draft.Page = 0
	remember(c, drafted(c).Reading.Accounts)
	readAgain(c)
}

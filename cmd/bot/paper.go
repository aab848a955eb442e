package main

import (
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
	"shopfloat/internal/names"
	"shopfloat/internal/texts"
)

// paperWords words what is said while nothing can be written.
func paperWords(c *texts.Catalogue) func(desk.Paper) string {
	return func(p desk.Paper) string {
		v := c.In(p.Lang, "", "")
		switch p.Says {
		case desk.PaperBack:
			return v.Say("paper.back")
		case desk.PaperOwner:
			why := p.Why
			if p.Full {
				why = v.Say("paper.full")
			}
			return v.Say("paper.owner", "why", why)
		}
		what, name := v.Say("paper.nothing"), p.Name
		if len(p.Typed) > 0 {
			what = v.Say("paper.typed", "typed", strings.Join(p.Typed, ", "))
		}
		if name == "" {
			name = v.Say("paper.name")
		}
		return v.Say("paper.write", "what", what, "name", name, "when", v.Clock(p.At))
	}
}

// parkedWords words the answer to an input that failed three times. It names the
// input: what was sent before and after it may well be recorded.
func parkedWords(c *texts.Catalogue) func(chat.Input, chat.Facts) []chat.Reply {
	return func(in chat.Input, f chat.Facts) []chat.Reply {
		v := c.In(f.Lang, "", "")
		say := func(to chat.Audience, text string) chat.Reply {
			return chat.Reply{To: to, Body: []chat.Block{{Text: text}}}
		}
		managers := chat.Audience{Managers: true}
		if in.Kind == chat.Remind {
			return []chat.Reply{say(managers, v.Say("told.parked-reminder"))}
		}
		when, what := v.Clock(in.At.In(f.Shop.Location)), ""
		switch {
		case in.Kind == chat.Press:
			what = v.Say("parked-tap")
		case in.Kind == chat.Text && in.Text != "":
			what = v.Say("parked-text", "text", names.Quoted(in.Text))
		}
		return []chat.Reply{
			say(chat.Audience{}, v.Say("parked", "when", when, "what", what)),
			say(managers, v.Say("told.parked", "who", f.Person.Name, "when", when)),
		}
	}
}

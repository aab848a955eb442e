package desk

import (
	"strings"

	"shopfloat/internal/chat"
)

// apologize is what is said, unless the options say otherwise, about an input
// that failed three times. It names the input: what came before and after it
// may well be recorded.
func apologize(in chat.Input, f chat.Facts) []chat.Reply {
	tell := func(to chat.Audience, text string) chat.Reply {
		return chat.Reply{To: to, Body: []chat.Block{{Text: text}}}
	}
	managers := chat.Audience{Managers: true}
	if in.Kind == chat.Remind {
		return []chat.Reply{tell(managers, "One thing to check.\n"+
			"A reminder could not be made. Write agenda to see what is due.")}
	}
	at := in.At.In(f.Shop.Location).Format("15:04")
	return []chat.Reply{
		tell(chat.Audience{}, "Something went wrong here.\nWhat you sent at "+at+" was not recorded"+quoted(in)+
			". All else is as it was: write history to see it. If this one is missing there, send it again."),
		tell(managers, "One thing to check.\nWhat "+f.Person.Name+" sent at "+at+
			" could not be handled and was not recorded. They were told."),
	}
}

func quoted(in chat.Input) string {
	switch {
	case in.Kind == chat.Press:
		return " (a tap on a button)"
	case in.Kind == chat.Text && in.Text != "":
		return ": " + Brief(in.Text)
	}
	return ""
}

// Brief gives a message back so that its sender knows it again.
func Brief(text string) string {
	const most = 60
	if r := []rune(text); len(r) > most {
		return string(r[:most]) + "..."
	}
	return text
}

// plainly is what is said in English while nothing can be written.
func plainly(p Paper) string {
	switch p.Says {
	case PaperBack:
		return "I am back.\nPlease enter what you wrote on paper. Write history to see what I have."
	case PaperOwner:
		return "I cannot write just now.\n" + p.Why + ". What I confirmed before stands. " +
			"People write on paper; somebody must look at the computer."
	}
	typed := "what you do"
	if len(p.Typed) > 0 {
		typed = strings.Join(p.Typed, ", ") + ", as you typed"
	}
	name := p.Name
	if name == "" {
		name = "your name"
	}
	return "I cannot write just now.\nWrite on paper: " + typed + "; " + name + "; " + p.At.Format("15:04") +
		".\nLock the safe. I tell you when I am back."
}

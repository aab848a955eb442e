package founding

import (
	"bytes"

	"shopfloat/internal/chat"
	"shopfloat/internal/filed"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// FirstDay is what the owner of a shop gets that was just laid down: the paper form to print, and
// the first day on one card.
func FirstDay(t *telling.Teller, v *texts.Voice, laidDown shop.Settings) (list []chat.Reply) {
	if file := form(t, v, laidDown); file != nil {
		list = append(list, chat.Reply{Body: []chat.Block{{Text: t.V.Say("first-day.form")}}, File: file})
	}
	day := t.V.Say(texts.Either(laidDown.Nightly, "first-day", "first-day.stay"))
	return append(list, chat.Reply{Body: []chat.Block{{Text: day}},
		Buttons: [][]chat.Button{t.Button("now-open", chat.Begins("open")),
			t.Button("first-invite", chat.Begins("invite"))}})
}

// form is the paper form of the shop's first machine; nil where it cannot be printed.
func form(t *telling.Teller, v *texts.Voice, laidDown shop.Settings) *chat.File {
	s, err := shop.New(0, 0, laidDown)
	if err != nil || len(s.Machines) == 0 {
		return nil
	}
	var b bytes.Buffer
	if err := filed.Form(&b, s, &s.Machines[0], filed.Options{Voice: v, Made: t.Now.In(s.Location),
		Letter: filed.OnLetter(s.Country)}); err != nil {
		return nil
	}
	return &chat.File{Name: "paper-form.pdf", Data: b.Bytes()}
}

package rota

import (
	"slices"
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/reminders"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// reminding are the buttons of reminders that may be typed.
var reminding = []string{"start-opening", "start-closing", "start-figures", "start-unclosed", "start-filling",
	"in-15", "in-30", "in-60"}

// TypedButton gives the tap of a reminder's button whose words were typed; empty where none of
// a task that the reader was told of, and that is still to be done, has them. Where no dialog
// is open "later" is the first button that puts a reminder off; off is true for such words. What
// ends reminders for all is a command, too, and that reads back first.
func TypedButton(t *telling.Teller, typed string, idle bool) (tap string, off bool) {
	low := texts.Fold(strings.Trim(typed, ".! "))
	says := func(label string) bool { return strings.ToLower(label) == low }
	off = idle && slices.Contains(t.V.List("words.put-off"), low)
	named := slices.ContainsFunc(reminding, func(id string) bool { return says(t.V.Say("button." + id)) })
	if !off && !named || t.F.Ask.Told == nil {
		return "", false
	}
	for _, task := range []reminders.Task{
		reminders.Closing, reminders.Opening, reminders.Filling, reminders.Unclosed} {
		for back := range 2 {
			n := reminders.Name{Date: t.Today().Add(-back), Task: task}
			if !toldOf(t, n) {
				continue // most are told of nothing: no button is made in vain
			}
			buttons := slices.Concat(slices.Concat(DueButtons(t, n), RarerButtons(t, n))...)
			i := slices.IndexFunc(buttons, func(b chat.Button) bool {
				own := strings.HasPrefix(b.Data, "o:start:") || strings.HasPrefix(b.Data, "o:later:")
				return own && says(b.Label)
			})
			if i < 0 && off && task != reminders.Unclosed {
				i = 1 // in half an hour, see [DueButtons]
			}
			if i >= 0 && Needs(t, t.M, n) {
				return buttons[i].Data, off
			}
		}
	}
	return "", off
}

// toldOf reports whether the reader was sent a reminder.
func toldOf(t *telling.Teller, n reminders.Name) bool {
	return slices.ContainsFunc(t.F.Ask.Told(DueKey(t, n)), func(who chat.Told) bool {
		return who.Person == t.F.Person.ID
	})
}

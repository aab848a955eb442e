package engine

import (
	"regexp"

	"shopfloat/internal/chat"
)

// Wordy reports whether a text has a word in it, not only figures and units.
func Wordy(s string) bool { return word.MatchString(s) }

var word = regexp.MustCompile(`\p{L}{3}`)

// speaks reports whether an input holds words that can speak of a robbery.
func speaks(in chat.Input) bool {
	return (in.Kind == chat.Text || in.Kind == chat.Picture || in.Kind == chat.Secret) && Wordy(in.Text)
}

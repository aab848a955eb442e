package wording

import (
	"slices"
	"strings"
)

// greetings are said to somebody who is just met.
var greetings = strings.Fields(`hi hello hey hiya hallo morning evening afternoon yo day`)

// Greeting reports whether a text greets, and does nothing but that.
func Greeting(text string) bool {
	words := Of(text)
	return len(words) <= 6 && OnlyPolite(words) &&
		slices.ContainsFunc(words, func(w string) bool { return slices.Contains(greetings, w) })
}

// Courtesy reports whether a text says something kind, and nothing but that.
func Courtesy(text string) bool {
	words := Of(text)
	return len(words) > 0 && OnlyPolite(words)
}

// Thanks reports whether somebody thanks.
func Thanks(text string) bool {
	return slices.ContainsFunc(Of(text), func(w string) bool {
		return w == "thanks" || w == "thank" || w == "cheers" || w == "ta"
	})
}

package terminal

import (
	"errors"
	"fmt"
	"strings"
)

// Verb says what a line of a script does.
type Verb string

// The verbs.
const (
	Skip    Verb = "skip"    // blank, or a comment in Text
	Say     Verb = "say"     // Text is a message
	Tap     Verb = "tap"     // Text is the beginning of a label
	As      Verb = "as"      // Text is who speaks from here on
	Photo   Verb = "photo"   // Text names a picture
	File    Verb = "file"    // Text names a file that lies beside the script
	Start   Verb = "start"   // Text is the code of a link, or "last"
	At      Verb = "at"      // Wall is what the clock shows now
	Restart Verb = "restart" // everything stops and starts on the same file
	Down    Verb = "down"    // everything stands still from Span.From to Span.To
)

// Line is one parsed line.
type Line struct {
	Verb Verb
	Text string
	Old  bool // Tap: the newest button that was already replaced
	Wall Wall
	Span Outage
}

// ParseLine reads one line of a script or of the interactive chat. Space around
// it does not count. An error is one sentence that shows the right form.
func ParseLine(raw string) (Line, error) {
	s := strings.TrimSpace(raw)
	switch {
	case s == "":
		return Line{Verb: Skip}, nil
	case s[0] == '#':
		return Line{Verb: Skip, Text: strings.TrimSpace(s[1:])}, nil
	case s[0] == '@':
		return parseOrder(s[1:])
	case s[0] == '[':
		return parseTap(s[1:])
	}
	if strings.Contains(s, `\`) {
		s = message(s)
	}
	return Line{Verb: Say, Text: s}, nil
}

// message takes the escapes out of what a person sends.
func message(s string) string {
	if len(s) > 1 && s[0] == '\\' && strings.ContainsRune("#@[", rune(s[1])) {
		s = s[1:]
	}
	return strings.ReplaceAll(s, `\n`, "\n")
}

func parseTap(s string) (Line, error) {
	label, old := strings.CutSuffix(s, "~")
	label, closed := strings.CutSuffix(label, "]")
	label = strings.TrimSpace(label)
	if !closed || label == "" {
		return Line{}, errors.New(`a tap is written [Label] or [Label]~; to send a "[" write \[`)
	}
	return Line{Verb: Tap, Text: label, Old: old}, nil
}

func parseOrder(s string) (Line, error) {
	word, rest, _ := strings.Cut(s, " ")
	rest = strings.TrimSpace(rest)
	switch verb := Verb(word); {
	case verb == Restart && rest == "":
		return Line{Verb: Restart}, nil
	case verb == File && rest != "":
		return Line{Verb: verb, Text: rest}, nil
	case verb == As && validName(rest), verb == Photo && validName(rest), verb == Start && validCode(rest):
		return Line{Verb: verb, Text: rest}, nil
	case verb == Down:
		outage, err := parseOutage(rest)
		return Line{Verb: Down, Span: outage}, err
	case verb == As || verb == Photo:
		return Line{}, fmt.Errorf("@%s needs a name of small letters and digits, like @as staff1", word)
	case verb == File:
		return Line{}, errors.New("@file needs the name of a file, like @file statement.csv")
	case verb == Start:
		return Line{}, errors.New("@start needs the code of a link, like @start last")
	}
	if word == "" || word[0] < '0' || word[0] > '9' {
		return Line{}, fmt.Errorf(`%q is not known; there are @2026-11-25 07:40, @as, @photo, @file, `+
			`@start, @restart, @down 08:00-11:00; `+
			`to send a "@" write \@`, "@"+word)
	}
	wall, err := ParseWall(s)
	return Line{Verb: At, Wall: wall}, err
}

// nameMax bounds the names of people and pictures.
const nameMax = 32

func validName(s string) bool {
	return len(s) > 0 && len(s) <= nameMax && strings.Trim(s, "abcdefghijklmnopqrstuvwxyz0123456789") == ""
}

// validCode accepts what a link's start parameter can hold: 1 to 64 of A-Z, a-z,
// 0-9, _ and - (Bot API, deep linking).
func validCode(s string) bool {
	return len(s) > 0 && len(s) <= 64 && strings.IndexFunc(s, func(r rune) bool {
		return !strings.ContainsRune("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-", r)
	}) < 0
}

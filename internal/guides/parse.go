package guides

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"
)

// Limits on a guide file, so that a wrong file is refused rather than shown.
const (
	fileBytesMax = 64 << 10
	lineRunesMax = 600
	stepsMax     = 60
	choicesMax   = 6
	titleMax     = 60
	choiceMax    = 40
)

// LineError is a fault in a guide file, with the place a person can look at.
type LineError struct {
	File string
	Line int // from 1
	Msg  string
}

func (e *LineError) Error() string { return fmt.Sprintf("%s:%d: %s", e.File, e.Line, e.Msg) }

// Parse reads one guide and checks it. The name is used in messages only.
// All faults are reported at once, joined, each a *LineError.
func Parse(name string, src []byte) (Guide, error) {
	p := &parser{g: Guide{File: name}, file: name}
	if len(src) > fileBytesMax {
		p.fault(1, "the file is larger than %d bytes", fileBytesMax)
		return Guide{}, errors.Join(p.errs...)
	}
	if !utf8.Valid(src) {
		p.fault(1, "the file is not UTF-8 text")
		return Guide{}, errors.Join(p.errs...)
	}
	for i, text := range strings.Split(strings.ReplaceAll(string(src), "\r\n", "\n"), "\n") {
		p.line(i+1, strings.TrimSpace(text))
	}
	if len(p.errs) == 0 {
		p.errs = check(p.g)
	}
	if err := errors.Join(p.errs...); err != nil {
		return Guide{}, err
	}
	return p.g, nil
}

// parser keeps where in the file the reading stands.
type parser struct {
	g       Guide
	file    string
	section string // "" in the head, then the step's name or askedSection
	errs    []error
}

const askedSection = "asked as"

func (p *parser) fault(line int, format string, args ...any) {
	p.errs = append(p.errs, &LineError{File: p.file, Line: line, Msg: fmt.Sprintf(format, args...)})
}

func (p *parser) line(n int, text string) {
	switch {
	case text == "" || strings.HasPrefix(text, "#"):
	case utf8.RuneCountInString(text) > lineRunesMax:
		p.fault(n, "the line is longer than %d characters", lineRunesMax)
	case strings.HasPrefix(text, "=="):
		p.open(n, strings.TrimSpace(strings.TrimPrefix(text, "==")))
	case p.section == "":
		p.head(n, text)
	case p.section == askedSection:
		p.g.Asked = append(p.g.Asked, text)
	default:
		p.step(n, text)
	}
}

func (p *parser) open(n int, name string) {
	p.section = name
	if name == askedSection {
		return
	}
	switch {
	case !isName(name):
		p.fault(n, "a step's name is lower case letters, digits and \"-\", not %q", name)
		p.section = "?"
	case len(p.g.Steps) == stepsMax:
		p.fault(n, "more than %d steps", stepsMax)
	}
	if _, twice := p.g.Step(name); twice {
		p.fault(n, "a second step is called %q", name)
	}
	p.g.Steps = append(p.g.Steps, Step{Name: name, FileLine: n})
}

// head reads a line above the first step: key: value.
func (p *parser) head(n int, text string) {
	key, value, ok := strings.Cut(text, ":")
	value = strings.TrimSpace(value)
	if !ok || value == "" {
		p.fault(n, "expected \"guide:\", \"title:\", \"hazards:\" or \"record:\" with a value, found %q", text)
		return
	}
	switch key {
	case "guide":
		p.g.ID = value
		if !isName(value) {
			p.fault(n, "a guide's name is lower case letters, digits and \"-\", not %q", value)
		}
	case "title":
		p.g.Title = value
		if utf8.RuneCountInString(value) > titleMax {
			p.fault(n, "the title is longer than %d characters", titleMax)
		}
	case "hazards":
		p.hazards(n, value)
	case "record":
		p.g.Record = append(p.g.Record, splitTrim(value, ";")...)
	default:
		p.fault(n, "%q is not known here; use guide, title, hazards or record", key)
	}
}

func (p *parser) hazards(n int, value string) {
	for _, word := range splitTrim(value, ",") {
		if !knownHazard(Hazard(word)) {
			p.fault(n, "hazard %q is not known; use fingers, electricity, lifting, open cash, violence or fire", word)
		}
		p.g.Hazards = append(p.g.Hazards, Hazard(word))
	}
}

func splitTrim(s, sep string) []string {
	var out []string
	for part := range strings.SplitSeq(s, sep) {
		if part = strings.TrimSpace(part); part != "" {
			out = append(out, part)
		}
	}
	return out
}

// isName keeps names to what fits a button's data and a file name.
func isName(s string) bool {
	if s == "" || len(s) > 24 {
		return false
	}
	for i := range len(s) {
		c := s[i]
		if c != '-' && (c < 'a' || c > 'z') && (c < '0' || c > '9') {
			return false
		}
	}
	return s[0] != '-' && s[len(s)-1] != '-'
}

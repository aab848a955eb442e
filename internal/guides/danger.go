package guides

import "regexp"

// alarming are words that nobody writes by chance when there is a weapon or a
// robber. They stand here beside the search because a message that also holds
// a combination is dropped unread, and whoever is forced to write one must
// still be answered.
var alarming = regexp.MustCompile(`(?i)\b(?:robb(?:ed|ery|er|ers|ing)|gun|gunman|pistol|knife|machete|` +
	`weapon|armed|hostage|hold[ -]?up|held up|raid|mugged|mugging|threaten(?:s|ed|ing)?|` +
	`at gunpoint|at knifepoint)\b`)

// Danger reports whether a text speaks of a weapon, a robber or a threat.
func Danger(text string) bool { return alarming.MatchString(text) }

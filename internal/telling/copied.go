package telling

import (
	"strings"

	"shopfloat/internal/chat"
)

// CopyLine says when the last copy of the bot's memory was made and whether it
// was tried out.
func CopyLine(t *Teller) string {
	var last *chat.Copied
	if t.F.Ask.Copied != nil {
		last = t.F.Ask.Copied()
	}
	switch {
	case last == nil:
		return t.V.Say("copied.none")
	case last.Faults > 0:
		return t.V.Say("copied.faults", "when", t.DayClock(last.At))
	}
	return t.V.Say("copied.well", "when", t.DayClock(last.At), "entries", t.V.Number(int64(last.Entries)))
}

// Memory says how the bot's memory is: copied when, and whether it holds together.
func Memory(t *Teller) string {
	return strings.TrimSpace(CopyLine(t) + "\n" + ProofLine(t))
}

// ProofLine says whether the records hold together; nothing where nobody looked yet.
func ProofLine(t *Teller) string {
	var last *chat.Proved
	if t.F.Ask.Proved != nil {
		last = t.F.Ask.Proved()
	}
	switch {
	case last == nil:
		return ""
	case last.Faults > 0:
		return t.V.Say("proved.faults", "when", t.DayClock(last.At))
	}
	return t.V.Say("proved.well", "when", t.DayClock(last.At), "entries", t.V.Number(int64(last.Entries)))
}

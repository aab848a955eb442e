package chat

import (
	"strconv"
	"strings"

	"shopfloat/internal/shop"
)

// A button's payload is "d:<rev>:<choice>" for the dialog under way and
// "o:<action>:<argument>:<machine>" for a card that stands by itself. Both are short
// ASCII, far below the 64 bytes a button may carry.

// Tapped is a decoded payload.
type Tapped struct {
	Dialog bool
	Rev    int    // Dialog: the card's number
	Choice string // Dialog: what was chosen; else the action
	Arg    string // else: its argument

	Machine shop.MachineID // else: what it is about; 0 for a card from before machines were named
}

// Begins is the payload of a button that stands by itself and begins a command by its name.
func Begins(command string) string { return "o:guide:do." + command }

// maxPayload is the most bytes a button's payload may have.
const maxPayload = 64

// ParseTap decodes a payload as it came back from a chat. Anything that is not
// one of ours is refused.
func ParseTap(data string) (t Tapped, ok bool) {
	if len(data) > maxPayload {
		return t, false
	}
	parts := strings.Split(data, ":")
	if len(parts) == 4 && parts[0] == "o" {
		id, err := strconv.ParseInt(parts[3], 10, 64)
		if err != nil || id <= 0 || strconv.FormatInt(id, 10) != parts[3] {
			return t, false
		}
		t.Machine, parts = shop.MachineID(id), parts[:3]
	}
	if len(parts) != 3 || !Plain(parts[1]) || !Plain(parts[2]) {
		return Tapped{}, false
	}
	switch parts[0] {
	case "d":
		rev, err := strconv.Atoi(parts[1])
		if err != nil || rev <= 0 || strconv.Itoa(rev) != parts[1] || parts[2] == "" {
			return t, false
		}
		return Tapped{Dialog: true, Rev: rev, Choice: parts[2]}, true
	case "o":
		if parts[1] == "" {
			return Tapped{}, false
		}
		return Tapped{Choice: parts[1], Arg: parts[2], Machine: t.Machine}, true
	}
	return t, false
}

// TapMachine gives the machine that a tap on a card standing by itself is
// about; 0 for every other payload.
func TapMachine(data string) shop.MachineID {
	t, _ := ParseTap(data)
	return t.Machine
}

func Plain(s string) bool {
	for _, r := range s {
		if (r < 'a' || r > 'z') && (r < '0' || r > '9') && r != '-' && r != '.' {
			return false
		}
	}
	return true
}

// Retag makes a held tap one on the newest card.
func Retag(tap string, rev int) string {
	t, ok := ParseTap(tap)
	if !ok || !t.Dialog {
		return tap
	}
	return "d:" + strconv.Itoa(rev) + ":" + t.Choice
}

// NameMachine lets the buttons of cards that stand by themselves say which
// machine they are about.
func NameMachine(rows [][]Button, machine shop.MachineID) {
	if machine == 0 {
		return
	}
	for _, row := range rows {
		for i := range row {
			if strings.HasPrefix(row[i].Data, "o:") && strings.Count(row[i].Data, ":") == 2 {
				row[i].Data += ":" + strconv.FormatInt(int64(machine), 10)
			}
		}
	}
}

// Tagged turns choices into payloads of the dialog's card with a number.
func Tagged(rev int, rows [][]Button) [][]Button {
	out := make([][]Button, 0, len(rows))
	for _, row := range rows {
		tagged := make([]Button, 0, len(row))
		for _, b := range row {
			if !strings.HasPrefix(b.Data, "o:") {
				b.Data = "d:" + strconv.Itoa(rev) + ":" + b.Data
			}
			tagged = append(tagged, b)
		}
		if len(tagged) > 0 {
			out = append(out, tagged)
		}
	}
	return out
}

// AnyTyped lets the words of all buttons of a card be typed, whatever they say.
func AnyTyped(string) bool { return true }

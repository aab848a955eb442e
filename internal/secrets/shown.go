package secrets

// faultWords name what a machine shows when something is wrong.
var faultWords = set("error err fault status")

// Shown finds the code that a machine shows, where a sentence says no more than that:
// "screen shows code 4411", "error 4411 on the display". A secret is none.
func Shown(text string) (code string, ok bool) {
	if Find(text, true) != Nothing {
		return "", false
	}
	words := split(text)
	if len(words) > 8 {
		return "", false
	}
	about, screen := false, false
	for i, w := range words {
		switch {
		case w.digits != "" && (code != "" || w.unit || len(w.digits) < 2):
			return "", false // several figures, or money: something else is told
		case w.digits != "":
			code = w.typed
			about = about || i > 0 && (codeWords[words[i-1].text] || faultWords[words[i-1].text])
		case onScreen[w.text]:
			screen = true
		case aboutPaper[w.text]:
			return "", false
		}
	}
	screen = screen || code != "" && (faultWords[words[0].text] || len(words) == 2 && len(code) <= 5)
	return code, about && screen
}

var (
	onScreen   = set("screen display shows showing show says said machine it flashing")
	aboutPaper = set("slip receipt ref reference ticket invoice order card customer what whats mean means")
)

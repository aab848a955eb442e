package guides

import "regexp"

// hurt are words of somebody who is hurt or in a faint. They stand here beside
// the search for the same reason as words of a weapon: whoever writes them must
// not first be shown how to free a note. Common words, no source; "somebody is
// hurt" taken for a fault costs more than a fault taken for an injury. Parts of
// a body that a machine has too (arm, head, back) count only as somebody's. A
// shock from the mains is left to the guide for power, which begins with it.
var hurt = []*regexp.Regexp{
	regexp.MustCompile(
		`(?i)\b(?:bleed(?:s|ing)?|faint(?:s|ed|ing)|unconscious|passed out|collapsed?|electrocuted|` +
			`ambulance|paramedics?|first aid|not breathing|can(?:no|')?t breathe|chest pain|heart attack|seizure|` +
			`injur(?:ed|y|ies)|wounded|concussion|choking)\b`,
	),
	regexp.MustCompile(
		`(?i)\b(?:is|am|are|got|was|been|gets|i'?m|he's|she's|someone's|somebody|someone|badly) ` +
			`(?:badly |very )?(?:hurt|scalded)\b`,
	),
	regexp.MustCompile(`(?i)\b(?:cut|burn(?:t|ed)?|hurts?|shocked|injured|crushed) ` +
		`(?:myself|himself|herself|themselves|me|him|us)\b`),
	regexp.MustCompile(`(?i)\b` + harm + `\b.{0,25}\b` + limb + `\b`),
	regexp.MustCompile(`(?i)\b` + limb + `\b.{0,25}\b` + harm + `\b`),
	regexp.MustCompile(
		`(?i)\b(?:fell|fallen|tipped|toppled|dropped|landed|rolled)(?: over| down)? (?:on|onto|on top of) ` +
			`(?:me|him|her|them|us|someone|somebody|a (?:customer|child|colleague)|(?:my|his|her|their) )`,
	),
	regexp.MustCompile(`(?i)\b(?:i|he|she|customer|somebody|someone|colleague|child|woman|man) ` +
		`(?:has |just |have )?(?:fell|fallen) (?:down|over|off|from|in)\b`),
	regexp.MustCompile(`(?i)\b(?:hand|arm|foot|leg|hair) (?:is |got |was )?(?:caught|trapped|crushed)\b`),
	regexp.MustCompile(`(?i)\b(?:need|needs|call|ring|get|fetch) (?:a |the )?doctor\b`),
}

const (
	harm = `(?:cut|crush(?:ed)?|trap(?:ped)?|caught|stuck|jam(?:med)?|pinch(?:ed)?|squash(?:ed|ing)?|broke|broken|` +
		`burn(?:t|ed)?|hurt|hurting|smashed|sliced|twisted|swollen|numb|bit)`
	limb = `(?:fingers?|thumbs?|toes?|wrists?|ankles?|` +
		`(?:my|his|her|their|somebody's|someone's|colleague's|customer's) (?:left |right |whole )?` +
		`(?:hands?|arms?|foot|feet|legs?|head|hair|back|eyes?|face|knees?|shoulder|sleeve|neck|skin))`
)

// Injury reports whether a text speaks of somebody who is hurt.
func Injury(text string) bool {
	for _, re := range hurt {
		if re.MatchString(text) {
			return true
		}
	}
	return false
}

// InjuryGuide is the topic that words of an injury lead to, where one has to be
// named: it begins with the number to ring.
const InjuryGuide = "contact"

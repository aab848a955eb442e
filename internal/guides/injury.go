package guides

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
)

// hurt are words of somebody who is hurt or in a faint. They stand here beside
// the search for the same reason as words of a weapon: whoever writes them must
// not first be shown how to free a note. Common words, no source; "somebody is
// hurt" taken for a fault costs more than a fault taken for an injury. Parts of
// a body that a machine has too (arm, head, back) count only as somebody's. A
// shock from the mains is left to the guide for power, which begins with it.
var hurt = []signs{
	{regexp.MustCompile(
		`(?i)\b(?:bleed(?:s|ing)?|faint(?:s|ed|ing)|unconscious|passed out|collapsed?|electrocuted|` +
			`ambulance|paramedics?|first aid|not breathing|can(?:no|')?t breathe|chest pain|heart attack|seizure|` +
			`injur(?:ed|y|ies)|wounded|concussion|choking)\b`,
	), []string{"bleed", "faint", "unconscious", "passed", "collapse", "electrocuted", "ambulance",
		"paramedic", "aid", "breath", "chest", "heart", "seizure", "injur", "wounded", "concussion", "choking"}},
	{regexp.MustCompile(
		`(?i)\b(?:is|am|are|got|was|been|gets|i'?m|he's|she's|someone's|somebody|someone|badly) ` +
			`(?:badly |very )?(?:hurt|scalded)\b`,
	), []string{"hurt", "scalded"}},
	{regexp.MustCompile(`(?i)\b(?:cut|burn(?:t|ed)?|hurts?|shocked|injured|crushed) ` +
		`(?:myself|himself|herself|themselves|me|him|us)\b`),
		[]string{"cut", "burn", "hurt", "shocked", "injured", "crushed"}},
	{regexp.MustCompile(`(?i)\b` + harm + `\b.{0,25}\b` + limb + `\b`), limbs},
	{regexp.MustCompile(`(?i)\b` + limb + `\b.{0,25}\b` + harm + `\b`), limbs},
	{regexp.MustCompile(
		`(?i)\b(?:fell|fallen|tipped|toppled|dropped|landed|rolled)(?: over| down)? (?:on|onto|on top of) ` +
			`(?:me|him|her|them|us|someone|somebody|a (?:customer|child|colleague)|(?:my|his|her|their) )`,
	), []string{"fell", "fallen", "tipped", "toppled", "dropped", "landed", "rolled"}},
	{regexp.MustCompile(`(?i)\b(?:i|he|she|customer|somebody|someone|colleague|child|woman|man) ` +
		`(?:has |just |have )?(?:fell|fallen) (?:down|over|off|from|in)\b`), []string{"fell", "fallen"}},
	{regexp.MustCompile(`(?i)\b(?:hand|arm|foot|leg|hair) (?:is |got |was )?(?:caught|trapped|crushed)\b`),
		[]string{"caught", "trapped", "crushed"}},
	{regexp.MustCompile(`(?i)\b(?:need|needs|call|ring|get|fetch) (?:a |the )?doctor\b`), []string{"doctor"}},
}

// signs are an expression and what stands in every text that it matches, one or another, in
// small letters: that is soon looked for, and most texts have none of it.
type signs struct {
	re  *regexp.Regexp
	one []string
}

// in reports whether the expression matches. Letters that are small ones of ASCII only by the rules of
// Unicode (the Kelvin sign is a k) are left to the expression.
func (s signs) in(text, small string, ascii bool) bool {
	return (!ascii || s.hinted(small)) && s.re.MatchString(text)
}

func (s signs) hinted(small string) bool {
	return slices.ContainsFunc(s.one, func(w string) bool { return strings.Contains(small, w) })
}

const (
	harm = `(?:cut|crush(?:ed)?|trap(?:ped)?|caught|stuck|jam(?:med)?|pinch(?:ed)?|squash(?:ed|ing)?|` +
		`broke|broken|burn(?:t|ed)?|hurt|hurting|smashed|sliced|twisted|swollen|numb|bit)`
	limb = `(?:fingers?|thumbs?|toes?|wrists?|ankles?|` +
		`(?:my|his|her|their|somebody's|someone's|colleague's|customer's) (?:left |right |whole )?` +
		`(?:hands?|arms?|foot|feet|legs?|head|hair|back|eyes?|face|knees?|shoulder|sleeve|neck|skin))`
)

// limbs are what a word of a limb has in it.
var limbs = []string{"finger", "thumb", "toe", "wrist", "ankle", "hand", "arm", "foot", "feet", "leg", "head",
	"hair", "back", "eye", "face", "knee", "shoulder", "sleeve", "neck", "skin"}

// Injury reports whether a text speaks of somebody who is hurt.
func Injury(text string) bool {
	small := strings.ToLower(text)
	ascii := !strings.ContainsFunc(text, func(r rune) bool { return r > unicode.MaxASCII })
	return slices.ContainsFunc(hurt, func(s signs) bool { return s.in(text, small, ascii) })
}

// burning are words of a fire, of gas or of something that may explode, as far as
// no fault says them too: what only smokes or smells is left to the guide for power.
var burning = regexp.MustCompile(`(?i)\b(?:on fire|caught fire|in flames|flames|is burning|` +
	`it'?s burning|explosion|exploded|explosives?|bomb|gas leak|leaking gas|smells? of gas|` +
	`gas smell|smell gas)\b|` +
	`^\W*(?:help\W+)?fire\W*$|\b(?:there is|there's|theres|we have|we got|have) (?:a )?fire\b[^a-z]*$`)

// Burning reports whether a text speaks of a fire, of gas or of an explosive.
func Burning(text string) bool { return burning.MatchString(text) }

// InjuryGuide and FireGuide are the topics that words of an injury or of a fire
// lead to, where one has to be named: they begin with the number to ring. The
// search does not learn them, so a machine that only smells stays with its power.
const (
	InjuryGuide = "hurt"
	FireGuide   = "fire"
)

package wording

import "strings"

// Function words tell a question from a wish, and one person from another; alone
// they say little, so they pair with ideas and stand in rows, but not with words.
var Function = Set(`a an the is are was were be been being am to of and or that this these those there
	with have has had do does did will would could should can may might must please just so very really then
	some any also but if get gets got as by because about think actually though even when while into after
	seem i we me you he she they it my our your his her their them us in on at for from up out off not no what
	which who whose where why how much many yes ok again now still here all every each than too more most`)

// Idle words tell one choice from another as little as the function words.
var Idle = Set(`something one ones thing things seems looks look think guess says
	say said bit now again there
	here
	it its is are was were has have had been got get sir boss mate please thanks ok`)

// Set makes a set of the words of a list, written as people write them.
func Set(list string) map[string]bool {
	out := map[string]bool{}
	for field := range strings.FieldsSeq(list) { // a text is bounded, a list is not
		for _, w := range Of(field) {
			out[w] = true
		}
	}
	return out
}

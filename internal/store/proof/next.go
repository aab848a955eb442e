package proof

import "strings"

// remedies say what to do about faults, by words that each has in it, for a person
// who keeps a shop and whoever looks after the computer.
var remedies = []struct {
	faults []string
	next   string
}{
	{[]string{"the file is damaged", "belongs to none of", "cannot be read", "cannot be worked out"},
		"The disk may be failing. Stop the bot, copy the file and all beside it to another disk as " +
			"they are, then put back the newest copy that is whole: bot restore COPY. Keep the slips and " +
			"paper since then."},
	{[]string{"is missing", "does not follow entry", "its hash does not match", "movement ", "its kind is not",
		"its period is not", "its time is not", "cannot be:", "come from nowhere", "are both open", "has the cause",
		"the fold", "fold: ", "the attachments of entry", "an attachment belongs", "belongs nowhere", "stray",
		"entry 0", "was changed", "not what the entry moves", "holds fewer", "not enough"},
		"Records were changed or lost from outside. Enter nothing to make up for it. Put a copy of " +
			"the file aside, look into the newest copies one after the other (bot verify --db COPY) and " +
			"compare their check words with those in the owners' notes, then put back the newest that " +
			"agrees: bot restore COPY."},
	{[]string{"the books at hand", "the books stand", "the books kept after entry", "own row is missing",
		"kept for advice",
		"the bank is said to owe", "what the bank owes", "the list of photos to fetch", "a dialog under way"},
		"The records themselves may be whole; what is worked out from them is not. Keep today's " +
			"slips, stop the bot, and put back the newest copy: bot restore COPY. Then enter again what " +
			"came after it."},
	{[]string{"settings", "name or personal code", "the account of a phone", "an account of shop",
		"a link that lets somebody in", "the finished month", "what was told of shop", "told of the shop",
		"name no machine"},
		"Somebody changed from outside who may do what, or what the shop laid down. An owner looks " +
			"through people and settings in the chat, locks phones that should not be there, and changes " +
			"personal codes; then put back the newest copy that is whole: bot restore COPY."},
	{[]string{"guard", "trigger", "table", "migration"},
		"The file was worked on with another program. Whoever did it says what was done; put back the " +
			"newest copy that is whole: bot restore COPY."},
	{[]string{"photo "},
		"Put the photo back from the folder of the newest copy. No figure hangs on it."},
	{[]string{"was taken out of the file"},
		"Words or a photo that were kept with this record were erased from outside. Ask the owners " +
			"who asked for it. No figure hangs on it."},
}

// Next says what to do about a fault, in everyday words.
func Next(fault string) string {
	best, at := "", -1
	for _, r := range remedies {
		for _, words := range r.faults {
			if strings.Contains(fault, words) && len(words) > at {
				best, at = r.next, len(words)
			}
		}
	}
	return best
}

// WhatToDo lists what to do about faults, each thing once, in the order in which
// the faults stand.
func WhatToDo(faults []string) (list []string) {
	seen := map[string]bool{}
	for _, f := range faults {
		if next := Next(f); next != "" && !seen[next] {
			seen[next] = true
			list = append(list, next)
		}
	}
	return list
}

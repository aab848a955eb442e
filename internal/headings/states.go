package headings

import (
	"slices"
	"strings"
)

// What begins the words for what is not booked yet, and for what is.
var (
	pendingWords = strings.Split("pending,authorised,authorized,declined,failed,cancelled,reverted,waiting,"+
		"on hold,vorgemerkt,offen,wartend,ausstehend,in bearbeitung,en attente,a venir,en cours,oczekuj,"+
		"odrzuc,blokad,in attesa,non contabilizz,pendiente,retenid,pendente,cativ,reserv,gereserv,"+
		"in behandeling,afventer,odotta,varaus,cekaj,blokac,fuggo,in asteptare,εκκρεμ,ожид,bekl", ",")
	bookedWords = strings.Split("booked,posted,completed,cleared,settled,gebucht,verbucht,geboekt,comptabilis,"+
		"contabiliz,zaksiegowan,bokford,bogfort,kirjattu,zauctovan,konyvel", ",")
)

// Pending reports whether a state is that of a line that is not booked yet.
func Pending(state string) bool { return says(state, pendingWords) }

// Booked reports whether a state is that of a line that is.
func Booked(state string) bool { return says(state, bookedWords) }

// says reports whether one of a text's words begins so.
func says(text string, words []string) bool {
	s := Folded(text)
	return s != "" && slices.ContainsFunc(words, func(w string) bool {
		return strings.Contains(s, w) && strings.Contains(" "+s, " "+w)
	})
}

// Sign reads which way an amount went: 1 in, -1 out, 0 neither.
func Sign(s string) int {
	switch Folded(s) {
	case "c", "cr", "crdt", "credit", "h", "haben", "bij", "in", "k", "kredit", "gutschrift", "zugang",
		"eingang",
		"avere", "haber", "abono", "uznanie", "money in", "plus":
		return 1
	case "d", "dr", "dbit", "debit", "s", "soll", "af", "out", "debet", "lastschrift", "abgang", "ausgang",
		"dare", "debe", "cargo", "obciazenie", "money out", "minus":
		return -1
	}
	switch strings.TrimSpace(s) {
	case "+":
		return 1
	case "-", "\u2212":
		return -1
	}
	return 0
}

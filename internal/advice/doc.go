// Package advice says how many notes to load, whether the shop's own cash will
// last until the bank pays, and how good such advice would have been on the
// shop's own past. It joins three things: the forecast of package demand, what a
// shop has laid down, and the ledger.
//
// The package is pure: it reads no clock, no file and no random number. Notes are
// counted in integers and money is decimal; floats stand for probabilities and
// expected demand only.
package advice

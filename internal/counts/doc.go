// Package counts reads the ways people type counts of banknotes in a chat: on a phone, in one hand, with
// notes in the other. It knows codes and values only; the sentences a person reads are made elsewhere, and
// every figure it gives is meant to be read back before it counts. The examples below are for three boxes,
// top 50, middle 20 and bottom 10, bundles of 100; the tables of parse_test.go assert them.
//
// # Understood
//
//	40 150 200           the boxes in order; also , ; / . and line ends between, bullets and numbered rows
//	150                  the next line (Request.Next)
//	150 200              from the next line on; TooFew says that lines are still open
//	20x150  20 × 150     face, then notes: also * : =  and  20s 150, €20 150, twenties 150, 20s - 150
//	150x20  150 twenties notes, then face: also  150 of 20, 150 x €20, 40 50s, 12 tenners, 1 twenty
//	50 40 20 150 10 200  pairs of face and notes, when they do not fit the boxes or stand two in a row
//	top 40  box 2: 150   a box by name, beginning of its name, position or ordinal
//	1b+37  2 bundles 40  bundles and loose notes, for a face or box too; pack, packet, strap are bundles
//	150+100              a sum; for a face that as many boxes hold, one number for each of them
//	1,500 1.500 1'500    thousands, with a no-break space or the Indian way (1,00,000) too
//	forty-five           numbers in words
//	€3000 in 20s         an amount, converted to notes: Item.FromValue
//	none  0  -  empty    no notes: for the next line, for all with Request.ZeroAll or "all"
//	total 3000           Result.Total; with Request.Values 1800.00 is an amount
//	3000  €3000          alone: for the next line, and Result.Bare says that it names none
//
// Digits may be of any script. Direction marks, pictures, double blanks, units and stray punctuation are
// ignored.
//
// # Where it could mean two things
//
//   - A x B: if A is a face that is asked, A is the face (20x50 is 50 twenties); if only B is, B is.
//   - A: B is a face before it is a box's position. A) B and, at the start of a row, A. B are positions.
//   - 150,200,40 is a list if its numbers fit the lines and the whole is no number below ten thousand; no box
//     holds so many notes (common practice, no source). 1,500 is always one number.
//   - 1 500 with a plain blank is two numbers, unless the second begins with a zero (2 000), or only as one
//     number, in one way, do all of them fill the lines (40 1 500 200).
//   - 20 150 where more than two lines are open is refused with FaceOrNotes.
//   - Two bare numbers beside one key (20s 1 500) are refused with TooMany.
//   - twenty is a number unless digits or "one" count it, or it is linked to digits: twenty: 150.
//   - two hundreds is the 200 note where there is one and it has a count; else two notes of 100.
//   - A full stop before three digits groups thousands; in printed figures of a currency with three decimals
//     it is the decimal sign.
//   - A dash is a minus when it stands in front of a number; between a key and a number with equal spacing on
//     both sides it only links them.
//
// # Refused
//
// The codes say what for; see Code. Counts around the piece that is refused are kept where they are certain:
// a bare number never is among words that are not understood. When such words outweigh the counts the text is
// taken for prose, probably a question, and gives no items.
package counts

// Package counts reads the ways people type counts of banknotes in a chat: on a phone, in one hand, with
// notes in the other. It knows codes and values only; the sentences a person reads are made elsewhere, and
// every figure it gives is meant to be read back before it counts.
//
// # Grammar
//
// A text is entries and perhaps a total, parted by blanks, commas and line ends. An entry is a quantity, with
// or without a key: the box or the kind of note it is for. {} repeats, [] may be left out, | is or.
//
//	text     = { [bullet] entry | total | "all" | unknown }
//	entry    = key [link] quantity | quantity [link] key | quantity
//	link     = ":" | "=" | "x" | "-" | "of" | "in"
//	key      = box [face] | face [box]
//	quantity = bundles [["+" | "and"] loose] | number {"+" number} | money | none
//
// The table has every production with its examples. The methods of the package named read… and give… carry
// these names; a test takes the rows from here and asks Parse. Under "read as" stands a number for each line
// that was asked, _ where none was understood, the amount in () where money was typed, and the name of the
// code where something was refused. A bundle is 100 notes, the currency is named by ISO 4217.
//
//	production    | means                                   | typed                  | read as
//
//	asked: top 50, middle 20, bottom 10; EUR
//	number        | alone, for the line that is asked       | 40                     | 40 _ _
//	list          | the boxes in order                      | 40 150 200             | 40 150 200
//	              | other signs between                     | 40, 150 / 200          | 40 150 200
//	              | a word between                          | 150 then 200           | 150 200 _ too few
//	              | from the next line on                   | 40 150                 | 40 150 _ too few
//	              | more than are asked                     | 1 2 3 4                | too many
//	              | a face or a count, nobody knows         | 20 150                 | face or notes
//	long list     | no number that a box can hold           | 150,200,40             | 150 200 40
//	              | a number                                | 1,500                  | 1500 _ _
//	tight list    | one that runs into a face               | 20x150,10x200          | _ 150 200
//	figure        | thousands, the Indian way too           | 1.500 1'500 1,00,000   | 1500 1500 100000
//	              | any script                              | ٤٠ १५० ２００          | 40 150 200
//	              | a fraction                              | 150.5                  | fraction
//	              | more than seven digits                  | 10000000               | too big
//	              | minus                                   | -5                     | negative
//	thousands     | a blank, if a zero follows              | 2 000                  | 2000 _ _
//	              | a blank, if that alone fills the lines  | 40 1 500 200           | 40 1500 200
//	              | else two numbers                        | 1 500                  | 1 500 _ too few
//	number words  | numbers in words                        | forty-five             | 45 _ _
//	              | a face if digits count it               | 12 twenty              | _ 12 _
//	              | a face if it is linked to digits        | twenty: 150            | _ 150 _
//	article       | one bundle, one note                    | a bundle, a tenner     | 100 _ 1
//	figure key    | face, then notes                        | 20x150, 10: 200        | _ 150 200
//	              | the face that is asked, then notes      | 20x50                  | _ 50 _
//	              | a position if no such face is asked     | 2: 150                 | _ 150 _
//	              | a face that is not asked                | 30: 7                  | unknown face
//	named key     | a kind of note, a box, or both          | 20s 150, top 40        | 40 150 _
//	              | both, but they do not fit               | top 20s 150            | unknown face
//	              | no number behind                        | 20s                    | no count
//	              | one number too many                     | 20s 1 500              | too many
//	              | the same box again                      | 20s 5, middle 6        | twice
//	              | a face either way: nobody knows         | 20 x 10, 10 x 20       | face or notes
//	added         | notes, then face                        | +50x20                 | _ 50 _
//	key behind    | notes, then face or box                 | 9 twenties, 4 in top   | 4 9 _
//	              | the face as money                       | 20 x ten euros         | _ _ 20
//	              | behind an at                            | 150@10                 | _ _ 150
//	              | digits behind x or of                   | 150 of 20, 200x10      | _ 150 200
//	box           | a number behind the word is a position  | box 2: 150, #3 200     | _ 150 200
//	ordinal       | a position                              | first 40, third 200    | 40 _ 200
//	glued         | a position, with st nd rd th            | 2nd 150                | _ 150 _
//	              | no number                               | 12k                    | unreadable
//	time of day   | behind a word for one: no count         | 50 twenties at 10:15   | _ 50 _ unreadable
//	name part     | three letters of a name or more         | mid 150                | _ 150 _
//	bullet        | a dash that opens a row with a name     | - top 40               | 40 _ _
//	dash          | none, between a name and the next       | top - middle 150       | 0 150 _
//	next          | without a key: the line after           | 20s 150, 200           | _ 150 200
//	bundles       | number and word, or b                   | 2b, 3 packs            | 200 300 _ too few
//	loose         | notes beside bundles                    | 2 bundles 40           | 240 _ _
//	loose behind  | notes beside bundles that are named     | 2b of twenties + 40    | _ 240 _
//	sum           | added up                                | 150+100, 1b+37         | 250 137 _ too few
//	difference    | not worked out                          | 150-20                 | negative
//	fraction      | part of a note or bundle                | 1/2                    | fraction
//	money         | notes that make the amount              | €3000 in 20s           | _ 150(3000) _
//	              | no notes make it                        | €3010 in 20s           | not whole
//	              | too much for a kind of note             | 40 €3000 200           | 40 150(3000) 200
//	              | first, before bare numbers              | €2000 150 200          | 40(2000) 150 200
//	              | other money                             | £3000 in 20s           | other currency
//	all           | none for every line                     | all empty              | 0 0 0
//	              | none for the next line                  | none                   | 0 _ _
//	pairs         | face and notes that do not fit the rows | 50 40 20 150 10 200    | 40 150 200
//	box           | boxes are no notes                      | i have 2 boxes         | unreadable prose
//	total         | a word for it is no note                | only one total         | total only
//	              | the whole sum, beside the counts        | 40 150 200 total 7,000 | 40 150 200 total 7000
//	              | alone it counts nothing                 | total 7000             | total 7000 total only
//	question      | a count that is not sure                | 150?                   | 150 _ _
//	              | among words: a question, no count       | is 40 left?            | unreadable prose
//	each          | the number for every line               | 150 each               | 150 150 150
//	              | of three boxes nobody knows which       | both 150               | unreadable
//	amends        | puts right what was said                | sorry, top is 140      | 140 _ _
//	              | the figure that was wrong is no count   | 50s is 13 not 12       | 13 _ _
//	              | one of several, where there is one      | wait one of the 50s was 13 | 13 _ _
//	              | nothing but an excuse                   | no wait                | unreadable prose
//	spoken        | a number as it is said                  | one fifty              | 150 _ _
//	thousand      | of money, before a kind of note         | 2k in 20s              | _ 100(2000) _
//	unknown       | words drop the bare number beside them  | 20s 150, 7 tenns       | _ 150 _ unreadable
//	              | nothing but signs                       | ..                     | empty
//
//	asked: top 20, middle 10, bottom 20; EUR
//	face          | several boxes hold it                   | 20s 150                | ambiguous face
//	              | named as often as there are boxes       | 20x150 20x100          | 150 _ 100
//	boxes         | none for all of them                    | no twenties            | 0 _ 0
//	              | the same number for each                | 20s 150 each           | 150 _ 150
//	box counts    | a number for each of them               | 20s 150 100            | 150 _ 100
//
//	asked: top 50, middle 20, bottom 20; EUR
//	parts         | a sum for neighbours of one face        | 40 150+100             | 40 150 100
//
//	asked: top 20, bottom 10; EUR
//	each          | both of two                             | both 150               | 150 150
//
//	asked: 200, 100, 5; USD; no bundles
//	hundreds      | the 200 note, counted or assigned to    | 7 two hundreds         | 7 _ _
//	              | else two notes of 100                   | two hundreds           | _ 2 _
//	              | bundles of no known size                | 5s 1b                  | no bundle
//
//	asked: 10000, 1000; JPY
//	hundreds      | thousands as well                       | 100 ten thousands      | 100 _
//	              | by the bundle                           | a bundle of ten thousands | 100 _
//
//	asked: top 50, middle 20; EUR; amounts
//	money         | in printed figures                      | 1000.00 1800,00        | 20(1000) 90(1800)
//	total         | an answer by itself                     | total 1.800,00         | total 1800
//
// # What the table does not say
//
//   - Direction marks, pictures, units, stray punctuation and double blanks are ignored; but thousands are
//     grouped by one blank.
//   - A full stop before three digits groups thousands; in printed figures of a currency with three decimals
//     it is the decimal sign.
//   - A dash is a minus when it stands in front of a number; between a key and a number with equal spacing on
//     both sides it only links them. A. or A) opens a numbered row.
//   - No box holds ten thousand notes (common practice, no source): below that a comma makes no list.
//   - Counts around the piece that is refused are kept where they are certain. When words that are not
//     understood outweigh the counts the text is taken for prose, probably a question, and gives no items.
package counts

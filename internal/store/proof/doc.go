// Package proof says whether a file holds what was written into it.
//
// What stands in the file is of three kinds, and every column is of one of them;
// [Verify] finds any change of one of the first two. A test reads this table.
//
// Chained: a hash that others follow on covers it, and with it the check word.
//
//	entry       machine seq period kind by_person settings happened recorded
//	entry       cause cause_n body digest prev hash
//	move        machine period seq n from_place to_place face notes
//	attachment  machine seq n digest salt words photo same
//	settings    shop version since body hash
//	shop_entry  shop seq kind key by_person recorded row prev hash
//	person      shop id name mark salt pin
//	account     chat shop person frozen shared mark
//	code        hash shop person role by_person expires used
//	picture     machine seq n digest
//	month       shop month by_person finished upto
//
// Rebuilt and compared: it follows from what is chained, or repeats what stands
// beside it, and is worked out anew.
//
//	machine    id shop seq head body fold
//	claim      machine seq open day remains due paid body
//	owing      machine kind span n remains
//	checkpoint  machine seq day body
//	learnt      machine seq newest body
//	unfetched  machine seq n
//	chat       machine flow blind since
//	migration  number name checksum
//
// Shape only: it is of now, nothing else tells what it should be, and it is only
// looked at whether it can be read.
//
//	chat       chat state person lang gone answered
//	inbox      id source key hash chat at body status attempts
//	outbox     id chat at body key edits retires message_id
//	deadline   machine name chat due_at
//	account    used
//	code       name
//	attempt    who since n
//	migration  applied
//	statement  id chat shop person sent photo same digest turn ask
//	missed     shop text times last
//	phrase     shop text means
//
// Beyond the columns the tables themselves, their indexes and guards must read as
// this program makes them, and SQLite must find every page in order.
package proof

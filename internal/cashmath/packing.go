package cashmath

// NotesPerBundle is the usual packet of one kind of note as a bank hands it out: a
// strap in the United States, a bundle elsewhere. Banks differ, so it is only the
// default of a setting.
//
// US straps hold 100 (American Bankers Association table; ones also come in other
// sizes). In the United Kingdom a 1,000-pound bundle of twenties is 50 notes, and
// fifties come in 50 as well. The rest is common practice, no source: 100.
func NotesPerBundle(currencyCode string, face Face) int64 {
	if currencyCode == "GBP" && (face == "20" || face == "50") {
		return 50
	}
	return 100
}

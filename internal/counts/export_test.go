package counts

// ParseWhole reads every text by the whole grammar, one number alone too.
var ParseWhole = parse

package closing

// NoResult stands where a result would.
var NoResult = noResult

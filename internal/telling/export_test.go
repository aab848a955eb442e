package telling

// What only tests ask for.
var Terms = terms

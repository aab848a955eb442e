package counsel

// What only tests ask for.
var Terms = terms

// Package reminders says what a shop has to do when, who is told of it and how
// that climbs while nobody records it. It is pure: it plans from what the shop
// has laid down, and knows neither clock nor books.
//
// Times of day are the shop's; every deadline is an instant. A time of day that
// the clocks leave out is the first instant after the gap, one they show twice
// is the first of the two.
package reminders

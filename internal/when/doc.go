// Package when reads what people type about time: days, spans of days, months,
// times of day and the hours of a week. It has no clock: today is an argument, a
// date of the calendar without a zone. Whether a day may lie in the past or the
// future is the caller's to judge.
//
// The words are those of a language (Words), in whatever case and script of
// digits; day and month in figures, 3/4, go by the country (Order). A text that
// cannot be read is refused with a Reason rather than guessed:
//
//	24 dec, dec 24th, Thu 24 Dec, 24.12., 24/12, 2026-12-24, friday, last friday
//	the 7th, next friday, the day before yesterday, twenty sixth of december, christmas eve
//	next week, last week, which are Monday to Sunday
//	24 to 27 december, 24-27 dec, friday to sunday, until friday
//	november, nov 2025, 2025-11, last month
//	6:40, 6.40, 640, 6h40, 6 pm
//	mon-fri 9-18, sat 8:30 to 13:00, sun closed
//
// testdata/examples.tsv lists what is read as what; its test reads it. Some things
// that can be argued about:
//
//   - Full stops are day first everywhere, 24.12., and never the other way round.
//   - 24/12 has one reading in every country, so it is read in every country.
//   - 24-12 alone is Ambiguous where a span of days may stand: 3-5 is both.
//   - 9.05 is a day as well as a time, so where both may stand it is Ambiguous. So
//     is 9.5, which may be half past nine.
//   - A weekday beside a date that is on another is Ambiguous.
//   - Four figures from 2000 to 2099 behind a day and month are a year; others may
//     be a time, 24 nov 1840.
package when

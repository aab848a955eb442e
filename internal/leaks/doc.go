// Package leaks watches a machine's differences for what is too small to be seen on
// any one evening: a note every few days, always missing, or always too many.
//
// The tool is the tabular cumulative sum with fast initial response. It runs per
// machine, kind of note and weekday, never per person: an observation carries who
// counted only so that a weekday is named where at least [PeopleMin] of them did.
package leaks

// Package hearing hears what people mean. It is pure: a text and what is going
// on (Situation) give readings, each with its kind, its slots and how sure it
// is; Decide makes of them what is to be done, by rules that stand in one table.
//
// There are three ways to a reading, and they are weighed against each other:
//
//   - Evidence. A present danger is never a matter of likeness: data/danger.txt
//     lists words of weapons, threats, people, fire and so on, and a table of
//     proofs says which of them together are a danger, and what speaks against it.
//   - The words of a command, as they stand in help.
//   - Likeness: a small linear model that is learnt from the phrases of
//     phrases/, over words, ideas (data/ideas.txt) and what slots a text fills.
//
// A text is looked at clause by clause, politeness and greetings left out; the
// clause that asks for something counts.
package hearing

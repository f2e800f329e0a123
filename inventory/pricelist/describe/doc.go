// Package describe reads a wholesaler's description of a part: "C/RING 34T 110PCD 5-BOLT INNER SILVER 9/10SPD" is a
// chainring of 34 teeth on a 110 mm circle of five bolts, the inner one, silver, for 9 and 10 speeds.
//
// A description is read in five steps, one file each:
//
//  1. token.go cuts the text into words, numbers and marks. "34T" is a number with a word glued to it.
//  2. lexicon.go looks words up, longest phrase first, in the tables of words/*.txt, by subject and by language: "C/RING" names a family, "BLK" is a
//     colour, "PCD" labels a figure, "T" is a unit, "C/W" opens a clause about something else. A word that no table has may be a
//     compound (compound.go), or a known one declined, cut short or without its vowels (near.go). One cut so short that it may name several parts is settled by the
//     figures (cut.go).
//  3. family.go decides what the thing is: "chain" sells a chain, "chain tool" none of our parts, "for chains" neither.
//  4. The family's grammar (family_*.go) says how figures become dimensions: by label ("BCD 110"), by form
//     ("68 x 113"), by unit when only one dimension can be meant ("27.2 mm"), and last, in terse codes, by the
//     figure alone where the trade knows it ("CR-110-34").
//  5. settle.go compares. Two readings of one dimension that differ leave it out.
//
// A wrong dimension is far worse than a missing one: what is contradictory, ambiguous or unknown stays out of the spec,
// and the words that caused it are returned as unread, for a person to answer once ("RS-7" means …). The answers
// come back as [Words], kept for each supplier.
//
// Sizes and designations (bearings, tyres, threads, balls, headsets) are read by substitution/standard, and
// every dimension is checked against its family's table in substitution: there is one vocabulary.
package describe

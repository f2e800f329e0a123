// Package catalogue takes what package pricelist has read into the catalogue: parts, suppliers' offers of them, and
// what each has cost.
//
//   - [Load] takes a whole list, all of it or nothing, and [Load.Preview] says what it would do. Lines find their offers by
//     the supplier's code, and their parts by bar code or maker's code; what names no kind of part of ours waits.
//   - [Review] lists the words that could not be read, and [Answer] takes a person's word for one, for all lines that have it.
//   - [Likely] proposes parts of two suppliers that may be one; a person says so with [Merge] or [Differ], and takes it back
//     with [Split].
//   - [History] and [SoldBy] say what things have cost.
//
// The supplier's description is never worth more than what was measured or said by a person: that stays, whatever the next
// list says.
package catalogue

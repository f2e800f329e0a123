// Package pricelist reads what wholesalers send: price lists as text files and workbooks, each in its own manner.
//
// A list is read in four steps:
//
//   - [Open] finds out what the file is (comma, semicolon, tab or bar between the cells; UTF-8, UTF-16 or Windows-1252; a
//     workbook with several sheets) and refuses in one sentence what cannot be read or is dangerous to read.
//   - [Propose] looks at the first lines and says which column is what, as a [Mapping] that a person confirms once for
//     each supplier. A later list whose headings differ is not that supplier's list ([Mapping.Check]).
//   - [Rows] streams the lines as [Row]s. What is wrong with a row stands in its problems, each with the line and the
//     column: nothing is guessed, nothing is dropped in silence.
//   - Package describe reads the descriptions to families and dimensions.
//
// Memory does not grow with the number of lines. Prices are decimal. What is not said is absent.
package pricelist

// Package exchange writes what a shop has as plain tables that any program reads, and takes such tables in: here suppliers,
// parts, their codes, bins, and the ledger of stock; what is customers' is in pricing/books.
//
// A table is a CSV file (RFC 4180) in UTF-8. Its first line names its columns. A text that a spreadsheet would run as a
// formula has an apostrophe before it, which is taken off again: see [Cell].
package exchange

// Package paper sets what the desk tells as PDF: one file a paper, filled from the desk's struct in its words and with its
// figures. It works out no sum and says no sentence of its own.
//
// A paper is a list of blocks, set in black on white in one embedded font; a [Sheet] breaks it into pages, or makes it one
// long page where it is for a roll.
package paper

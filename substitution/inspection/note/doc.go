// Package note reads what a mechanic says at the bench: "chain's at point nine, big ring's hooked, cassette's fine, front
// brake just wants adjusting" becomes findings, readings and facts of what is fitted, each with the words that say it. What
// it is not sure of it hands back: a wrong finding buys a wrong part, an unread word costs one look.
//
// A note in German, French, Dutch, Italian or Spanish is first written out phrase by phrase in the words of the tables
// (tongue.go, one table a language in tongues/), and its words are shown as they stand. Which language it is in follows
// from which knows most of its words; a word that its language's table lacks is not known, whatever it is in ours.
//
// A note is read in five steps:
//
//  1. token.go cuts it into words, figures and marks, layout.go sees lines and lists in it; lexicon.go finds the longest phrases of the tables in words/, one
//     table a family and a few for what is said of any part. Spellings of one word, and what dictation hears for it, are
//     in words/spelling.txt; a slip of the keys in a long word is mended where only one word can be meant.
//  2. phrase.go reads a part as it is named ("both rear hub bearings", "the drive side"), number.go figures in digits and
//     words, value.go what a figure says of a part of each family: a chain's wear, a rotor's size, nine quarter-inch balls; and
//     value_named.go what a figure is of in any family, by the name beside it ("thirty point two inside").
//     Sizes go through the readers of substitution/standard.
//  3. walk.go goes through a sentence and groups it: a part or a list of them, and what is said of it; a verb and its list;
//     what goes on about the part before ("it", "the rear one", "same at the back"). At each word it asks small readers in
//     the order of a table, steps, until one takes it; so do figures (walk_number.go), wishes (walk_want.go), a part's binding to
//     what stands before it (walk_bind.go), and the words of a noun phrase (phrase_word.go). What a word does to the manner of
//     speaking is looked up by its role (manners).
//  4. settle.go takes away what is not said outright. A hedge, a plan and what was done before take away their own clause,
//     and before a colon all that follows it; a question and another's words also what follows in the sentence until "I
//     found", a condition until a "but", somebody's doings until something is said of a part; another bike the whole of it.
//     A correction takes back what it corrects. A denied reading is turned, a denied action is nothing.
//  5. resolve.go finds the places. An end once said holds; the record decides what "pads" or "the ring" are.
//
// Every word of a clause must be known in its role. A word that is not takes its clause with it: "saddle clamp shot" says
// nothing of a clamp, and nothing of the seat post; nor is a figure after a mark kept then that no word beside it names. It
// changes nothing only between an "is" and a fault, and after one at the end; and where a part "is" such a word and the next
// clause can only begin after it, that is read (pause.go). A part without a place of its own keeps its fault to itself. What a correction takes back is
// read only where what is said instead is understood; else both are handed back.
//
// Its limits: sentences are read from left to right with no idea of what is likely; a note without marks is parted only
// where a part is named with its article or end and something is said of it, so one unknown word costs more there; "if" without
// marks takes all that follows. Degrees other than those of play are not kept, nor which of several sprockets is meant.
// Comparisons with another part, what is told in a relative clause with a "thought" or a "would" in it, and a part named only by its own small part ("brake
// lever hood") are handed back. A torque and a count of what is wanted are read only where they are said in so many
// words, for by itself such a figure is a price, a time or of something else. It learns nothing: a shop tells it its
// own words, and a brand is one of those. testdata/notes/README.md has what fresh notes came to.
//
// The package is pure, as substitution is: the same note on the same record says the same.
package note

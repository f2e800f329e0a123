// Package substitution knows what fits a bicycle: which part will go where another was, with which
// neighbours, and what would be different for the rider.
//
// The words of the subject, each one type:
//
//   - A Part is a family ("chainring") and a Spec: the dimensions that are known of it, each with where
//     it came from. A dimension that is not known is absent, never zero.
//
//   - A Place is where a part sits ("crank.outer-ring"). A Build says what is fitted where, as far as it is known.
//
//   - A Rule belongs to a family and is data: which dimension, against what, how grave, on whose authority.
//     One Table a family; the same rule gives the verdict, the words that explain it and the Condition by
//     which a catalogue of a million parts is narrowed. They cannot disagree, because there is only one of them.
//
//   - A Scene is a bike before and after: the build it came with, the build it would leave with, and the places
//     still open. Judging a rule in a scene gives one of three answers: it Holds, it Breaks, or one can't tell,
//     and then the answer names the dimension to measure and the tool.
//
//   - A Verdict gathers what all rules say of a choice. One broken or untold mating or safety rule and the part is
//     not offered as fitting. A broken function or finish rule is a Deviation: it fits, and the customer decides.
//
//   - A Bring is what a choice needs beside it: the spacer behind a cassette on a longer body, a joining link for two
//     more chain links. It is a need like another.
//
//   - A Case is a worked example of a rule with its published source: a test, and what `stead rule show` prints.
//
// Three questions are asked of one engine: what fits this place on this bike (Scene.Check), what can stand in for
// this part (StandIn), and do these two go together (Together).
//
// What was on the bike is evidence. Where a kept neighbour was never measured, a new part that asks no more of it
// than the old part did is accepted "as what was there"; one that asks more is a can't-tell.
//
// The package is pure: no database, no clock, no input or output, no money.
package substitution

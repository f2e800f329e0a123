// Package solver picks a part and a source for every need of a job at once, so that all parts fit the bike and each
// other, and finds every option worth naming: the exact front over landed cost, day and deviations.
//
// Fill in a Problem (needs with their places, parts with their offers, suppliers, wishes) and call Solve. The Answer
// has the front, named picks, and whether it is proven; when nothing fits, a Refusal with the smallest sets of wishes
// to give up, the nearest candidates and the kept parts in the way. Why compares an option with all other parts and
// sources for a need. Check adds an option up again independently.
//
// The rules are those of package substitution and no others: each rule that looks at a need's place is asked of the
// engine once for every combination of candidates that it can tell apart, and the combinations go to package choose,
// which searches and knows nothing of bicycles.
//
// Money is whole pence. Days are whole numbers in any numbering. The package is pure: no database and no clock.
package solver

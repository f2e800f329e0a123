// Package choose picks one option for each of several needs, and finds every choice that no other beats in cost, day
// and deviation together: the exact Pareto front. It knows nothing of bicycles; package solver puts a job into its terms.
//
// # The problem
//
// A choice x takes an option x(i) for every need i. Each option names an offer, and has a deviation v. It may name a lot as
// well: so many pieces that come off a shelf first, after which its offer meets the rest of the need. Rules forbid
// combinations of options or add to the deviation, and options or combinations may bring extras, which are then chosen
// for as well. Needs that take the same offer share its packs. The three figures of a choice are
//
//	cost       the packs of every offer used, at the cheapest number of packs that covers the pieces, and for every
//	           supplier used its carriage, unless its goods reach the level from which carriage is free
//	day        the latest day of the offers used, shelves among them
//	deviation  the deviations of the options and of the rules
//
// More packs than needed are bought where a price break makes them cheaper, and never only to reach a carriage-paid
// level: that is for an order list over all jobs to weigh. The multiple-choice multidimensional knapsack is a case of
// this problem (Khan et al., Studia Informatica Universalis 2, 2002, 161-182), so it is NP-hard; jobs are small.
//
// A point is beaten if another is nowhere worse; of equal points the first found stands for all, and since the search
// takes everything in a fixed order, that is the same one every time. Weighing the three figures into one cannot find
// the front: points that are best for no weights would be missed. Fixing bounds on two and minimising the third finds
// all of it (the epsilon-constraint method; for three objectives Kirlik and Sayin, European Journal of Operational
// Research 232, 2014, 479-488). There are few days and deviations are small, so the search goes through the days in
// order, and on each minimises cost for all deviations at once.
//
// # The search
//
// On day d only options that are here by d are open, and at least one taken must arrive on d itself: what is complete
// earlier was found earlier. That one comes from some supplier, so there is one search for each supplier of day d, without
// what those before it bring on the day. Points found by then form a staircase L(v), the cost that a choice of
// deviation v must stay below. A depth-first search decides the needs one after the other and gives a partial choice up
// unless for some v its bound on the cost at deviation v is below L(v). What keeps the search short:
//
//   - Classes. Options that no rule tells apart are one class, so a rule is asked once for a pair of classes and not for
//     each pair of options; of one class, an option goes that another always betters (reduce.go, classify.go).
//     A class that goes with nothing in some other need goes as well (arc consistency; Mackworth, Artificial
//     Intelligence 8, 1977, 99-118), and during the search each decision takes away the classes that do not go with it
//     (forward checking; Haralick and Elliott, Artificial Intelligence 14, 1980, 263-313). Rules over three needs or more
//     are asked when their last need is decided, and before that whether any completion remains; all answers are kept
//     (wide.go).
//
//   - Frontiers. The undecided needs see the decided ones only through the classes at their common border. For every
//     state of the border, the least cost of all that follows is worked out beforehand from the last need to the
//     first, as a staircase over deviation (non-serial dynamic programming; Bertele and Brioschi, Academic Press
//     1972). If the borders are too many states, the loosest links are left out, which only lowers the bound
//     (mini-buckets; Dechter and Rish, Journal of the ACM 50, 2003, 107-153) (frontier.go, suffix.go).
//     The order of the needs is chosen for small borders (order.go). A search begins with coarse borders and changes
//     to fine ones, which cost more to prepare, only when it turns out to be long (solve.go).
//
//   - Carriage. With a(s,i) >= 0 and the sum of a(s,i) over i at most the carriage f(s) of supplier s, charging need i a
//     share a(s,i) for taking supplier s never charges a choice more than f(s): a Lagrangian bound. Let U be the
//     suppliers used by the decided needs. Then
//
//     cost >= prices and f(s), s in U, of the decided needs + least cost with shares of the rest - sum over later i of max a(s,i), s in U
//
//     since a later need that goes to a used supplier must get its share back, and goes to one supplier only (onward.go).
//     The supplier of what arrives on the very day is used from the start: it is charged in full and nothing shared.
//     The shares are sought for several prices of deviation, because close choices use other suppliers than cheap ones
//     (carriage.go). A carriage f that is free from goods T on is shared out against a discount: goods G less G f/T, and
//     f, are never more than what G costs, on either side of T. Once T is out of reach f is charged in full (room.go).
//
//   - Shared offers. A need is charged its pieces times the least price a piece over all ways in which the needs can
//     pool, with each number of pieces that any of them may take; the sum never exceeds the price of the packs
//     (share.go). The exact price is taken when all is decided. An offer goes that another betters in every need that
//     may take it, however they pool (pool.go).
//
//   - Lots off a shelf. Such a lot is charged beside the goods of its option: it is bought from no supplier, so that it
//     counts for no carriage-paid level, discount or minimum order. Of two options one betters the other only if they
//     take the same lot first, since then they differ in their offers alone; and an offer of which a need may take only
//     some of its pieces neither betters another nor is bettered where needs pool.
//
//   - Extras. An option is charged the least that a piece of what it brings costs anywhere, less what the discount for
//     a carriage may take off it. What brings something that is not to be had goes (reduce.go).
//
//   - Memory. Of two partial choices with the same border, the same amounts where amounts still matter and no worse
//     figures, even if the better one must still begin to use the other's suppliers, the worse is given up
//     (dominance; memory.go).
//
// Everything is in whole numbers of one unit of money. Floating point occurs only while shares are sought; they are rounded
// down to whole numbers before any use, so a rounding error can make a bound lower and never wrong.
//
// # The proof
//
// A search that ends has refuted every choice outside the front. One that its context ends says that it is not
// proven; its bound on the cheapest choice holds all the same, because it was worked out before the search, and is
// zero if the context ended even before that. The context is looked at in every phase (deadline.go). Verify
// adds any point up again from the problem alone.
package choose

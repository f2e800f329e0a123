// Package solver picks a part and a source for every need of a job at once, so that all parts fit the bike and each
// other, and finds every option worth naming: the exact front over landed cost, the day on which everything is here,
// and deviations from what was there.
//
// Needs bind each other. The ring that is cheapest may want another chain; the cassette that is here on Thursday may
// want a derailleur that is not; two hubs' balls come from one bag; carriage is paid once a supplier. So the best set of
// parts is not the best part for each need, and only all of them together can be chosen.
//
// Fill in a Problem and call Solve:
//
//	Needs      what the job needs, where it goes and how many pieces, with candidates
//	Parts      the candidates, with the offers of shelf and suppliers: pack, price breaks, day, quantity
//	Suppliers  carriage, carriage-paid level, minimum order (package supply)
//	Brought    what could meet the further needs that rules and parts bring
//	Wishes     the latest day, the most to spend, the same finish, a part pinned, a supplier banned
//
// The Answer has the front, with every option's parts, purchases, carriage and differences in words, and the picks
// soonest, cheapest, closest and balanced. It says whether it is proven. If nothing fits, a Refusal has the minimal
// sets of wishes to give up with the jobs they buy, the nearest candidates with what stops them, and the kept parts that
// stand in the way with what replacing them would open. Why compares an option with each other part and source for a
// need. Check adds an option up again by itself and asks the fit engine about the whole bike.
//
// A need of several pieces is met from one source, or off the shelf as far as that goes and for the rest from one
// supplier: two tubes are wanted, one is on the shelf, and one is ordered. The shelf goes as far as its pieces do, or as
// what other needs of the same part leave of them (way.go).
//
// There is no rule here. Each rule of package substitution that looks at a need's place is asked, by the engine, once
// for every combination of candidates that it can tell apart: those that differ in a dimension that it reads. A broken
// or untold mating or safety rule forbids the combination; a broken function or finish rule adds its weight; what the
// rule brings becomes a need. Package choose searches the combinations and states the mathematics.
//
// Minimal sets of wishes are found by trying sets from small to large and leaving out every set that contains one found
// before (minimal correction sets by enumeration; Liffiton and Sakallah, Journal of Automated Reasoning 40, 2008, 1-33).
//
// Money is whole numbers of one unit. Parts, offers and suppliers are known by their indices in the problem, and the answer
// gives them back. Days are whole numbers in any numbering. The package is pure: no database and no clock.
package solver

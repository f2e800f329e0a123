// Package orderplan decides what to order from whom at the least landed cost:
// goods and carriage together. It proves that no other order costs a penny
// less, or says how far from proven it is.
//
// # The subject
//
// A shop needs lines of goods. Suppliers offer them in whole packs, with price
// breaks by quantity: on all units (the highest tier reached prices every unit)
// or incremental (each unit costs the price of its own tier). A supplier charges
// carriage once, unless the goods come to its carriage-paid level, and may
// insist on a minimum order. So the cheapest supplier of each line is rarely the
// cheapest order: a line moved to a dearer supplier can save a carriage, more
// units can cost less than fewer, and a line that is not needed yet can be worth
// buying because it lifts an order over a level. A line may be split over
// suppliers (unless the problem says no_split) and bought up to its max. An
// offer that arrives after the line's due day is not used; one that names no
// arrival day is not held to any. A line with need 0 is bought only where that
// lowers the total: no value is put on stock bought ahead.
//
// The planner knows no clock, no database and no currency: amounts are whole
// numbers of one unit, pence in a file and finer where the program plans; days
// count from the day of the order. What can be bought and what it costs is
// package supply's. Its JSON is
//
//	{"lines": [{"id": "chain", "need": 3, "max": 5, "due_day": 4}],
//	 "suppliers": [{"id": "north", "carriage": 495, "carriage_paid_at": 5000, "minimum_order": 1000}],
//	 "offers": [{"line": "chain", "supplier": "north", "pack": 1, "arrival_day": 2,
//	             "discount": "all-units", "breaks": [{"min": 1, "unit_price": 1650}]}]}
//
// with due_day, carriage_paid_at, minimum_order, arrival_day and no_split
// optional. The answer is
//
//	{"total": 5445, "lower_bound": 5445, "proven": true,
//	 "suppliers": [{"id": "north", "goods": 4950, "carriage": 495}],
//	 "lines": [{"id": "chain", "supplier": "north", "units": 3, "cost": 4950}]}
//
// with a row of lines for each offer used.
//
// # The problem in mathematics
//
// With fixed carriage alone this is uncapacitated facility location; it is
// known as the internet shopping optimization problem and is strongly NP-hard
// (Blazewicz, Kovalyov, Musial, Urbanski, Wojciechowski, Int. J. Appl. Math.
// Comput. Sci. 20(2), 2010, 385-390). With discounts by total it has no
// polynomial approximation of constant ratio unless P = NP (Goossens, Maas,
// Spieksma, van de Klundert, EJOR 178(2), 2007, 603-626).
//
// Each supplier s is in one of three modes: unused, pays carriage (goods reach
// the minimum order), or paid (goods reach the carriage-paid level). Let R be
// what the mode requires and F the carriage it costs. For a line l and a
// supplier, a small table gives the cost c(q) of every quantity q that can be
// bought (tables.go). The search branches on modes (search.go). A node leaves
// each supplier a set of modes; it is bounded by Lagrangian relaxation (Fisher,
// Management Science 27(1), 1981, 1-18).
//
// # The bound
//
// Let each line pay a price v for being covered, and let suppliers sell to lines
// independently of each other, each choosing its own mode and, for each line, at
// most one quantity. A quantity that covers the need n by itself is paid v. A
// part, q units with q < n, is paid v·f(q)/f(n), where f(q) is the least
// cost of q units from parts of any supplier, each as often as liked. Because
// f(a)+f(b) ≥ f(a+b), parts that cover a line together are paid at least v.
// Hence, for any prices v ≥ 0,
//
//	Σ v(l) + Σ min over modes [ F + min { Σ (c - payment) : Σ c ≥ R } ]
//	 l        s
//
// is at most the cost of any plan: replacing the payments of a plan by the
// prices only lowers it, and what remains is one possible choice of each
// supplier. Paying parts by their quantity and not by their own cost matters:
// otherwise every dear supplier is paid for parts that nobody would buy from it,
// and the bound is some ten times further from the optimum.
//
// The inner problem is a knapsack to be covered. Its own relaxation, with a
// multiplier θ between 0 and 1 on the requirement,
//
//	max over θ of  θR + Σ min(0, (1-θ)c - payment)
//	                    l
//
// is concave and piecewise linear in θ and solved by intersecting tangents. For
// θ ≤ 1 only the cheapest whole cover and the lower convex hull of the parts
// matter, and lines that are not needed drop out: at θ = 1 spending a penny
// towards a level costs a penny, and an extra can do no better. f is computed on
// costs shaded by 1-λ(s), λ being about the θ of the supplier's mode, so that a
// part's payment and its worth to its supplier agree. Prices climb by
// subgradient steps of Polyak's length (Polyak, USSR Comput. Math. and Math.
// Phys. 9(3), 1969, 14-29). All this is bound.go.
//
// A mode, or an option of a table, whose choice would lift the bound to the cost
// of the best plan known is dropped (reduced-cost fixing; thin.go does it for
// options at the root).
//
// # A leaf
//
// When every mode is fixed, what remains is to pick one way of buying for each
// line, splits included, so that goods reach R at every supplier: a
// multiple-choice knapsack with few covering rows. With a multiplier λ(s) on
// each row,
//
//	Σ F + Σ λ(s)R(s) + Σ min over ways Σ (1-λ(s))·c
//	s     s            l               s
//
// is a bound, exact in how a line is covered (choices.go lists the ways by
// dynamic programming over quantity). The ways that the bound favours become a
// plan where goods fall short by the changes that cost least for each penny that
// is short (repair.go). A leaf is searched for plans a little above its bound,
// then a little more: the target deepens from pass to pass, and
// each pass without a plan raises the leaf's bound. Within a pass the tree
// branches on the line where bound and plan disagree most, climbs anew in every
// node and drops the ways whose reduced cost passes the target (leaf.go). The
// mode nodes and leaves together are visited best bound first.
//
// # A good plan early
//
// The bound of a leaf is mostly within some 0.01 % of its best plan, and far
// quicker to compute. So the first plan is looked for among sets of modes by
// their bounds: one supplier's mode is changed, or two, as long as that helps,
// and the leaf where no change helps is searched (local.go). From there the tree
// has little left to do but prove.
//
// # Exactness
//
// Money is whole numbers throughout. Floating point is used in bounds only, and a
// bound counts for the least whole number above it less a margin. The
// margin covers rounding: a sum of n terms whose magnitudes sum to m is off by
// no more than n·m·2⁻⁵² (Higham, Accuracy and Stability of Numerical Algorithms,
// 2nd ed., SIAM 2002, section 4.2); and it covers writing multipliers down as
// whole multiples of 2^-shift for the certificate. A problem is planned in the
// largest unit in which all its amounts are whole (unit.go), and where only the
// margin keeps a node open its bound is added up in whole numbers.
//
// # The certificate
//
// A plan carries the tree that proved it: in each node the multipliers as whole
// numbers, the options dropped, and the branching. Check walks it with 64-bit
// integers (128 in one quotient) and recomputes every bound; it shares the
// tables with the planner, not the search. It is the whole proof, branching
// included, unless that would exceed some 30 MB: then the certificate is that of
// the root alone, its Bound is lower than the plan's LowerBound, and the
// difference rests on the search.
//
// # Limits
//
// Exact planning is exponential in the worst case; a deadline in the context
// ends it with the best plan so far, an honest LowerBound and Proven false, soon
// after: in the tables too it is looked for from line to line.
// Lines of thousands of units in small packs make large tables: MaxUnits,
// maxOptions and MaxPence say where the planner refuses. Of several cheapest
// plans the same one is returned for the same problem; which one is not
// promised to stay the same between versions.
package orderplan

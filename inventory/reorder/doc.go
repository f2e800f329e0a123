// Package reorder advises what to keep on the shelf, how much, and why.
//
// Most parts in a workshop sell now and then: a bottom bracket in ten days, two
// brake pads on a Saturday, nothing for a month. Averages over a few weeks jump
// about on such demand, so it is forecast from two simpler questions, how much is
// taken when any is taken, and how long it is from one sale to the next (Croston,
// "Forecasting and stock control for intermittent demands", Operational Research
// Quarterly 23, 1972). See forecast.go.
//
// A part is ordered again when what is on the shelf and on order falls to the
// reorder level. From then until the parcel comes, sales must be met from what
// is left, so the level follows from how much may sell during the lead time
// (leaddemand.go) and from how many sales in 100 are to be met from the shelf.
// How much to order at a time weighs the cost of one more order against the
// money that lies on the shelf (policy.go).
//
// # The whole shelf
//
// [Weigh] does better than part by part. How often each part is asked for is learnt from the shop's own books
// (memory.go): its own sales as far as they go, and those of the shop's other parts where they are few; how fast the
// past fades, and how much the coming weeks may differ from it, are the figures under which the shop's own past would
// have been foretold best, never constants (teach.go). So is how soon parts come to their end, which nobody sees: each week
// without a sale speaks for it, the more so the more often a part sold. What all parts together sold of late over what was expected of them, by how
// long each has been silent, leads on where one part alone shows too little (pace.go). Sales come with their sizes, as
// the part's own and like parts' were (size.go). What a level then meets is summed over the doubt about the rate, the
// forecast distribution of the lead time and the wait for the next look at the shelf (levels.go). And one target holds
// for all sales of the shop, not for each part: the next pound goes where it saves most sales (shelf.go). What the rule
// would have met over the shop's last weeks (replay.go) corrects what is aimed at, as far as it was so in every month
// (promise.go). A season is one index for the whole shop: that of riding until a year is in the books, then the shop's
// own by the month, shrunk to it, and from the second year on by the week (seasonal.go) and by kind of part (kind.go), as
// far as what one year shows is what another shows (years.go).
//
// # Playing
//
// A rule is only worth what it does. [World.Play] plays sales over a shelf: in the
// morning the parcels come that are due; the sales of the day take what is there, and
// what is missing is bought for the job; in the evening of a look day each part whose
// shelf and orders together have fallen to its level is ordered up to its upper level.
// Every few weeks the rule is asked anew. A part is known from its first sale on, and
// counts from the first advice after it; what is known at the start begins with a full
// shelf. Every rule sees the same days and parcels.
//
// Days are working days throughout, for the lead time as for the periods in
// which sales are counted.
package reorder

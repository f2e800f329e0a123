// Package reorder advises what to keep on the shelf, how much, and why.
//
// Most parts in a workshop sell now and then: a bottom bracket in ten days, two
// brake pads on a Saturday, nothing for a month. Averages over a few weeks jump
// about on such demand, so it is forecast from two simpler questions, how much is
// taken when any is taken, and how long it is from one sale to the next (Croston,
// "Forecasting and stock control for intermittent demands", Operational Research
// Quarterly 23, 1972). See [ForecastDemand].
//
// A part is ordered again when what is on the shelf and on order falls to the
// reorder level. From then until the parcel comes, sales must be met from what
// is left, so the level follows from how much may sell during the lead time
// ([LeadDemand]) and from how many sales in 100 are to be met from the shelf.
// How much to order at a time weighs the cost of one more order against the
// money that lies on the shelf ([Policy.Advise]).
//
// Days are working days throughout, for the lead time as for the periods in
// which sales are counted.
package reorder

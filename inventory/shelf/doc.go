// Package shelf tells what to keep on the shelf, and what to do about it: how the shop's books become the numbers that
// package reorder weighs, and how its answer becomes words and orders.
//
//   - [Demand] is what was asked for, as the ledger, quotes and lost sales tell it. [inventory.Deliveries] say
//     how long a part takes to come.
//   - A [Policy] is what the shop wants of its shelf. A [Limit] is how many of a part its place holds and how long it
//     keeps, a [Word] what a person has said of a part; both go before what is advised.
//   - [Load] weighs the whole shelf: an [Advice], with a [Keeping] for each part. From it come the [WeekList], what is
//     there in [Excess], and what was met in the last [Quarter]. [KeepingOf] is the same of one part, with its [Figures].
//   - [SetReorder] sets a part's level; a [Shortage] is a part at or below it, and a [Ride] one near it that may ride
//     along in a parcel that goes anyway.
//   - A [Simulation] plays sales, or the books, over levels.
//
// Nothing here changes stock.
package shelf

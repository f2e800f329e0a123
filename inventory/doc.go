// Package inventory knows what the workshop has and what it can get.
//
// The words of the subject, each one type:
//
//   - A [Part] is an article of the catalogue: what fits about it (family, name and spec, from package substitution)
//     and what is traded about it: brand, maker's code, GTIN, recommended price, reorder level.
//   - A [Supplier] sells parts by [Offer]s: its own code for a part, in packs, at prices that fall with the number
//     of packs, with a stock signal as of a time.
//   - The shelf is a ledger of [Movement]s, each with its reason: nothing is ever changed or removed, a mistake is
//     mended by a further movement. [Stock] is the ledger's sum: on hand, of that reserved, on order, still wanted.
//   - A reservation keeps pieces on the shelf for an approved job ([Reserve]). A [Claim] is what an approved job lacks:
//     wanted, then ordered, then arrived, and with that reserved.
//   - An [Order] goes to one supplier. Goods in ([ReceiveOrder]) say what came of it: good, over, wrong or damaged; what did
//     not come stays awaited until it is cancelled.
//
// # Changes
//
// A function that changes something takes a transaction. What a person does is one transaction under a request key ([Once]):
// the same request again, after a double click or a cut line, changes nothing and gives the first outcome.
//
// Locks are taken in one order, so that no two changes wait for each other: the purchase order, then jobs, then shelf
// rows, each kind by number. Every function here keeps to it by itself. A transaction that changes several parts' stock, or
// calls several functions, takes all its locks first with [Lock].
//
// # Numbers
//
// A quantity is in pieces unless it says packs. Money is decimal, before tax unless it says otherwise, in the currency of
// the supplier or the shop. What is not known is absent, never zero.
package inventory

// Package leadtime turns a supplier's "three working days" into an honest date.
//
// A quoted lead time is a number; what happens is a spread: most parcels come
// as quoted, some a day late, a few weeks late. A workshop that promises the
// quote loses a customer now and then; one that always adds a week loses the
// job. So the lead time of an order is forecast as a [Distribution]: the chance
// of arrival on each working day, with what may come later than a year, or
// never, kept as a chance of its own.
//
// # Counting votes
//
// Every past receipt is a vote for how many days after its quote the next
// parcel comes. A handful of votes decides nothing, so they are mixed with what
// is known otherwise, in two steps of the same formula,
//
//	forecast = (a·base + own votes) / (a + number of own votes)
//
// First the base: what every other supplier did, each counting at most as one,
// together with a stated assumption about the quote ([Assumption]), which counts
// as one supplier more. Then the supplier's own receipts. The number a, how many
// votes the base is worth, is itself estimated: where suppliers differ much from
// one another and little from themselves, own receipts count early; where they
// are all alike, late. With s² the variance of lateness within a supplier and
// τ² the variance between suppliers' true means, a = s²/τ² and the weight of n
// own receipts is
//
//	n/(n+a) = τ²/(τ²+s²/n)
//
// the empirical-Bayes weight (Efron and Morris, "Stein's paradox in statistics",
// Scientific American 236(5), 1977), used here on the whole distribution and
// not on the mean alone: for each day, the mix is the linear credibility
// estimate of the chance of arrival by that day (Bühlmann, "Experience rating
// and credibility", ASTIN Bulletin 4, 1967). Nothing is assumed about
// the shape of lateness, so its spike at "on time" and its long tail survive.
//
// A vote counts less the older it is and the less it resembles the order at
// hand (another stock signal, a very different quote). One freak receipt is one
// vote: it moves the far tail and little else.
//
// # What changes
//
// A supplier may have changed its ways ([Change]). Since when is not known, so the
// forecast is a mix over the answers, each weighed by how well it would have
// foretold the receipts since, and what is overdue (memory.go). All suppliers may be late together
// ([Strain]), each parcel by the same days or by days of its own: when that began, how
// it grew and how large it is are weighed by what was due of each supplier in the last
// nine weeks (witness.go), and so are those of the same weeks a year ago, which come
// again (beginning.go). What came under a strain says nothing of its supplier's own ways.
//
// # What is overdue
//
// A parcel that is late has no usual time left to it: what is k days late is late
// by about as much again (tail.go), unless the supplier's own late parcels and those
// of others say otherwise: only what was late for as long is asked (waiting.go).
// [Forecast.StillWaiting] gives the days still open to it. From some day on none can
// be named, and who waits is told to ask.
//
// # A job's date
//
// A job can start when all its shipments are in. Shipments of different
// suppliers come independently, so their chances multiply, once a shipment
// whatever the number of lines in it. Holidays and closed days are no matter of
// chance: they shift the calendar of each shipment ([stead/inventory/calendar])
// and never multiply.
package leadtime

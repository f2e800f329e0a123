package reorder

// Level is when to order again.
type Level struct {
	// ReorderAt is the number of pieces on the shelf and on order at which, or
	// below which, to order again.
	ReorderAt int
	// Fill is the chance, over the long run, that a sale is met from the shelf at
	// once and whole.
	Fill float64
}

// reorderLevel is the lowest level at which sales are met with the target chance,
// when so many are ordered at a time. The amounts are pieces a sale asks for, each
// as likely as the next; there must be one.
//
// Just after any sale, what is on the shelf and on order is equally likely any
// number from the level plus 1 to the level plus the order quantity. A lead time
// later exactly these pieces have come, less what has sold since: a sale of one
// is met if at least one is left, P(demand <= pieces - 1). For an order quantity
// of one this is the base-stock fill rate; it is a common slip to leave out the
// 1. Where sales ask for several pieces the equal chance is an approximation.
func reorderLevel(demand leadDemand, amounts []int, orderQuantity int, target float64) Level {
	largest := 0
	for _, amount := range amounts {
		largest = max(largest, amount)
	}
	for enough := int(demand.Mean) + largest; ; enough *= 2 {
		// upTo[n] adds up the chances that fewer than 1, 2, ..., n pieces sell.
		upTo := make([]float64, enough+orderQuantity+1)
		for n, chance := range demand.atMost(enough + orderQuantity - 1) {
			upTo[n+1] = upTo[n] + chance
		}
		met := func(level int) float64 {
			sum := 0.0
			for _, amount := range amounts {
				sum += upTo[max(0, level+orderQuantity-amount+1)] - upTo[max(0, level-amount+1)]
			}
			return sum / float64(orderQuantity) / float64(len(amounts))
		}
		if met(enough) < target {
			continue
		}
		low, high := 0, enough // the chance only rises with the level
		for low < high {
			if middle := (low + high) / 2; met(middle) >= target {
				high = middle
			} else {
				low = middle + 1
			}
		}
		return Level{ReorderAt: low, Fill: met(low)}
	}
}

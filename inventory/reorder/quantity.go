package reorder

import "math"

// economicQuantity is the order quantity at which ordering and holding together
// cost least in a year: the square root formula of Harris (1913).
func economicQuantity(perYear, orderCost, holdingCost float64) float64 {
	return math.Sqrt(2 * orderCost * perYear / holdingCost)
}

// yearlyCost of ordering and holding, at so many pieces an order.
func yearlyCost(quantity, perYear, orderCost, holdingCost float64) float64 {
	return orderCost*perYear/quantity + holdingCost*quantity/2
}

// discountQuantity is the quantity that costs least in a year, goods and all, where from each break on all pieces are
// cheaper: of each price its economic quantity, or its break if that is more (Hadley and Whitin, "Analysis of Inventory
// Systems", 1963).
func discountQuantity(perYear, orderCost, holding float64, breaks []Break) (quantity, cost float64) {
	cost = math.Inf(1)
	for i, b := range breaks {
		q := max(economicQuantity(perYear, orderCost, holding*b.Price), float64(b.From))
		if i+1 < len(breaks) && q >= float64(breaks[i+1].From) {
			continue // a lower price holds there
		}
		if c := perYear*b.Price + yearlyCost(q, perYear, orderCost, holding*b.Price); c < cost {
			quantity, cost = q, c
		}
	}
	return quantity, cost
}

// orderQuantity is the number of whole packs that costs least in a year, in
// pieces: at least the supplier's minimum, and no more than will sell in the
// longest time that stock may lie, unless one pack or the minimum is more.
func orderQuantity(perYear, orderCost, holdingCost float64, pack, minimum int, mostYears float64) int {
	best := economicQuantity(perYear, orderCost, holdingCost)
	packs := max(1, int(best/float64(pack)))
	// The cost falls up to the best quantity and rises after it: one of the two
	// neighbouring numbers of packs is best.
	fewer, more := float64(packs*pack), float64((packs+1)*pack)
	if yearlyCost(more, perYear, orderCost, holdingCost) < yearlyCost(fewer, perYear, orderCost, holdingCost) {
		packs++
	}
	packs = min(packs, int(perYear*mostYears/float64(pack)))
	return max(packs, 1, (minimum+pack-1)/pack) * pack
}

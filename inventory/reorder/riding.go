package reorder

// RideAlong is a part above its reorder level that may ride along in a parcel which goes anyway.
type RideAlong struct {
	Position    int // pieces on the shelf and on order
	Level, UpTo int
	PerYear     float64 // pieces
	Price       float64 // of a piece
	Holding     float64 // a year, for each pound of stock
	Saves       float64 // pounds of carriage and handling that an order of its own would cost later
}

// Worth is what ordering it now saves, in pounds: what its own order would cost later, less what holding its pieces
// costs until that would have gone. Below nought it is better left. What costs nothing to hold, for it never falls to
// its level, is no reason to order: then it is 0.
func (r RideAlong) Worth() float64 {
	if r.PerYear <= 0 || r.UpTo <= r.Position {
		return 0
	}
	years := float64(r.Position-r.Level) / r.PerYear
	return r.Saves - years*r.Holding*r.Price*float64(r.UpTo-r.Position)
}

// CanOrder is the highest position at which riding along is worth something: a can-order level (Balintfy, "On a basic
// class of multi-item inventory problems", Management Science 10, 1964). It is the reorder level itself where none
// above it is.
func (r RideAlong) CanOrder() int {
	for r.Position = r.UpTo - 1; r.Position > r.Level; r.Position-- {
		if r.Worth() > 0 {
			return r.Position
		}
	}
	return r.Level
}

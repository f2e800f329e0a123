package measure_test

import (
	"fmt"

	"stead/substitution/measure"
)

func ExampleBearing() {
	r, err := measure.Bearing{Bore: measure.Caliper(14.98), Outer: measure.Caliper(27.97), Width: measure.Caliper(6.95)}.Identify()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(r.Words())
	// Output:
	// This is a 6902: 15 × 28 × 7 mm.
	//
	// Sizes inside the readings:
	//   6902: 15 × 28 × 7 mm  [ISO 15 boundary dimensions, as three bearing makers' catalogues print them alike (maker's catalogue)]
	//
	// Easily confused with it:
	//   16001 (12 × 28 × 7 mm): its bore is 12 mm, yours reads 14.98: does not fit in its place
	//   15267 (15 × 26 × 7 mm, no ISO name): its outer is 26 mm, yours reads 27.97: does not fit in its place  [from memory]
	//   17287 (17 × 28 × 7 mm, no ISO name): its bore is 17 mm, yours reads 14.98: does not fit in its place  [from memory]
	//
	// To be sure:
	//   Read the marks after the number on the old bearing (eye): no caliper shows the clearance class (C3), the precision or a full complement of balls (MAX)
	//
	// How this reads badly:
	//   Measure the width across the rings, not across the seals.
}

// The same with an outer of 26 is no ISO bearing: the nearest, which would be ordered by mistake, is named and refused.
func ExampleBearing_noISOSize() {
	r, err := measure.Bearing{Bore: measure.Caliper(14.98), Outer: measure.Caliper(26.0), Width: measure.Caliper(6.95)}.Identify()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.Verdict)
	fmt.Println("known:", r.Firm())
	// Output:
	// No ISO size has these dimensions. The bicycle trade knows them as 15267; that is from memory, so order by the measured sizes and compare the number on the seal. The nearest ISO size, 6902, does not fit: its outer is 28 mm, yours reads 26.
	// known: false
}

func ExampleChainring() {
	r, err := measure.Chainring{Bolts: 5, Adjacent: measure.Caliper(64.6)}.Identify()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.Verdict)
	for _, s := range r.Next {
		fmt.Println("-", s.Do, "with a", s.Tool)
	}
	// Output:
	// This is 110 BCD 5-bolt: the circle works out at 109.9 mm from neighbouring holes.
	// - Measure from a hole to the next but one with a caliper
	// - Compare all five neighbour distances with a caliper
}

func ExampleBalls() {
	r, err := measure.Balls{Diameter: measure.Caliper(3.97)}.Identify()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.Verdict)
	for _, s := range r.Next {
		fmt.Println("-", s.Do+":", s.Why)
	}
	// Output:
	// They are 5/32 in or 4 mm: these readings cannot tell which.
	// - Lay ten in a row against a straight edge and measure the row: 5/32 in: 39.69 mm, 4 mm: 40.00 mm
	// - Or weigh a hundred: 5/32 in: 25.7 g, 4 mm: 26.3 g
}

package standard_test

import (
	"fmt"

	"stead/substitution/standard"
)

// Two makers' names for one bearing, and the size that only looks like it.
func ExampleParseBearing() {
	for _, name := range []string{"6902 LLU C3", "61902-2RS1", "15267-2RS"} {
		b, err := standard.ParseBearing(name)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Printf("%s: %s mm, ISO %t, %s\n", b, b.Envelope(), b.ISO, b.Confidence)
	}
	// Output:
	// 6902-2RS/C3: 15 × 28 × 7 mm, ISO true, maker's catalogue
	// 6902-2RS: 15 × 28 × 7 mm, ISO true, maker's catalogue
	// 15267-2RS: 15 × 26 × 7 mm, ISO false, from memory
}

// A W before the number means two things, so the reader asks.
func ExampleParseBearing_ambiguous() {
	_, err := standard.ParseBearing("W688ZZ")
	fmt.Println(err)
	// Output:
	// "W688ZZ" could be 688-ZZ or SS 688-ZZ: W is the wider shielded version with one maker and stainless steel with another; say whose number it is, or measure the width
}

// A point typed for a slash is noticed, and the nearest balls are named.
func ExampleParseBall() {
	_, err := standard.ParseBall("5.32")
	fmt.Println(err)
	// Output:
	// "5.32" is not a ball size: no standard ball measures 5.32 mm (was the fraction 5/32 meant?); nearest: 5/32 in (3.969 mm), 5.5 mm, 7/32 in (5.556 mm)
}

// An inch name can mean several bead seats. The reader gives them all and says where to look.
func ExampleParseTyre() {
	for _, name := range []string{"700 x 28C", "27 × 1¼", "24x1"} {
		tyre, err := standard.ParseTyre(name)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(name, "is", tyre)
	}
	// Output:
	// 700 x 28C is 28-622
	// 27 × 1¼ is 32-630
	// "24x1" could be 25-520 or 25-540: read the two figures joined by a dash on the tyre's sidewall (28-622), or the figure on the rim; the second is the bead seat
}

package substitution

import "testing"

// One candidate ring in a fully recorded drivetrain: the work done for each part of a catalogue that narrowing leaves.
func BenchmarkCheck(b *testing.B) {
	was, err := buildOf(map[Place]string{
		"chain": "speeds=9 links=110", "rear.cassette": "speeds=9 teeth_min=11 teeth_max=28", "rear.derailleur": "capacity=33",
		"crank": "bcd_mm=110 bolts=5", "crank.outer-ring": "teeth=50 bcd_mm=110 bolts=5 position=outer", "crank.inner-ring": "teeth=34",
	})
	if err != nil {
		b.Fatal(err)
	}
	ring, err := ParsePart("chainring", "teeth=48 bcd_mm=110 bolts=5 position=outer colour=silver")
	if err != nil {
		b.Fatal(err)
	}
	s := Scene{Was: was, Now: was}
	b.ReportAllocs()
	for b.Loop() {
		s.Choose("crank.outer-ring", &ring).Check("crank.outer-ring")
	}
}

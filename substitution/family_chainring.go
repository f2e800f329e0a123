package substitution

import (
	"slices"
)

var _ = families(&chainring)

var (
	bcd         = millimetres("bcd_mm", "bolt circle", 40, 170, "distance of neighbouring bolt holes, caliper; `stead measure chainring` gives the circle")
	bolts       = count("bolts", "bolts", 1, 10, "count the bolts")
	boltPattern = word("bolt_pattern", "bolt pattern", "compare the distances of neighbouring holes: all the same is even", "even", "asymmetric")
	directMount = word("direct_mount", "direct mount", "look behind the crank arm: the maker's name of the interface")
	ringTeeth   = count("teeth", "teeth", 10, 80, "count the teeth")
)

var everyRing = []Place{"crank.outer-ring", "crank.middle-ring", "crank.inner-ring", "crank.ring"}

var chainring = Table{
	Family: "chainring", Plural: "chainrings",
	Sites: []Site{
		{Place: "crank.outer-ring", Words: "outer chainring"},
		{Place: "crank.middle-ring", Words: "middle chainring"},
		{Place: "crank.inner-ring", Words: "inner chainring"},
		{Place: "crank.ring", Words: "single chainring", Named: []string{"single"}},
	},
	Readings: []Reading{skipsUnderLoad, hookedTeeth},
	Work: []Work{
		{Replace, "fit chainring", 20},
		{Clean, "clean chainring", 10},
	},
	Dimensions: []Dimension{
		ringTeeth,
		bcd,
		bolts,
		boltPattern,
		speeds,
		chainWidth,
		word("position", "position", "look: which ring of the crankset it is; alternating thick and thin teeth make a single", "outer", "middle", "inner", "single"),
		count("pairs_with", "teeth of the ring it is cut to shift with", 10, 80, "read the ring's stamp"),
		directMount,
	},
	Rules: []Rule{
		{
			ID: "chainring.bcd", Severity: Mating, At: everyRing,
			Says: "the ring's bolt circle is the crankset's",
			Test: Custom{
				Of: []Ref{mine("bcd_mm"), mine("direct_mount"), theirs("crank", "bcd_mm"), theirs("crank", "bcd_inner_mm"),
					theirs("crank", "direct_mount"), theirs("crank.middle-ring", "teeth")},
				Judge: ringCircle, Narrow: ringCircleNarrow,
			},
			Source: Source{"Sheldon Brown, bolt-circle crib sheet; published tables differ by up to 0.2 mm for one circle", Handbook},
		},
		{
			ID: "chainring.bolts", Severity: Mating, At: everyRing,
			Says:   "the ring has as many bolts as the crankset",
			Test:   notDirect("bolts", Match{Mine: "bolts", Theirs: []Ref{theirs("crank", "bolts")}}),
			Source: byBoltPatterns,
		},
		{
			ID: "chainring.bolt-pattern", Severity: Mating, At: everyRing,
			Says: "the bolts stand at the same angles: an unequal spider takes unequal rings only",
			Test: Custom{
				Of: []Ref{mine("bolt_pattern"), mine("bcd_mm"), mine("bolts"), mine("direct_mount"),
					theirs("crank", "bolt_pattern"), theirs("crank", "direct_mount")},
				Judge: ringPattern,
			},
			Source: byBoltPatterns,
		},
		{
			ID: "chainring.direct-mount", Severity: Mating, At: everyRing,
			Says:   "a ring without bolts has the crankset's own interface: the makers' shapes differ",
			Test:   Match{Mine: "direct_mount", Theirs: []Ref{theirs("crank", "direct_mount")}, Rare: true},
			Source: Source{"published overviews of spiderless mounts (trbike)", Handbook},
		},
		{
			ID: "chainring.least-teeth", Severity: Mating, At: everyRing,
			Says:   "the teeth clear the bolts: each circle has its smallest ring",
			Test:   Custom{Of: []Ref{mine("teeth"), mine("bcd_mm"), mine("bolts")}, Judge: ringClears},
			Source: Source{"Sheldon Brown, bolt-circle crib sheet; root diameter against the bolt heads, as a published technical FAQ has it", Handbook},
		},
		{
			ID: "chainring.single", Severity: Mating, At: []Place{"crank.outer-ring", "crank.middle-ring", "crank.inner-ring"},
			Says:   "a single ring, with alternating thick and thin teeth, never goes in a double or triple",
			Test:   Custom{Of: []Ref{mine("position"), mine("pairs_with")}, Judge: notSingle, Narrow: notSingleNarrow},
			Source: Source{"a bicycles question-and-answer page: where several rings are shifted, alternating teeth do not work; it is made without ramps", Handbook},
		},
		{
			ID: "chainring.place", Severity: Mating, At: []Place{"crank.outer-ring", "crank.middle-ring", "crank.inner-ring"},
			Says:   "a ring of a double or triple is made for its place: outer, middle or inner",
			Test:   Custom{Of: []Ref{mine("position")}, Judge: ringPosition, Narrow: ringPlaceNarrow},
			Source: Source{"offset, counterbores, ramps and pins are made for one place", Practice},
		},
		{
			ID: "chainring.position", Severity: Function, At: []Place{"crank.ring"},
			Says:   "a single ring is made to hold the chain without a guide",
			Test:   Custom{Of: []Ref{mine("position")}, Judge: ringPosition},
			Source: Source{"a ring cut for shifting lets the chain go more easily", Practice},
		},
		widthRule("chainring", []Ref{mine("chain_width"), mine("speeds")}, everyRing...),
		{
			ID: "chainring.chain-speeds", Severity: Function, At: everyRing,
			Says:   "the ring is made for the chain's number of speeds; for a neighbouring one it works, and may shift less well",
			Test:   Share{Mine: "speeds", Theirs: []Ref{theirs("chain", "speeds")}, Optional: true},
			Source: byChainPages,
		},
		{
			ID: "chainring.pair", Severity: Function, At: []Place{"crank.outer-ring"},
			Says:   "the outer ring's ramps are cut for the inner ring's teeth",
			Test:   Custom{Of: []Ref{mine("pairs_with"), theirs("crank.inner-ring", "teeth"), theirs("crank.middle-ring", "teeth")}, Judge: pairs("crank.middle-ring", "crank.inner-ring")},
			Source: byBoltPatterns,
		},
		{
			ID: "chainring.pair-outer", Severity: Function, At: []Place{"crank.inner-ring", "crank.middle-ring"},
			Says:   "the inner ring is made for the outer ring's teeth",
			Test:   Custom{Of: []Ref{mine("pairs_with"), theirs("crank.outer-ring", "teeth")}, Judge: pairs("crank.outer-ring")},
			Source: byBoltPatterns,
		},
		{
			ID: "chainring.teeth", Severity: Function,
			Says:   "the ring has the teeth that were there",
			Test:   Same{Mine: []string{"teeth"}, Feel: ringFeel},
			Source: Source{"gear ratio is ring teeth by sprocket teeth", Arithmetic},
		},
		materialRule("chainring", "it wears differently: hardened steel outlasts alloy at the tooth, hard alloy the soft one", byWear),
		finishRule("chainring"),
	},
}

// pairs compares the teeth that a ring is cut for with the first of the neighbouring rings that the bike has.
func pairs(neighbours ...Place) func(Scene, Place) Judgement {
	return func(s Scene, at Place) Judgement {
		var refs []Ref
		for _, p := range neighbours {
			refs = append(refs, theirs(p, "teeth"))
		}
		cut, other := s.side(mine("pairs_with"), at), s.first(refs, at)
		if !cut.known || !other.recorded {
			return Judgement{}
		}
		if !other.known {
			return untold(cut, other)
		}
		j := Judgement{Answer: Holds, Wanted: cut.now.String() + "T", Found: other.now.String() + "T",
			Words: at.words() + " cut to shift with " + cut.now.String() + "T beside " + other.now.String() + "T"}
		if !cut.now.Equal(other.now) {
			j.Answer = Breaks
			j.Words += ": the chain picks up less cleanly"
		}
		return j
	}
}

// notSingle keeps narrow-wide rings out of doubles and triples. A ring cut to shift with another is none.
func notSingle(s Scene, at Place) Judgement {
	position, pair := s.side(mine("position"), at), s.side(mine("pairs_with"), at)
	switch {
	case position.known && position.now.word == "single":
		return Judgement{Answer: Breaks, Wanted: "a ring with ramps", Found: "single", Words: "a single ring in the place of the " + at.words() + " will not shift"}
	case position.known:
		return Judgement{Answer: Holds, Found: position.now.word, Words: "made as " + position.now.word + " ring, not as a single"}
	case pair.known:
		return Judgement{Answer: Holds, Found: "cut for " + pair.now.String() + "T", Words: "cut to shift with another ring, so not a single"}
	}
	return untold(position)
}

func notSingleNarrow(_ Scene, at, choosing Place) []Condition {
	if at != choosing {
		return nil
	}
	return []Condition{OneOf{"position", []string{"outer", "middle", "inner"}}}
}

func ringPlaceNarrow(_ Scene, at, choosing Place) []Condition {
	if at != choosing {
		return nil
	}
	i := slices.IndexFunc(ringPlaces, func(r ringPlace) bool { return r.place == at })
	return []Condition{OneOf{"position", []string{ringPlaces[i].position}}}
}

// ringPosition compares the position a ring is made for with where it sits.
func ringPosition(s Scene, at Place) Judgement {
	d := s.side(mine("position"), at)
	if !d.known {
		return Judgement{}
	}
	i := slices.IndexFunc(ringPlaces, func(r ringPlace) bool { return r.place == at })
	want := ringPlaces[i].position
	j := Judgement{Answer: Holds, Wanted: want, Found: d.now.word, Words: "made as " + d.now.word + " ring, used as " + want}
	if want != d.now.word {
		j.Answer = Breaks
		if want == "single" {
			j.Words += ": the chain may drop without a guide"
		}
	}
	return j
}

package substitution

var _ = families(&chainring)

var (
	bcd         = millimetres("bcd_mm", "bolt circle", 40, 170, "distance of neighbouring bolt holes, caliper; measuring the chainring gives the circle")
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
		{Place: "crank.middle-ring", Words: "middle chainring", Most: Most{"teeth", 42}},
		{Place: "crank.inner-ring", Words: "inner chainring", Most: Most{"teeth", 42}},
		{Place: "crank.ring", Words: "single chainring", Named: []string{"single"}},
	},
	Readings: []Reading{skipsUnderLoad, hookedRing},
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
		toothRoller,
		millimetres("offset_mm", "offset", -12, 12, "straight edge over the mount: how far the teeth stand inwards of it"),
	},
	Agrees: []Agreement{ringOnCircle},
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
				Judge: ringPattern, Geometry: true,
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
			Test:   Custom{Of: []Ref{mine("teeth"), mine("bcd_mm"), mine("bolts"), mine("direct_mount"), theirs("crank", "bcd_mm"), theirs("crank", "bcd_inner_mm"), theirs("crank", "direct_mount"), theirs("crank.middle-ring", "teeth")}, Judge: ringClears, Geometry: true},
			Source: Source{"Sheldon Brown, bolt-circle crib sheet; root diameter against the bolt heads, as a published technical FAQ has it", Handbook},
		},
		{
			ID: "chainring.single", Severity: Mating, At: []Place{"crank.outer-ring", "crank.middle-ring", "crank.inner-ring"},
			Says:   "a single ring, with alternating thick and thin teeth, never goes in a double or triple",
			When:   []When{notGiven("pairs_with")},
			Test:   Is{Mine: "position", Words: []string{"outer", "middle", "inner"}, Rare: true, Why: "a ring without ramps will not shift"},
			Source: Source{"a bicycles question-and-answer page: where several rings are shifted, alternating teeth do not work; it is made without ramps", Handbook},
		},
		{
			ID: "chainring.place", Severity: Mating, At: []Place{"crank.outer-ring", "crank.middle-ring", "crank.inner-ring"},
			Says:   "a ring of a double or triple is made for its place: outer, middle or inner",
			Test:   Is{Mine: "position", Placed: true, Silent: true, Why: "it is another ring of the set"},
			Source: Source{"offset, counterbores, ramps and pins are made for one place", Practice},
		},
		{
			ID: "chainring.position", Severity: Function, At: []Place{"crank.ring"},
			Says:   "a single ring is made to hold the chain without a guide",
			Test:   Is{Mine: "position", Placed: true, Silent: true, Why: "the chain may drop without a guide"},
			Source: Source{"a tool maker's page on single rings: teeth narrow and wide in turn hold the chain, and no other ring can stand beside such a one", Handbook},
		},
		{
			ID: "chainring.roller", Severity: Mating, At: everyRing,
			Says:   "the ring is cut for the chain's rollers",
			Test:   Match{Mine: "roller", Theirs: []Ref{theirs("chain", "roller")}, Usual: "standard", Free: "both"},
			Source: byRollers,
		},
		{
			ID: "chainring.offset", Severity: Function, At: everyRing,
			Says:   "the teeth stand where the old ones did, and the chain stays in line",
			Test:   Same{Mine: []string{"offset_mm"}},
			Source: byArithmetic,
		},
		widthRule("chainring", []Ref{mine("chain_width"), mine("speeds"), mine("position")}, everyRing...),
		{
			ID: "chainring.chain-speeds", Severity: Function, At: everyRing,
			Says:   "the ring is made for the chain's number of speeds; for a neighbouring one it works, and may shift less well",
			Test:   Share{Mine: "speeds", Theirs: []Ref{theirs("chain", "speeds")}, Serves: sameChain, Optional: true, Differs: "it works, and may shift less well"},
			Source: byChainPages,
		},
		{
			ID: "chainring.pair", Severity: Function, At: []Place{"crank.outer-ring"},
			Says:   "the outer ring's ramps are cut for the inner ring's teeth",
			Test:   Custom{Of: []Ref{mine("pairs_with"), theirs("crank.inner-ring", "teeth"), theirs("crank.middle-ring", "teeth")}, Judge: pairs("crank.middle-ring", "crank.inner-ring"), Geometry: true},
			Source: byBoltPatterns,
		},
		{
			ID: "chainring.pair-outer", Severity: Function, At: []Place{"crank.inner-ring", "crank.middle-ring"},
			Says:   "the inner ring is made for the outer ring's teeth",
			Test:   Custom{Of: []Ref{mine("pairs_with"), theirs("crank.outer-ring", "teeth")}, Judge: pairs("crank.outer-ring"), Geometry: true},
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

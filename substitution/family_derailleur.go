package substitution

var _ = families(&rearDerailleur, &frontDerailleur)

var pullFamily = word("pull_family", "cable pull family", "the maker's table of shifters and derailleurs; cable pulled per click with a rule")

var rearDerailleur = Table{
	Family: "rear-derailleur", Plural: "rear derailleurs",
	Sites: []Site{
		{Place: "rear.derailleur", Words: "rear derailleur"},
	},
	Readings: []Reading{shifting, damaged},
	Work: []Work{
		{Replace, "fit rear derailleur and set gears", 40},
		{Adjust, "set rear gears", 20},
		{Clean, "clean and oil rear derailleur", 20},
	},
	Dimensions: []Dimension{
		speeds,
		teethMax,
		teethMin,
		count("capacity", "total capacity", 1, 80, "the maker's specification"),
		pullFamily,
		word("cage", "cage length", "look: centre to centre of the jockey wheels", "short", "medium", "long"),
		word("mount", "mount", "look at the hanger"),
	},
	Ordered: [][2]string{{"teeth_min", "teeth_max"}},
	Rules: []Rule{
		{
			ID: "rear-derailleur.capacity", Severity: Mating, Presumed: true, Unless: []Place{"rear.sprocket"},
			Says: "the cage takes up the chain of the rings' difference plus the sprockets' difference",
			When: []When{gears},
			Test: Limit{
				Sum:    []Term{plus(largeRing()...), minus(smallRing()...), plus(sprockets("teeth_max")...), minus(sprockets("teeth_min")...)},
				AtMost: []Ref{theirs("rear.derailleur", "capacity")}, Rare: true,
			},
			Source: byCapacity,
		},
		{
			ID: "rear-derailleur.sprocket-range", Severity: Mating, When: []When{given("capacity")},
			Says: "the cage takes up the chain of the sprockets' difference alone, whatever the rings",
			Test: Limit{
				Sum:    []Term{plus(sprockets("teeth_max")...), minus(sprockets("teeth_min")...)},
				AtMost: []Ref{theirs("rear.derailleur", "capacity")}, Optional: true, Rare: true,
			},
			Source: byCapacity,
		},
		{
			ID: "rear-derailleur.largest-sprocket", Severity: Mating, Presumed: true, Unless: []Place{"rear.sprocket"},
			Says:   "the largest sprocket is no larger than the derailleur's",
			When:   []When{gears},
			Test:   Limit{Sum: []Term{plus(sprockets("teeth_max")...)}, AtMost: []Ref{theirs("rear.derailleur", "teeth_max")}, Rare: true},
			Source: Source{"largest sprocket is a limit of its own beside the capacity (tkacz.pro, defietssite.nl)", Handbook},
		},
		{
			ID: "rear-derailleur.smallest-sprocket", Severity: Function,
			Says:   "the smallest sprocket is no smaller than the derailleur's",
			When:   []When{given("teeth_min")},
			Test:   Limit{Sum: []Term{plus(sprockets("teeth_min")...)}, AtLeast: []Ref{mine("teeth_min")}, Optional: true},
			Source: Source{"smallest sprocket is a limit of its own beside the capacity (tkacz.pro, defietssite.nl)", Handbook},
		},
		{
			ID: "rear-derailleur.mount", Severity: Mating,
			Says: "it hangs on the frame as the old one did; a direct-mount one goes on a standard hanger with its link only",
			Test: Lookup{
				Of:   []Ref{mine("mount"), old("mount")},
				Rows: []Row{{Keys: []string{"direct", "hanger"}, Answer: CantTell, Words: "with the link that it is sold with"}, {Keys: []string{"hanger", "claw"}, Answer: CantTell, Words: "look whether the dropout has a hanger"}},
				Same: true, Otherwise: Breaks, Why: "there is nothing to bolt it to", Optional: true, Rare: true,
			},
			Source: byHangerPages,
		},
		{
			ID: "rear-derailleur.hanger", Severity: Mating,
			Says: "it hangs on the frame's hanger: a standard one takes the usual bolt, a direct-mount one a direct-mount derailleur without its link",
			Test: Lookup{
				Of: []Ref{mine("mount"), theirs("frame", "hanger")},
				Rows: []Row{
					{Keys: []string{"hanger", "hanger"}, Answer: Holds}, {Keys: []string{"direct", "direct"}, Answer: Holds}, {Keys: []string{"axle", "axle"}, Answer: Holds},
					{Keys: []string{"claw", "none"}, Answer: Holds},
					{Keys: []string{"direct", "hanger"}, Answer: CantTell, Words: "with the link that it is sold with"},
					{Keys: []string{"claw", "*"}, Answer: CantTell, Words: "a claw is for a dropout without a hanger"},
				},
				Otherwise: Breaks, Why: "there is nothing to bolt it to", Optional: true, Rare: true, Usual: "hanger",
			},
			Source: Source{"a hanger seller's page on direct-mount and standard hangers; a wheel maker's article on the open universal hanger", TradePage},
		},
		{
			ID: "rear-derailleur.speeds", Severity: Function,
			Says:   "the derailleur is made for the number of sprockets",
			Test:   Share{Mine: "speeds", Theirs: sprockets("speeds"), Optional: true, Differs: "it is made for another number of sprockets; cage and jockey wheels are as wide as their chain"},
			Source: Source{"within one cable pull family speeds mix; cage and jockey wheels are made for their chain", Practice},
		},
		chainThrough("rear-derailleur.chain", "rear.derailleur"),
		{
			ID: "rear-derailleur.cage", Severity: Function,
			Says:   "the cage is as long as it was",
			Test:   Same{Mine: []string{"cage"}},
			Source: Source{"a longer cage takes up more chain and hangs lower", Practice},
		},
		finishRule("rear-derailleur"),
	},
}

// gears is when a rear derailleur is presumed: not on a bike with a single sprocket.
var gears = When{Of: sprockets("speeds"), Not: []string{"1"}}

var frontDerailleur = Table{
	Family: "front-derailleur", Plural: "front derailleurs",
	Sites: []Site{
		{Place: "front.derailleur", Words: "front derailleur"},
	},
	Readings: []Reading{shifting, damaged},
	Work: []Work{
		{Replace, "fit front derailleur and set it", 30},
		{Adjust, "set front derailleur", 15},
		{Clean, "clean and oil front derailleur", 15},
	},
	Dimensions: []Dimension{
		speeds,
		millimetres("clamp_mm", "clamp diameter", 20, 60, "caliper on the seat tube"),
		word("mount", "mount", "look: clamp, brazed-on tab or direct mount"),
		count("capacity", "capacity", 1, 40, "the maker's specification"),
		count("teeth_outer", "outer ring it is curved for", 10, 80, "the maker's specification"),
		word("swing", "swing", "look: is the clamp above or below the cage", "top", "bottom", "side"),
		word("cable_pull", "cable pull", "look: where the cable comes from", "top", "bottom", "dual", "side"),
		pullFamily,
		{Name: "angle_min_deg", Form: Number, Low: 50, High: 80, Means: "least stay angle", Measure: "the maker's specification"},
		{Name: "angle_max_deg", Form: Number, Low: 50, High: 80, Means: "most stay angle", Measure: "the maker's specification"},
	},
	Ordered: [][2]string{{"angle_min_deg", "angle_max_deg"}},
	Rules: []Rule{
		{
			ID: "front-derailleur.capacity", Severity: Mating, Presumed: true, Unless: []Place{"crank.ring"},
			Says: "the cage reaches over the difference of largest and smallest ring",
			Test: Limit{
				Sum:    []Term{plus(theirs("crank.outer-ring", "teeth")), minus(theirs("crank.inner-ring", "teeth"))},
				AtMost: []Ref{theirs("front.derailleur", "capacity")}, Rare: true,
			},
			Source: Source{"published front capacity examples (gowanusballroom, defietssite.nl): 53/39 wants 14", Handbook},
		},
		{
			ID: "front-derailleur.outer-ring", Severity: Function,
			Says:   "the outer ring is no larger than the cage is curved for",
			When:   []When{given("teeth_outer")},
			Test:   Limit{Sum: []Term{plus(theirs("crank.outer-ring", "teeth"))}, AtMost: []Ref{mine("teeth_outer")}, Optional: true},
			Source: Source{"a cage suits a stated outer ring, give or take a few teeth (bikegremlin.com)", Handbook},
		},
		{
			ID: "front-derailleur.clamp", Severity: Mating,
			Says: "the clamp goes round the seat tube, with a shim where it is larger",
			When: []When{being("mount", "clamp")},
			Test: Match{Mine: "clamp_mm", Theirs: []Ref{theirs("frame", "seat_tube_mm")}, Within: 0.2, Fill: &Fill{
				Wider: true, Least: 0.2, Most: 10, Brings: small("clamp-shim", "shim for the front derailleur's clamp", 1),
			}, Why: "the clamp does not go round the tube"},
			Source: Source{"jitetan.com, front derailleur clamps: 28.6, 31.8 and 34.9 mm; a larger one is shimmed", Handbook},
		},
		{
			ID: "front-derailleur.mount", Severity: Mating,
			Says: "it is held on the frame as the old one was; one for a tab goes on a clamp that has one",
			Test: Lookup{
				Of: []Ref{mine("mount"), old("mount")},
				Rows: []Row{
					{Keys: []string{"braze-on", "clamp"}, Answer: Holds, Words: "with a clamp that has a tab", Brings: []Bring{tabClamp}},
					{Keys: []string{"clamp", "braze-on"}, Answer: CantTell, Words: "measure the seat tube, and see whether the tab is in the way"},
				},
				Same: true, Otherwise: Breaks, Why: "the frame has nothing to hold it by", Optional: true, Rare: true,
			},
			Source: byFrontMounts,
		},
		{
			ID: "front-derailleur.tab", Severity: Mating, When: []When{{Of: []Ref{mine("mount")}, Is: []string{"braze-on"}, Known: true}},
			Says: "a derailleur for a tab wants one on the frame, or a clamp that has one",
			Test: Lookup{Of: []Ref{mine("mount"), theirs("frame", "front_tab")}, Rows: []Row{
				{Keys: []string{"braze-on", "yes"}, Answer: Holds}, {Keys: []string{"braze-on", "no"}, Answer: Holds, Words: "with a clamp that has a tab", Brings: []Bring{tabClamp}},
			}, Otherwise: CantTell, Optional: true},
			Source: Source{"bikegremlin.com: a braze-on derailleur goes on a tab, or on a clamp adapter of the tube's size", Handbook},
		},
		{
			ID: "front-derailleur.cable-pull", Severity: Mating,
			Says: "the cable comes from where it came, or the derailleur takes it from both sides",
			Test: Lookup{Of: []Ref{mine("cable_pull"), old("cable_pull")}, Rows: append([]Row{{Keys: []string{"dual", "*"}, Answer: Holds, Words: "it takes the cable from above or below"}},
				append(alike("top", "bottom", "side"), Row{Keys: []string{"*", "dual"}, Answer: CantTell, Words: "look where the cable comes from"})...),
				Otherwise: Breaks, Why: "the cable comes from the other side", Rare: true, Optional: true},
			Source: byFrontMounts,
		},
		{
			ID: "front-derailleur.pull", Severity: Mating,
			Says:   "shifter and front derailleur are of one cable pull family; a friction shifter goes with any",
			Test:   Match{Mine: "pull_family", Theirs: []Ref{theirs("shifter.left", "pull_family")}, Free: "friction", Rare: true},
			Source: byShiftNumbers,
		},
		{
			ID: "front-derailleur.angle-least", Severity: Function, When: []When{given("angle_min_deg")},
			Says:   "the cage is made for the angle between seat tube and chainstay",
			Test:   Limit{Sum: []Term{plus(mine("angle_min_deg"))}, AtMost: []Ref{theirs("frame", "stay_angle_deg")}, Optional: true},
			Source: Source{"jitetan.com: road 61 to 66 degrees, mountain 63 to 66 and 66 to 69", Handbook},
		},
		{
			ID: "front-derailleur.angle-most", Severity: Function, When: []When{given("angle_max_deg")},
			Says:   "the cage is made for the angle between seat tube and chainstay",
			Test:   Limit{Sum: []Term{plus(mine("angle_max_deg"))}, AtLeast: []Ref{theirs("frame", "stay_angle_deg")}, Optional: true},
			Source: Source{"jitetan.com: road 61 to 66 degrees, mountain 63 to 66 and 66 to 69", Handbook},
		},
		{
			ID: "front-derailleur.swing", Severity: Mating,
			Says:   "the cage swings as the old one's did: the clamp sits where frame and bottle leave room",
			Test:   Match{Mine: "swing", Rare: true},
			Source: byFrontMounts,
		},
		{
			ID: "front-derailleur.speeds", Severity: Function,
			Says:   "the cage is made for the chain's number of speeds",
			Test:   Share{Mine: "speeds", Theirs: []Ref{theirs("chain", "speeds")}, Serves: sameChain, Optional: true, Differs: "the cage is as wide as its own chain wants"},
			Source: Source{"the cage is as wide as its chain wants (bikegremlin.com)", Handbook},
		},
		finishRule("front-derailleur"),
	},
}

var tabClamp = small("tab-clamp", "clamp with a tab for the front derailleur", 1)

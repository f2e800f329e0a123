package substitution

import (
	"fmt"

	"stead/substitution/standard"
)

var _ = families(&crankset)

var spindleInterface = word("spindle_interface", "crank to spindle fit", "look at the crank's hole: square, splined or round; a square one is jis-taper or iso-taper by the maker's word only",
	"jis-taper", "iso-taper", "24mm", "30mm", "22-24mm", "25mm-splined", "19mm", "22mm", "dub", "octalink", "isis", "one-piece", "cottered")

var crankset = Table{
	Family: "crankset", Plural: "cranksets",
	Sites: []Site{
		{Place: "crank", Words: "crankset", Safety: true},
	},
	Readings: []Reading{damaged},
	Work: []Work{
		{Replace, "fit crankset", 30},
		{Adjust, "tighten cranks", 10},
		{Clean, "clean crankset", 15},
	},
	Dimensions: []Dimension{
		count("teeth_outer", "outer ring", 10, 80, "count the teeth"),
		count("teeth_middle", "middle ring", 10, 80, "count the teeth"),
		count("teeth_inner", "inner ring", 10, 80, "count the teeth"),
		bcd,
		millimetres("bcd_inner_mm", "inner bolt circle", 40, 170, "distance of neighbouring bolt holes of the inner ring, caliper"),
		bolts,
		boltPattern,
		directMount,
		millimetres("arm_mm", "crank length", 90, 200, "read the back of the arm; bottom bracket centre to pedal centre"),
		spindleInterface,
		speeds,
		pedalThreadOf,
		millimetres("axle_mm", "axle length", 80, 200, "caliper along the axle that is fixed to the arm"),
		millimetres("shell_min_mm", "narrowest shell", 50, 140, "the crank maker's chart of shells and spacers"),
		millimetres("shell_max_mm", "widest shell", 50, 140, "the crank maker's chart of shells and spacers"),
		millimetres("chainline_mm", "chainline", 35, 65, "middle of the seat tube to the middle of the rings, with a rule"),
		toothRoller,
	},
	Agrees:  []Agreement{ringsOnCircle},
	Ordered: [][2]string{{"shell_min_mm", "shell_max_mm"}, {"teeth_inner", "teeth_outer"}, {"teeth_middle", "teeth_outer"}, {"teeth_inner", "teeth_middle"}},
	Rules: []Rule{
		{
			ID: "crankset.bcd", Severity: Mating, When: []When{notGiven("teeth_outer")}, Unless: everyRing,
			Says:   "arms that come without rings take the rings that were there: their bolt circle is the old one",
			Test:   Match{Mine: "bcd_mm", Within: circleWithin, Rare: true},
			Source: Source{"Sheldon Brown, bolt-circle crib sheet", Handbook},
		},
		{
			ID: "crankset.bolts", Severity: Mating, When: []When{notGiven("teeth_outer")}, Unless: everyRing,
			Says:   "arms that come without rings have as many bolts as the old ones",
			Test:   Match{Mine: "bolts", Rare: true},
			Source: byBoltPatterns,
		},
		{
			ID: "crankset.bolt-pattern", Severity: Mating, When: []When{notGiven("teeth_outer")}, Unless: everyRing,
			Says:   "arms that come without rings have their bolts at the old angles",
			Test:   Match{Mine: "bolt_pattern", Rare: true},
			Source: byBoltPatterns,
		},
		{
			ID: "crankset.axle", Severity: Mating, Against: []Place{"frame"}, When: []When{hollowAxle, notGiven("shell_min_mm")},
			Says:   "a crank with its own axle has the old one's length: the diameter alone never decides",
			Test:   Match{Mine: "axle_mm", Within: 0.6},
			Source: byCrankChart,
		},
		{
			ID: "crankset.one-piece", Severity: Mating, When: []When{{Of: []Ref{mine("spindle_interface")}, Is: []string{"one-piece"}, Known: true}},
			Says:   "a crank of one piece is threaded through a shell of 51.3 mm: it passes through no other",
			Test:   Lookup{Of: []Ref{theirs("frame", "shell")}, Rows: []Row{{Keys: []string{"one-piece"}, Answer: Holds}}, Otherwise: Breaks, Why: "the bends do not pass through it", Optional: true},
			Source: byOnePiece,
		},
		{
			ID: "crankset.shell-narrow", Severity: Mating, When: []When{given("shell_min_mm")},
			Says:   "the shell is no narrower than the crank's maker lists",
			Test:   Limit{Sum: []Term{plus(mine("shell_min_mm"))}, AtMost: shellWidths, Plus: 0.5, Optional: true},
			Source: byCrankChart,
		},
		{
			ID: "crankset.shell-wide", Severity: Mating, When: []When{given("shell_max_mm")},
			Says:   "the shell is no wider than the crank's maker lists",
			Test:   Limit{Sum: []Term{plus(mine("shell_max_mm"))}, AtLeast: shellWidths, Plus: 0.5, Optional: true},
			Source: byCrankChart,
		},
		{
			ID: "crankset.shells-kept", Severity: Mating, Unless: []Place{"frame", "bottom-bracket"},
			Says:   "the crank's maker lists the shell that the old crank was in",
			Test:   Limit{Sum: []Term{plus(mine("shell_max_mm"))}, AtLeast: []Ref{old("shell_min_mm")}, Optional: true},
			Source: byCrankChart,
		},
		{
			ID: "crankset.shells-narrow-kept", Severity: Mating, Unless: []Place{"frame", "bottom-bracket"},
			Says:   "the crank's maker lists the shell that the old crank was in",
			Test:   Limit{Sum: []Term{plus(mine("shell_min_mm"))}, AtMost: []Ref{old("shell_max_mm")}, Optional: true},
			Source: byCrankChart,
		},
		{
			ID: "crankset.pedals", Severity: Safety, Unless: []Place{"pedals"},
			Says:   "the pedals that were there go into the new arms",
			Test:   Match{Mine: "pedal_thread", Rare: true},
			Source: byPedalThreads,
		},
		{
			ID: "crankset.chainline", Severity: Function,
			Says:   "the rings stand where the old ones did",
			Test:   Same{Mine: []string{"chainline_mm"}},
			Source: byArithmetic,
		},
		{
			ID: "crankset.arm", Severity: Function,
			Says: "the cranks are as long as they were",
			Test: Same{Mine: []string{"arm_mm"}, Feel: func(s Scene, at Place) string {
				was, _ := s.Was[at].Get("arm_mm")
				now, _ := s.Now[at].Get("arm_mm")
				return fmt.Sprintf("cranks of %s mm in place of %s mm: the foot's circle is %s mm %s across, and the saddle wants %s mm %s",
					now, was, figure(2*abs(now.number-was.number)), larger(now.number > was.number), figure(abs(now.number-was.number)),
					map[bool]string{true: "lowering", false: "raising"}[now.number > was.number])
			}},
			Source: byArithmetic,
		},
		{
			ID: "crankset.chain-speeds", Severity: Function,
			Says:   "the crankset is made for the chain's number of speeds; for a neighbouring one it works, and may shift less well",
			Test:   Share{Mine: "speeds", Theirs: []Ref{theirs("chain", "speeds")}, Serves: sameChain, Optional: true, Differs: "it works, and may shift less well"},
			Source: byChainPages,
		},
		finishRule("crankset"),
	},
}

// hollowAxle: cranks whose axle is part of them.
var hollowAxle = When{Of: []Ref{mine("spindle_interface")}, Is: []string{"24mm", "30mm", "22-24mm", "25mm-splined", "19mm", "dub"}, Known: true}

var (
	shellWidths  = []Ref{theirs("frame", "shell_mm"), theirs("bottom-bracket", "shell_mm")}
	byOnePiece   = Source{"pardo.net and wikipedalia.de on shells: one-piece cranks in a bore of 51.3 mm", Handbook}
	byCrankChart = Source{"a crank maker's spacer charts: the axle fits the shells it lists, with spacers a side, and others not at all", Catalogue}
)

// ringsOnCircle: no ring is smaller than its bolt circle allows.
func ringsOnCircle(p *Part) []Follows {
	for _, ring := range []struct{ teeth, circle string }{{"teeth_outer", "bcd_mm"}, {"teeth_middle", "bcd_mm"}, {"teeth_inner", "bcd_inner_mm"}} {
		teeth, known := p.Get(ring.teeth)
		circle, told := p.Get(ring.circle)
		if known && told && !standard.RingClearsBolts(int(teeth.number), circle.number) {
			return []Follows{{Wrong: fmt.Sprintf("%s %s leaves no room for the bolts of %s %s", ring.teeth, teeth, ring.circle, circle)}}
		}
	}
	return nil
}

func abs(x float64) float64 { return max(x, -x) }

func larger(yes bool) string {
	if yes {
		return "larger"
	}
	return "smaller"
}

package substitution

import "fmt"

var _ = families(&crankset)

var spindleInterface = word("spindle_interface", "crank to spindle fit", "look at the crank's hole: square, splined or round; a square one is jis-taper or iso-taper by the maker's word only",
	"jis-taper", "iso-taper", "24mm", "30mm", "22-24mm", "25mm-splined", "19mm", "dub", "octalink", "isis", "one-piece", "cottered")

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
	},
	Ordered: [][2]string{{"teeth_inner", "teeth_outer"}, {"teeth_middle", "teeth_outer"}, {"teeth_inner", "teeth_middle"}},
	Rules: []Rule{
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
			Test:   Share{Mine: "speeds", Theirs: []Ref{theirs("chain", "speeds")}, Optional: true},
			Source: byChainPages,
		},
		finishRule("crankset"),
	},
}

func abs(x float64) float64 { return max(x, -x) }

func larger(yes bool) string {
	if yes {
		return "larger"
	}
	return "smaller"
}

package substitution

var spindleInterface = word("spindle_interface", "crank to spindle fit", "look at the crank's hole: square, splined or round; a square one is jis-taper or iso-taper by the maker's word only",
	"jis-taper", "iso-taper", "24mm", "30mm", "22-24mm", "25mm-splined", "19mm", "dub", "octalink", "isis", "one-piece", "cottered")

var crankset = Table{
	Family: "crankset", Plural: "cranksets",
	Dimensions: []Dimension{
		count("teeth_outer", "outer ring", 10, 80, "count the teeth"),
		count("teeth_middle", "middle ring", 10, 80, "count the teeth"),
		count("teeth_inner", "inner ring", 10, 80, "count the teeth"),
		bcd,
		millimetres("bcd_inner_mm", "inner bolt circle", 40, 170, "distance of neighbouring bolt holes of the inner ring, caliper"),
		bolts,
		millimetres("arm_mm", "crank length", 90, 200, "read the back of the arm; bottom bracket centre to pedal centre"),
		spindleInterface,
		speeds,
	},
	Ordered: [][2]string{{"teeth_inner", "teeth_outer"}, {"teeth_middle", "teeth_outer"}, {"teeth_inner", "teeth_middle"}},
}

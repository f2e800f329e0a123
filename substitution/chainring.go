package substitution

var (
	bcd   = millimetres("bcd_mm", "bolt circle", 40, 170, "distance of neighbouring bolt holes, caliper; `stead measure chainring` gives the circle")
	bolts = count("bolts", "bolts", 1, 10, "count the bolts")
)

var chainring = Table{
	Family: "chainring", Plural: "chainrings",
	Dimensions: []Dimension{
		count("teeth", "teeth", 10, 80, "count the teeth"),
		bcd,
		bolts,
		word("bolt_pattern", "bolt pattern", "compare the distances of neighbouring holes: all the same is even", "even", "asymmetric"),
		speeds,
		chainWidth,
		word("position", "position", "look: which ring of the crankset it is", "outer", "middle", "inner", "single"),
		count("pairs_with", "teeth of the ring it is cut to shift with", 10, 80, "read the ring's stamp"),
		word("direct_mount", "direct mount", "the maker's name of the interface"),
	},
	Rules: []Rule{
		{
			ID: "chainring.bcd", Severity: Mating,
			Says:   "the ring's bolt circle is the crankset's",
			At:     []Place{"crank.outer-ring", "crank.middle-ring", "crank.ring"},
			Test:   Match{Mine: "bcd_mm", Theirs: []Ref{theirs("crank", "bcd_mm")}, Within: 0.3},
			Source: Source{"published bolt-circle tables; they differ by up to 0.2 mm for one circle", Handbook},
		},
		{
			ID: "chainring.teeth", Severity: Function,
			Says:   "the ring has the teeth that were there",
			Test:   Same{Mine: []string{"teeth"}},
			Source: Source{"gear ratio is ring teeth by sprocket teeth", Arithmetic},
		},
	},
}

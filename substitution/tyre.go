package substitution

var bead = count("bead_mm", "bead seat diameter", 100, 720, "read the tyre: the second figure of 28-622 (ISO 5775)")

var tyre = Table{
	Family: "tyre", Plural: "tyres",
	Dimensions: []Dimension{
		bead,
		count("width_mm", "width", 15, 130, "read the tyre: the first figure of 28-622 (ISO 5775)"),
		Dimension{Name: "tubeless", Form: Flag, Means: "tubeless", Measure: "read the tyre"},
	},
}

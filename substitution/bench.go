package substitution

var grease = Table{
	Family: "grease", Plural: "greases",
	Dimensions: []Dimension{
		word("purpose", "purpose", "read the label"),
		Dimension{Name: "volume_ml", Form: Number, Low: 1, High: 100000, Means: "volume", Measure: "read the label"},
		Dimension{Name: "mass_g", Form: Number, Low: 1, High: 100000, Means: "mass", Measure: "read the label"},
		word("nlgi", "NLGI grade", "read the label"),
		word("thickener", "thickener", "read the label or the data sheet"),
	},
}

// consumable is whatever else a bench uses; nothing decides its fit.
var consumable = Table{Family: "consumable", Plural: "consumables"}

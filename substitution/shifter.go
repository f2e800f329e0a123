package substitution

var shifter = Table{
	Family: "shifter", Plural: "shifters",
	Dimensions: []Dimension{
		speeds,
		pullFamily,
		word("side", "side", "look", "left", "right", "pair"),
	},
}

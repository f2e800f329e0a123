package substitution

var chainWidth = word("chain_width", "chain width", "inner width with a caliper: 3.2 mm is 1/8, 2.4 mm is 3/32, 2.2 mm is 11/128", "1/8", "3/32", "11/128")

var chain = Table{
	Family: "chain", Plural: "chains",
	Dimensions: []Dimension{
		speeds,
		chainWidth,
		count("links", "length in links", 20, 400, "count the pitches, 12.7 mm each"),
	},
}

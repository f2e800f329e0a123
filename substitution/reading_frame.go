package substitution

// cracked is the fault of what is never sold here. Nothing is proposed: the maker or a frame builder decides, and nobody
// rides until then.
func cracked(what string) Reading {
	return Reading{
		Dimension: Dimension{Name: "cracked", Form: Flag, Means: "cracked or bent", Measure: "clean it and look under a lamp at welds, lugs, crown, steerer and ends; run a finger along; carbon is tapped"},
		Says: map[string]Advice{
			"yes": {Words: "stop: the " + what + " is cracked or bent, and the bike is not ridden", Source: byPractice, Asks: "ask the " + what + "'s maker or a frame builder, and tell the customer in writing"},
			"no":  says(Keep, "no crack seen"),
		},
	}
}

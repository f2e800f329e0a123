package substitution

var pullFamily = word("pull_family", "cable pull family", "the maker's table of shifters and derailleurs; cable pulled per click with a rule")

var rearDerailleur = Table{
	Family: "rear-derailleur", Plural: "rear derailleurs",
	Dimensions: []Dimension{
		speeds,
		teethMax,
		count("capacity", "total capacity", 1, 80, "the maker's specification"),
		pullFamily,
		word("cage", "cage length", "look: centre to centre of the jockey wheels", "short", "medium", "long"),
		word("mount", "mount", "look at the hanger"),
	},
}

var frontDerailleur = Table{
	Family: "front-derailleur", Plural: "front derailleurs",
	Dimensions: []Dimension{
		speeds,
		millimetres("clamp_mm", "clamp diameter", 20, 60, "caliper on the seat tube"),
		word("mount", "mount", "look: clamp, brazed-on tab or direct mount"),
		count("capacity", "capacity", 1, 40, "the maker's specification"),
		count("teeth_outer", "outer ring it is curved for", 10, 80, "the maker's specification"),
		word("swing", "swing", "look: is the clamp above or below the cage", "top", "bottom", "side"),
		word("cable_pull", "cable pull", "look: where the cable comes from", "top", "bottom", "dual", "side"),
	},
}

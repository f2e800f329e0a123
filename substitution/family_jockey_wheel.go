package substitution

var _ = families(&jockeyWheel)

var jockeyWheel = Table{
	Family: "jockey-wheel", Plural: "jockey wheels",
	Sites: []Site{
		{Place: "rear.derailleur.upper-jockey", Words: "upper jockey wheel"},
		{Place: "rear.derailleur.lower-jockey", Words: "lower jockey wheel"},
	},
	Readings: []Reading{jockeyTeeth, jockeyFeel, wanted("one a place; say otherwise")},
	Work: []Work{
		{Replace, "fit jockey wheel", 10},
		{Clean, "clean and oil jockey wheel", 10},
	},
	Dimensions: []Dimension{
		count("teeth", "teeth", 8, 20, "count the teeth"), bore, width, speeds,
		word("fixing", "fixing", "look: one hole in the middle, or two beside it", "centre", "two-hole"),
	},
	Rules: []Rule{
		{
			ID: "jockey-wheel.teeth", Severity: Mating,
			Says:   "it has the teeth that the cage was made for",
			Test:   Match{Mine: "teeth"},
			Source: byOldPart,
		},
		{
			ID: "jockey-wheel.fixing", Severity: Mating,
			Says:   "it is held as the old one was: some upper wheels hang on two bolts beside the middle",
			Test:   Match{Mine: "fixing", Rare: true},
			Source: Source{"two riders' accounts of one derailleur (cycleblaze.com, muddygoose.wordpress.com): a wheel with one hole does not go where two held it", Handbook},
		},
		{
			ID: "jockey-wheel.bore", Severity: Mating, Against: []Place{within},
			Says:   "its bolt goes through: the bore is the old one's",
			Test:   Match{Mine: "bore_mm", Within: 0.1},
			Source: byOldPart,
		},
		{
			ID: "jockey-wheel.width", Severity: Mating, Against: []Place{within},
			Says:   "it is as wide between the cage plates as the old one",
			Test:   Match{Mine: "width_mm", Within: 0.2},
			Source: byOldPart,
		},
		{
			ID: "jockey-wheel.speeds", Severity: Function,
			Says:   "its teeth are as wide as the chain wants",
			Test:   Share{Mine: "speeds", Theirs: sprockets("speeds"), Serves: sameChain, Optional: true, AsOld: true, Differs: "its teeth are as wide as another chain wants"},
			Source: Source{"portsmouthctc.org.uk on jockey wheels: match the number of sprockets", Handbook},
		},
		chainThrough("jockey-wheel.chain", "rear.derailleur.upper-jockey"),
		finishRule("jockey-wheel"),
	},
}

// chainThrough asks cage and jockey wheels of the chain where no sprockets are known.
func chainThrough(id string, at Place) Rule {
	return Rule{
		ID: id, Severity: Function, Aside: true, At: []Place{at},
		Says:   "cage and jockey wheels are as wide as their chain",
		Test:   Share{Mine: "speeds", Theirs: []Ref{theirs("chain", "speeds")}, Serves: sameChain, Differs: "it runs, and noise, wear and shifting may differ"},
		Source: Source{"portsmouthctc.org.uk on jockey wheels: match the number of sprockets", Handbook},
	}
}

package substitution

// byPractice is the source of what workshops do and no published text says.
var byPractice = Source{Confidence: Practice}

// says is an advice by common practice.
func says(act Action, words string, lookAt ...Place) Advice {
	return Advice{Action: act, Words: words, Source: byPractice, LookAt: lookAt}
}

// fault is a reading of yes or no of which yes is a fault. No says only that this fault was not seen.
func fault(name, means, measure, unseen string, seen Advice) Reading {
	return Reading{
		Dimension: Dimension{Name: name, Form: Flag, Means: means, Measure: measure},
		Says:      map[string]Advice{"yes": seen, "no": says(Keep, unseen)},
	}
}

// The faults that parts of several families share.
var (
	skipsUnderLoad = fault("skips_under_load", "skips under load", "ride or load the cranks in the worn gear",
		"does not skip under load", says(Replace, "skips under load: where the chain is not worn, the teeth under it are", "chain"))
	hookedTeeth = fault("hooked_teeth", "hooked teeth", "look at the teeth from the side, against a new part",
		"teeth not hooked", says(Replace, "hooked teeth hold the chain and wear the next one", "chain"))
	hookedRing = fault("hooked_teeth", "hooked teeth", "look at the teeth from the side, against a new part",
		"teeth not hooked", says(Replace, "hooked teeth hold the chain and wear the next one: measure the chain, and look at the sprockets that it ran on",
			"chain", "rear.cassette", "rear.freewheel", "rear.sprocket"))
	damaged = fault("damaged", "damaged", "look for cuts, cracks, bulges or fabric showing",
		"no damage seen", says(Replace, "damaged"))
	wornToMark = fault("worn_to_mark", "worn to its mark", "look at the wear mark or groove",
		"not worn to its mark", Advice{Action: Replace, Words: "worn to its mark", Source: Source{"the maker's wear mark", Catalogue}})
	pitted = fault("pitted", "pitted", "look at balls, cups and cones under a lamp", "no pits seen",
		Advice{Action: Replace, Words: "pitted: all balls of the race are changed together", Source: Source{"Sheldon Brown: mixed balls do not share the load", Handbook}})
	conePitted = fault("pitted", "pitted", "look at balls, cups and cones under a lamp", "no pits seen",
		says(Replace, "pitted: a pitted cone wears the new balls"))
	frayed = fault("frayed", "frayed", "look at both ends, where the strands show",
		"not frayed", says(Replace, "frayed: it breaks where it frays"))
	stiffCable = fault("stiff", "runs stiffly", "pull it by hand with the brake or gear let loose",
		"runs freely", says(Clean, "runs stiffly: draw it, clean and grease it, and try again"))
	stiffChain = fault("stiff", "stiff links", "turn the cranks backwards and watch the chain at the jockey wheels",
		"no stiff links", says(Clean, "stiff links: clean and oil the chain, and try again"))
)

const shiftFirst = ": shifting is set by cable and stops first; look at hanger, cable and housing before any part"

var shifting = Reading{
	Dimension: word("shifting", "shifting", "run through the gears on the stand", "good", "slow", "misses"),
	Says: map[string]Advice{
		"good": says(Keep, "shifts well"), "slow": says(Adjust, "shifts slowly"+shiftFirst), "misses": says(Adjust, "misses shifts"+shiftFirst),
	},
}

// ballsFound says how many balls a race holds; it decides nothing by itself.
var ballsFound = Reading{Dimension: count("balls", "balls found", 1, 60, "count the balls that come out"), Counts: true}

// wanted says how many of a part are wanted where the place alone does not tell.
func wanted(measure string) Reading {
	return Reading{Dimension: count("wanted", "how many are wanted", 1, 144, measure), Counts: true,
		Judge: func(l Look) Advice { return says(Replace, l.Read["wanted"].String()+" wanted") }}
}

package substitution

// A new hydraulic caliper means that its hose is opened: the joint is sealed anew, and the fluid stays of one kind.

var (
	hoseEnd = word("hose", "hose end", "look where the hose enters the caliper: an eye under a hollow bolt, or a nut over an olive", "banjo", "olive")
	fluid   = word("fluid", "brake fluid", "read the lever's reservoir cap", "dot", "mineral-oil")
)

var caliperFluid = Rule{
	ID: "brake-caliper.fluid", Severity: Safety,
	Says:   "the caliper takes the fluid that its lever holds: DOT fluid and mineral oil never mix, each ruins the other's seals",
	Test:   Custom{Of: []Ref{mine("fluid"), mine("actuation")}, Judge: fluidOfCaliper},
	Source: Source{"49 CFR 571.116: DOT fluid is amber and mineral oil green, so that fluids that do not go together are not mixed (a letter of the agency, 1980); bike-advisor.com: reversed, they ruin seals and hoses", Handbook},
}

// fluidOfCaliper compares with the old caliper, which its lever filled. A caliper on a cable has none.
func fluidOfCaliper(s Scene, at Place) Judgement {
	if actuation, known := s.Now[at].Get("actuation"); known && actuation.word == "cable" {
		return Judgement{}
	}
	return Match{Mine: "fluid", Rare: true}.judge(s, at)
}

var caliperHose = Rule{
	ID: "brake-caliper.hose", Severity: Function,
	Says:   "the hose is sealed anew: two crush washers at a banjo, an olive and an insert under a nut",
	Test:   Custom{Of: []Ref{mine("hose"), mine("actuation")}, Judge: hoseOfCaliper},
	Source: Source{"a motorcycle reference and a bicycle maintenance page (whafi.com) on the two joints; that the seals are used once is common practice", Handbook},
}

func hoseOfCaliper(s Scene, at Place) Judgement {
	actuation, _ := s.Now[at].Get("actuation")
	d := s.side(mine("hose"), at)
	if !d.changed || actuation.word != "hydraulic" {
		return Judgement{}
	}
	if !d.known {
		return untold(d)
	}
	j := Judgement{Answer: Holds, Found: d.now.word, Words: d.words(), Brings: []Bring{
		small("hose-olive", "olive", 1), small("hose-insert", "insert for the hose", 1),
	}}
	if d.now.word == "banjo" {
		j.Brings = []Bring{small("crush-washer", "crush washers for a banjo", 2)}
	}
	if d.wasKnown && !d.was.Equal(d.now) {
		j.Answer, j.Wanted = Breaks, d.was.word
		j.Words += ", where " + d.was.word + " was: the hose wants another end"
	}
	return j
}

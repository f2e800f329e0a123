package substitution

import "slices"

var _ = families(&chain)

var chainWidth = word("chain_width", "chain width", "inner width with a caliper: 3.2 mm is 1/8, 2.4 mm is 3/32, 2.2 mm is 11/128", "1/8", "3/32", "11/128")

var chain = Table{
	Family: "chain", Plural: "chains",
	Sites: []Site{
		{Place: "chain", Words: "chain"},
	},
	Readings: []Reading{wearPercent, stiffChain},
	Work: []Work{
		{Replace, "fit and size chain", 15},
		{Clean, "clean and oil chain", 15},
	},
	Dimensions: []Dimension{
		speeds,
		chainWidth,
		count("links", "length in links", 20, 400, "count the pitches, 12.7 mm each"),
	},
	Rules: []Rule{
		{
			ID: "chain.speeds", Severity: Mating, Presumed: true, Unless: []Place{"rear.sprocket"},
			Says:   "the chain is made for the number of sprockets, or for one more: a wider one rubs the next sprocket",
			Test:   Share{Mine: "speeds", Theirs: sprockets("speeds"), Above: 1},
			Source: byChainPages,
		},
		{
			ID: "chain.narrower", Severity: Function, Unless: []Place{"rear.sprocket"},
			Says:   "the chain is made for just this number of sprockets; one speed narrower runs, and may shift less crisply",
			Test:   Share{Mine: "speeds", Theirs: sprockets("speeds"), Optional: true},
			Source: byChainPages,
		},
		{
			ID: "chain.width", Severity: Mating, Unless: everyRing,
			Says:   "where no ring is recorded, the chain is narrow or 1/8 as the old one was",
			Test:   Custom{Of: []Ref{mine("chain_width"), mine("speeds")}, Judge: widthAsBefore},
			Source: byChainPages,
		},
		{
			ID: "chain.length", Severity: Mating, Presumed: true,
			Says: "the chain goes round the largest ring and sprocket with two links to spare",
			Test: Custom{
				Of:    slices.Concat([]Ref{mine("links"), mine("speeds"), theirs("frame", "chainstay_mm")}, largeRing(), sprockets("teeth_max"), sprockets("speeds")),
				Judge: chainLength,
			},
			Source: Source{"chain-drive geometry plus an inch, and the simple equation of repair handbooks (a tool maker's page describes both); they can differ by two links, the longer counts", Handbook},
		},
		finishRule("chain"),
	},
}

// narrowChain tells whether a chain, or the teeth that a ring or sprocket has for one, is of the narrow kinds for
// derailleurs rather than 1/8 inch; false for known where neither the width nor the speeds say so.
func narrowChain(p *Part) (narrow, known bool) {
	if width, ok := p.Get("chain_width"); ok {
		return width.word != "1/8", true
	}
	list, ok := p.Get("speeds")
	return true, ok && !slices.ContainsFunc(list.ints, func(n int) bool { return n < 5 })
}

// widthFits judges the teeth at a place against the chain: a narrow chain does not go over 1/8 teeth at all, and a 1/8
// chain on narrow teeth runs only where no derailleur moves it.
func widthFits(s Scene, at Place) Judgement {
	_, had := s.Was["rear.derailleur"]
	_, derailleur := s.Now["rear.derailleur"]
	if s.kept(at) && s.kept("chain") && had == derailleur {
		return Judgement{} // another derailleur changes nothing between teeth and chain
	}
	teeth, teethKnown := narrowChain(s.Now[at])
	links, linksKnown := narrowChain(s.Now["chain"])
	widths := map[bool]string{true: "narrow", false: "1/8"}
	if teethKnown && linksKnown {
		j := Judgement{Answer: Holds, Wanted: widths[links], Found: widths[teeth],
			Words: at.words() + " with " + widths[teeth] + " teeth under a " + widths[links] + " chain"}
		switch {
		case links && !teeth:
			j.Answer = Breaks
			j.Words += ": the chain does not go over the teeth"
		case !links && teeth && derailleur:
			j.Answer = Breaks
			j.Words += ": that runs on a single speed only, not with a derailleur"
		case !links && teeth:
			j.Words += ": runs on a single speed"
		}
		return j
	}
	if known, unknown := at, Place("chain"); teethKnown != linksKnown {
		if linksKnown {
			known, unknown = unknown, known
		}
		was, wasKnown := narrowChain(s.Was[known])
		now, _ := narrowChain(s.Now[known])
		if !s.kept(known) && s.kept(unknown) && wasKnown && was == now {
			return Judgement{Answer: Holds, Before: true, Words: "the " + known.words() + " is for a " + widths[now] + " chain, as the old one"}
		}
	}
	var missing []side
	if !teethKnown {
		missing = append(missing, s.side(mine("chain_width"), at))
	}
	if !linksKnown {
		missing = append(missing, s.side(theirs("chain", "chain_width"), at))
	}
	return untold(missing...)
}

// widthAsBefore judges a chain by the old one alone.
func widthAsBefore(s Scene, at Place) Judgement {
	if s.kept(at) {
		return Judgement{}
	}
	was, wasKnown := narrowChain(s.Was[at])
	now, known := narrowChain(s.Now[at])
	d := s.side(mine("chain_width"), at)
	if !known {
		return untold(d)
	}
	widths := map[bool]string{true: "a narrow chain", false: "a 1/8 chain"}
	j := Judgement{Answer: Holds, Before: true, Wanted: widths[was], Found: widths[now], Words: widths[now] + ", as the old one"}
	switch {
	case !wasKnown:
		j = Judgement{Answer: CantTell, Found: widths[now], Words: "not known: whether rings and old chain are narrow or 1/8", Missing: []Missing{d.missing()}}
	case was != now:
		j.Answer, j.Before, j.Words = Breaks, false, widths[now]+" in place of "+widths[was]
	}
	return j
}

// widthRule is that judgement for a family whose parts carry the chain; own are the dimensions that tell its width.
func widthRule(f Family, own []Ref, at ...Place) Rule {
	return Rule{
		ID: string(f) + ".chain-width", Severity: Mating, At: at,
		Says: "the teeth are as wide as the chain takes",
		Test: Custom{
			Of:    append(slices.Clip(own), theirs("chain", "chain_width"), theirs("chain", "speeds"), theirs("rear.derailleur", "speeds")),
			Judge: widthFits,
		},
		Source: Source{"Wikibooks, bicycle chain sizes: 1/8 teeth take no 3/32 chain; 3/32 teeth take a 1/8 chain on a single speed only", Handbook},
	}
}

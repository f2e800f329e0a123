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
		chainRoller,
	},
	Agrees: []Agreement{singleWidth, widthOfSpeeds},
	Rules: []Rule{
		{
			ID: "chain.speeds", Severity: Mating, Presumed: true, Unless: []Place{"rear.sprocket"},
			Says:   "the chain is made for the number of sprockets, or for more: a wider one rubs the next sprocket; 5 to 8 speeds share one chain",
			Test:   Share{Mine: "speeds", Theirs: sprockets("speeds"), Serves: chainRuns, Doubt: chainMayRun},
			Source: Source{"Wikibooks, bicycle chain sizes: up to and including 8 speeds can use the same chain; bike.bikegremlin.com: an 11-speed chain runs on 9 sprockets", Handbook},
		},
		{
			ID: "chain.narrower", Severity: Function, Unless: []Place{"rear.sprocket"},
			Says:   "the chain is made for just this number of sprockets; a narrower one runs, and may shift less crisply",
			Test:   Share{Mine: "speeds", Theirs: sprockets("speeds"), Serves: sameChain, Only: chainRuns, Optional: true, Differs: "a narrower chain runs, and may shift less crisply"},
			Source: byChainPages,
		},
		{
			ID: "chain.made-for", Severity: Function,
			Says:   "the chain is made for as many sprockets as the old one",
			Test:   Custom{Of: []Ref{mine("speeds")}, Judge: chainAsOld, Geometry: true},
			Source: byChainPages,
		},
		{
			ID: "chain.roller", Severity: Mating, Presumed: true,
			Says:   "a chain with large rollers runs on sprockets and rings that are made for it only, and an ordinary one not on those",
			Test:   Match{Mine: "roller", Theirs: []Ref{theirs("rear.cassette", "roller")}, Usual: "standard", Free: "both"},
			Source: byRollers,
		},
		{
			ID: "chain.width", Severity: Mating, Unless: everyRing,
			Says:   "where no ring is recorded, the chain is narrow or 1/8 as the old one was",
			Test:   Custom{Of: []Ref{mine("chain_width"), mine("speeds")}, Judge: widthAsBefore, Geometry: true},
			Source: byChainPages,
		},
		{
			ID: "chain.length", Severity: Mating, Presumed: true,
			Says: "the chain goes round the largest ring and sprocket with two links to spare",
			Test: Custom{
				Of:    slices.Concat([]Ref{mine("links"), mine("speeds"), theirs("frame", "chainstay_mm")}, largeRing(), sprockets("teeth_max"), sprockets("speeds")),
				Judge: chainLength, Geometry: true,
			},
			Source: Source{"chain-drive geometry plus an inch, and the simple equation of repair handbooks (a tool maker's page describes both); they can differ by two links, the longer counts", Handbook},
		},
		finishRule("chain"),
	},
}

var (
	chainRoller = word("roller", "rollers", "look at the outer plates: a flat top means larger rollers, in 12-speed road groups of one kind", "standard", "large")
	toothRoller = word("roller", "rollers it is cut for", "the maker's word: rings and sprockets for flat-top chains are marked for them", "standard", "large", "both")
	byRollers   = Source{"handsonbike.blogspot.com, 2022: 12-speed flat-top road chains have larger rollers, no other ring or cassette takes them; some rings are made for both", TradePage}
)

// sameChain are the numbers of sprockets that one chain is sold for: one chain serves 5 to 8, and the wide one up to 4.
// chainRuns adds the fewer sprockets that a chain of one or two speeds more runs on, chainMayRun those beyond.
var sameChain, chainRuns, chainMayRun = servings()

func servings() (same, runs, may Serving) {
	groups := [][]int{{1, 2, 3, 4}, {5, 6, 7, 8}, {9}, {10}, {11}, {12}, {13}, {14}}
	same, runs, may = Serving{}, Serving{}, Serving{}
	for i, group := range groups {
		for _, n := range group {
			same[n], runs[n] = group, slices.Clone(group)
			for k := i - 1; k >= 1; k-- { // the widest are another chain
				if i-k <= 2 {
					runs[n] = append(runs[n], groups[k]...)
				} else {
					may[n] = append(may[n], groups[k]...)
				}
			}
		}
	}
	return same, runs, may
}

// singleWidth: no chain for derailleurs is 1/8 wide.
func singleWidth(p *Part) []Follows {
	wide, known := p.Get("chain_width")
	if list, told := p.Get("speeds"); known && told && wide.word == "1/8" && list.ints[0] >= 6 {
		return []Follows{{Wrong: "chain_width 1/8 does not go with speeds " + list.String()}}
	}
	return nil
}

// widthOfSpeeds: chains for derailleurs are 3/32 wide inside up to 8 sprockets, and 11/128 from 9 on.
func widthOfSpeeds(p *Part) []Follows {
	list, known := p.Get("speeds")
	if !known {
		return nil
	}
	switch least, most := slices.Min(list.ints), slices.Max(list.ints); {
	case least >= 9:
		return []Follows{{Dimension: "chain_width", Value: Text("11/128"), Loose: true}}
	case least >= 5 && most <= 8:
		return []Follows{{Dimension: "chain_width", Value: Text("3/32"), Loose: true}}
	}
	return nil
}

// chainAsOld says that a chain for more sprockets than the old one runs on its sprockets all the same.
func chainAsOld(s Scene, at Place) Judgement {
	d := s.side(mine("speeds"), at)
	if !d.changed || !d.known || !d.wasKnown || !share(chainRuns.of(d.now.ints), d.was.ints) {
		return Judgement{}
	}
	j := d.besideOld(Holds)
	if !share(sameChain.of(d.now.ints), d.was.ints) {
		j.Answer, j.Before = Breaks, false
		j.Words += ": a narrower chain runs, and may shift less crisply"
	}
	return j
}

// narrowChain tells whether a chain, or the teeth that a ring or sprocket has for one, is of the narrow kinds for
// derailleurs rather than 1/8 inch; false for known where neither the width nor the speeds say so.
func narrowChain(p *Part) (narrow, known bool) {
	if width, ok := p.Get("chain_width"); ok {
		return width.word != "1/8", true
	}
	if ring, ok := p.Get("position"); ok && ring.word != "single" {
		return true, true // a ring of several, over which a derailleur moves the chain
	}
	list, ok := p.Get("speeds")
	return true, ok && !slices.ContainsFunc(list.ints, func(n int) bool { return n < 5 })
}

// shifted tells whether a derailleur moves the chain over the ring that a bike has at a place: those of a double or triple
// are narrow, even where nobody measured them.
func shifted(s Scene, at Place) bool {
	_, recorded := s.Now[at]
	return recorded && s.kept(at) && slices.Contains([]Place{"crank.outer-ring", "crank.middle-ring", "crank.inner-ring"}, at)
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
	if linksKnown && !teethKnown && shifted(s, at) {
		teeth, teethKnown = true, true
	}
	if teethKnown && linksKnown {
		j := underChain(teeth, links, derailleur)
		j.Words = at.words() + " with " + j.Found + " teeth under a " + j.Wanted + " chain" + j.Words
		return j
	}
	if teethKnown && widthKept(s, at, "chain") {
		return asOldWidth(at, teeth)
	}
	if linksKnown && widthKept(s, "chain", at) {
		return asOldWidth("chain", links)
	}
	if _, told := narrowChain(s.Was[at]); !teethKnown && !linksKnown && !told && s.Was[at] != nil && s.Now["chain"] == nil {
		return Judgement{} // neither part says anything of it, and the bike's chain is not known
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

// widthWord names the width of a chain, or of the teeth that it runs on.
func widthWord(narrow bool) string {
	if narrow {
		return "narrow"
	}
	return "1/8"
}

// underChain judges teeth of one width under a chain of one; the words are what to say behind the two.
func underChain(teethNarrow, chainNarrow, derailleur bool) Judgement {
	j := Judgement{Answer: Holds, Wanted: widthWord(chainNarrow), Found: widthWord(teethNarrow)}
	switch {
	case chainNarrow && !teethNarrow:
		j.Answer, j.Words = Breaks, ": the chain does not go over the teeth"
	case !chainNarrow && teethNarrow && derailleur:
		j.Answer, j.Words = Breaks, ": that runs on a single speed only, not with a derailleur"
	case !chainNarrow && teethNarrow:
		j.Words = ": runs on a single speed"
	}
	return j
}

// widthKept reports whether a new part at one place is as wide as the old one was, so that the other place, of which
// nothing is known and where nothing changes, vouches for it.
func widthKept(s Scene, known, unknown Place) bool {
	was, wasKnown := narrowChain(s.Was[known])
	now, _ := narrowChain(s.Now[known])
	return !s.kept(known) && s.kept(unknown) && wasKnown && was == now
}

func asOldWidth(at Place, narrow bool) Judgement {
	return Judgement{Answer: Holds, Before: true, Words: "the " + at.words() + " is for a " + widthWord(narrow) + " chain, as the old one"}
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
	before, after := "a "+widthWord(was)+" chain", "a "+widthWord(now)+" chain"
	j := Judgement{Answer: Holds, Before: true, Wanted: before, Found: after, Words: after + ", as the old one"}
	switch {
	case !wasKnown:
		j = Judgement{Answer: CantTell, Found: after, Words: "not known: whether rings and old chain are narrow or 1/8", Missing: []Missing{d.missing()}}
	case was != now && now:
		j.Answer, j.Before, j.Words = CantTell, false, after+" in place of "+before+": it goes over narrow teeth only"
		j.Missing = []Missing{{Place: "rear.sprocket", Dimension: "chain_width", Measure: chainWidth.Measure}}
	case was != now:
		return wideOnNarrow(s, at, j)
	}
	return j
}

// wideOnNarrow judges a 1/8 chain where a narrow one ran, so that the teeth are narrow: it runs there unless a derailleur
// moves it, which the old chain's speeds tell where the bike does not.
func wideOnNarrow(s Scene, at Place, j Judgement) Judgement {
	_, derailleur := s.Now["rear.derailleur"]
	list, told := s.Was[at].Get("speeds")
	j.Before, j.Words = false, j.Found+" in place of "+j.Wanted
	switch {
	case derailleur || told && slices.Max(list.ints) >= 5:
		j.Answer = Breaks
	case !told:
		j.Answer, j.Words = CantTell, j.Words+": that runs on a single speed only"
		j.Missing = []Missing{s.side(mine("speeds"), at).missing()}
	default:
		j.Answer, j.Words = Holds, j.Words+": runs on a single speed"
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
			Judge: widthFits, Geometry: true,
		},
		Source: Source{"Wikibooks, bicycle chain sizes: 1/8 teeth take no 3/32 chain; 3/32 teeth take a 1/8 chain on a single speed only", Handbook},
	}
}

package substitution

var _ = families(&rearDerailleur, &frontDerailleur)

var pullFamily = word("pull_family", "cable pull family", "the maker's table of shifters and derailleurs; cable pulled per click with a rule")

var rearDerailleur = Table{
	Family: "rear-derailleur", Plural: "rear derailleurs",
	Sites: []Site{
		{Place: "rear.derailleur", Words: "rear derailleur"},
	},
	Readings: []Reading{shifting, damaged},
	Work: []Work{
		{Replace, "fit rear derailleur and set gears", 40},
		{Adjust, "set rear gears", 20},
		{Clean, "clean and oil rear derailleur", 20},
	},
	Dimensions: []Dimension{
		speeds,
		teethMax,
		teethMin,
		count("capacity", "total capacity", 1, 80, "the maker's specification"),
		pullFamily,
		word("cage", "cage length", "look: centre to centre of the jockey wheels", "short", "medium", "long"),
		word("mount", "mount", "look at the hanger"),
	},
	Ordered: [][2]string{{"teeth_min", "teeth_max"}},
	Rules: []Rule{
		{
			ID: "rear-derailleur.capacity", Severity: Mating, Presumed: true, Unless: []Place{"rear.sprocket"},
			Says: "the cage takes up the chain of the rings' difference plus the sprockets' difference",
			Test: geared(Limit{
				Sum:    []Term{plus(largeRing()...), minus(smallRing()...), plus(sprockets("teeth_max")...), minus(sprockets("teeth_min")...)},
				AtMost: []Ref{theirs("rear.derailleur", "capacity")},
			}),
			Source: byCapacity,
		},
		{
			ID: "rear-derailleur.largest-sprocket", Severity: Mating, Presumed: true, Unless: []Place{"rear.sprocket"},
			Says:   "the largest sprocket is no larger than the derailleur's",
			Test:   geared(Limit{Sum: []Term{plus(sprockets("teeth_max")...)}, AtMost: []Ref{theirs("rear.derailleur", "teeth_max")}}),
			Source: Source{"largest sprocket is a limit of its own beside the capacity (tkacz.pro, defietssite.nl)", Handbook},
		},
		{
			ID: "rear-derailleur.smallest-sprocket", Severity: Function,
			Says:   "the smallest sprocket is no smaller than the derailleur's",
			Test:   Custom{Of: append([]Ref{mine("teeth_min")}, sprockets("teeth_min")...), Judge: smallestSprocket},
			Source: Source{"smallest sprocket is a limit of its own beside the capacity (tkacz.pro, defietssite.nl)", Handbook},
		},
		{
			ID: "rear-derailleur.mount", Severity: Mating,
			Says:   "it hangs on the frame as the old one did",
			Test:   Match{Mine: "mount", Rare: true},
			Source: byOldPart,
		},
		{
			ID: "rear-derailleur.speeds", Severity: Function,
			Says:   "the derailleur is made for the number of sprockets",
			Test:   Share{Mine: "speeds", Theirs: sprockets("speeds"), Optional: true},
			Source: Source{"within one cable pull family speeds mix; cage and jockey wheels are made for their chain", Practice},
		},
		{
			ID: "rear-derailleur.cage", Severity: Function,
			Says:   "the cage is as long as it was",
			Test:   Same{Mine: []string{"cage"}},
			Source: Source{"a longer cage takes up more chain and hangs lower", Practice},
		},
		finishRule("rear-derailleur"),
	},
}

// geared asks a limit of the rear derailleur, and presumes no derailleur on a bike with a single sprocket.
func geared(t Limit) Custom {
	var refs []Ref
	for term := range t.balance() {
		refs = append(refs, term.Refs...)
	}
	absent := func(s Scene, at Place) bool { _, recorded := s.Now[at]; return !recorded }
	return Custom{
		Of: append(append(refs, sprockets("speeds")...), theirs("rear.sprocket", "teeth")),
		Judge: func(s Scene, at Place) Judgement {
			if absent(s, at) && singleSpeed(s) {
				return Judgement{}
			}
			return t.judge(s, at)
		},
		Narrow: func(s Scene, at, choosing Place) []Condition {
			if absent(s, at) {
				return nil
			}
			return t.narrow(s, at, choosing)
		},
	}
}

// smallestSprocket is asked only where the derailleur's maker gives a smallest sprocket; most do not.
func smallestSprocket(s Scene, at Place) Judgement {
	if _, given := s.Now[at].Get("teeth_min"); !given {
		return Judgement{}
	}
	return Limit{Sum: []Term{plus(sprockets("teeth_min")...)}, AtLeast: []Ref{mine("teeth_min")}, Optional: true}.judge(s, at)
}

var frontDerailleur = Table{
	Family: "front-derailleur", Plural: "front derailleurs",
	Sites: []Site{
		{Place: "front.derailleur", Words: "front derailleur"},
	},
	Readings: []Reading{shifting, damaged},
	Work: []Work{
		{Replace, "fit front derailleur and set it", 30},
		{Adjust, "set front derailleur", 15},
		{Clean, "clean and oil front derailleur", 15},
	},
	Dimensions: []Dimension{
		speeds,
		millimetres("clamp_mm", "clamp diameter", 20, 60, "caliper on the seat tube"),
		word("mount", "mount", "look: clamp, brazed-on tab or direct mount"),
		count("capacity", "capacity", 1, 40, "the maker's specification"),
		count("teeth_outer", "outer ring it is curved for", 10, 80, "the maker's specification"),
		word("swing", "swing", "look: is the clamp above or below the cage", "top", "bottom", "side"),
		word("cable_pull", "cable pull", "look: where the cable comes from", "top", "bottom", "dual", "side"),
	},
	Rules: []Rule{
		{
			ID: "front-derailleur.capacity", Severity: Mating, Presumed: true, Unless: []Place{"crank.ring"},
			Says: "the cage reaches over the difference of largest and smallest ring",
			Test: Limit{
				Sum:    []Term{plus(theirs("crank.outer-ring", "teeth")), minus(theirs("crank.inner-ring", "teeth"))},
				AtMost: []Ref{theirs("front.derailleur", "capacity")},
			},
			Source: Source{"published front capacity examples (gowanusballroom, defietssite.nl): 53/39 wants 14", Handbook},
		},
		{
			ID: "front-derailleur.outer-ring", Severity: Function,
			Says:   "the outer ring is no larger than the cage is curved for",
			Test:   Custom{Of: []Ref{mine("teeth_outer"), theirs("crank.outer-ring", "teeth")}, Judge: cageCurve},
			Source: Source{"a cage suits a stated outer ring, give or take a few teeth (bikegremlin.com)", Handbook},
		},
		{
			ID: "front-derailleur.clamp", Severity: Mating,
			Says:   "the clamp goes round the seat tube, with a shim where it is larger",
			Test:   Custom{Of: []Ref{mine("clamp_mm"), mine("mount"), theirs("frame", "seat_tube_mm")}, Judge: clampFits},
			Source: Source{"jitetan.com, front derailleur clamps: 28.6, 31.8 and 34.9 mm; a larger one is shimmed", Handbook},
		},
		{
			ID: "front-derailleur.mount", Severity: Mating,
			Says:   "it is held on the frame as the old one was",
			Test:   Match{Mine: "mount", Rare: true},
			Source: byOldPart,
		},
		{
			ID: "front-derailleur.cable-pull", Severity: Mating,
			Says:   "the cable comes from where it came, or the derailleur takes it from both sides",
			Test:   Custom{Of: []Ref{mine("cable_pull")}, Judge: cablePull},
			Source: byOldPart,
		},
		{
			ID: "front-derailleur.swing", Severity: Mating,
			Says:   "the cage swings as the old one's did: the clamp sits where frame and bottle leave room",
			Test:   Match{Mine: "swing", Rare: true},
			Source: byOldPart,
		},
		{
			ID: "front-derailleur.speeds", Severity: Function,
			Says:   "the cage is made for the chain's number of speeds",
			Test:   Share{Mine: "speeds", Theirs: []Ref{theirs("chain", "speeds")}, Optional: true},
			Source: Source{"the cage is as wide as its chain wants (bikegremlin.com)", Handbook},
		},
		finishRule("front-derailleur"),
	},
}

// cageCurve is asked where the derailleur's maker gives an outer ring.
func cageCurve(s Scene, at Place) Judgement {
	if _, given := s.Now[at].Get("teeth_outer"); !given {
		return Judgement{}
	}
	return Limit{Sum: []Term{plus(theirs("crank.outer-ring", "teeth"))}, AtMost: []Ref{mine("teeth_outer")}, Optional: true}.judge(s, at)
}

// clampFits judges a clamped derailleur; one that is brazed or bolted on has no clamp diameter.
func clampFits(s Scene, at Place) Judgement {
	clamp, tube, mount := s.side(mine("clamp_mm"), at), s.side(theirs("frame", "seat_tube_mm"), at), s.side(mine("mount"), at)
	if !clamp.known && mount.known && mount.now.word != "clamp" {
		return Judgement{}
	}
	match := Match{Mine: "clamp_mm", Theirs: []Ref{theirs("frame", "seat_tube_mm")}, Within: 0.2}
	j := match.judge(s, at)
	if j.Answer == Breaks && clamp.known && tube.known && clamp.now.number > tube.now.number {
		j.Answer = Holds
		j.Words = clamp.words() + " on " + tube.words() + ": with a shim"
		j.Brings = []Bring{{Family: "consumable", Quantity: 1, Words: "shim for a front derailleur clamp, " + clamp.now.String() + " on " + tube.now.String() + " mm",
			Spec: Spec{"purpose": {Value: Text("clamp-shim"), Origin: FromStandard}}}}
	}
	return j
}

// cablePull is a Match with the old part in which a derailleur for both directions serves either.
func cablePull(s Scene, at Place) Judgement {
	d := s.side(mine("cable_pull"), at)
	if d.changed && d.known && d.now.word == "dual" {
		return Judgement{Answer: Holds, Found: "dual", Words: at.words() + " takes the cable from above or below"}
	}
	return Match{Mine: "cable_pull", Rare: true}.judge(s, at)
}

package substitution

// What lies on the bench goes into or onto some part of the bike. Such a pair is held side by side, for nobody records where
// on a bike a patch or a pot of glue is.

// forPurpose asks a rule of consumables for one of some purposes only.
func forPurpose(purposes ...string) When {
	return When{Of: []Ref{mine("purpose")}, Is: purposes, Known: true}
}

// goesOn is the rule of a consumable that is made for parts of one kind.
func goesOn(id string, severity Severity, says string, of []Ref, rows []Row, why string, source Source, purposes ...string) Rule {
	return Rule{
		ID: id, Severity: severity, Aside: true, When: []When{forPurpose(purposes...)}, Says: says,
		Test: Lookup{Of: of, Rows: rows, Otherwise: Breaks, Why: why}, Source: source,
	}
}

// only is the one word with which something goes.
func only(words ...string) []Row {
	var rows []Row
	for _, w := range words {
		rows = append(rows, Row{Keys: []string{w}, Answer: Holds})
	}
	return rows
}

// heldBeside are the rules of consumables beside the parts that they are for.
func heldBeside() []Rule {
	return []Rule{
		goesOn("consumable.tubular-rim", Mating, "glue and tape for tubulars are for rims that tubulars are glued to",
			[]Ref{theirs("front.rim", "tubular")}, only("yes"), "its walls hold the tyre by its beads", byTubulars, "tubular-glue", "tubular-tape"),
		goesOn("consumable.tubular-tyre", Mating, "glue and tape for tubulars are for tubulars",
			[]Ref{theirs("front.tyre", "tubular")}, only("yes"), "a tyre with beads is not glued", byTubulars, "tubular-glue", "tubular-tape"),
		goesOn("consumable.tubeless-tyre", Mating, "sealant and plugs go into tyres that run without a tube",
			[]Ref{mine("purpose"), theirs("front.tyre", "tubeless")}, []Row{
				{Keys: []string{"*", "yes"}, Answer: Holds},
				{Keys: []string{"sealant", "no"}, Answer: CantTell, Words: "in a tyre for tubes it goes into the tube, where the valve's core comes out"},
			}, "such a tyre is mended by its tube", byTubeless, "sealant", "tubeless-plug"),
		{
			ID: "consumable.valve-depth", Severity: Mating, Aside: true, When: []When{forPurpose("tubeless-valve")},
			Says:   "a tubeless valve stands out of the rim: 10 mm over the rim's depth is enough for any pump, none at all for no pump",
			Test:   Span{Sum: []Term{plus(mine("valve_mm")), minus(theirs("front.rim", "depth_mm"))}, Low: 10, High: 120, Doubt: 10, Ask: "see whether the pump's head grips what stands out", Why: "it does not come out of the rim"},
			Source: byValveLength,
		},
		{
			ID: "consumable.valve-tubular", Severity: Mating, Aside: true, When: []When{forPurpose("tubeless-valve")},
			Says:   "a tubeless valve seals in a rim with walls: a tubular brings its own valve",
			Test:   Lookup{Of: []Ref{theirs("front.rim", "tubular")}, Rows: only("no"), Otherwise: Breaks, Why: "the tyre glued to it brings its own", Optional: true, Rare: true, Usual: "no"},
			Source: byTubulars,
		},
		goesOn("consumable.valve-hole", Mating, "a tubeless valve is as thick as a presta one: it seals in a hole for that",
			[]Ref{theirs("front.rim", "valve_hole_mm")}, []Row{
				{Keys: []string{"6..7.4"}, Answer: Holds}, {Keys: []string{"7.5..12"}, Answer: CantTell, Words: "in a hole for a car valve it wants a wide foot: the maker's word"},
			}, "the hole is too small", byValves, "tubeless-valve"),
		goesOn("consumable.star-nut", Safety, "a star nut never goes into carbon: its prongs score it, and it may crack",
			[]Ref{mine("purpose"), theirs("fork", "steerer_material")}, []Row{
				{Keys: []string{"steerer-expander", "*"}, Answer: Holds}, {Keys: []string{"star-nut", "steel"}, Answer: Holds}, {Keys: []string{"star-nut", "alloy"}, Answer: Holds},
			}, "it wants an expander", headsetPreload.Source, "star-nut", "steerer-expander"),
		goesOn("consumable.threadless", Mating, "star nut and expander are for a steerer without a thread",
			[]Ref{theirs("fork", "kind")}, only("threadless"), "a threaded headset is set by its nuts", Source{"an encyclopedia on headsets: a threaded headset is adjusted by its nuts, a threadless one through the stem", Handbook}, "star-nut", "steerer-expander"),
		{
			ID: "consumable.steerer-fork", Severity: Mating, Aside: true, When: []When{forPurpose("star-nut", "steerer-expander")},
			Says:   "star nut and expander are made for the steerer's diameter",
			Test:   Match{Mine: "steerer_mm", Theirs: []Ref{theirs("fork", "steerer_mm")}, Within: 0.15},
			Source: Source{"steerer diameters of published references: 25.4, 28.6, 31.8 mm", Handbook},
		},
		goesOn("consumable.link", Mating, "the link belongs to a direct-mount derailleur",
			[]Ref{theirs("rear.derailleur", "mount")}, only("direct"), "it bolts to the hanger without one", byHangerPages, "derailleur-link"),
		{
			ID: "consumable.lockring-set", Severity: Mating, Aside: true, When: []When{forPurpose("cassette-lockring")},
			Says:   "a lockring is made for the set's smallest sprocket",
			Test:   Match{Mine: "teeth_min", Theirs: []Ref{theirs("rear.cassette", "teeth_min")}},
			Source: cassetteLockring.Source,
		},
		goesOn("consumable.lockring-axle", Mating, "a rotor's lockring lets the axle through: notched inside up to 12 mm, outside for 15 and 20 mm",
			[]Ref{mine("notches"), theirs("front.hub", "axle")}, []Row{
				{Keys: []string{"outside", "*"}, Answer: Holds}, {Keys: []string{"inside", "15x100"}, Answer: Breaks}, {Keys: []string{"inside", "15x110"}, Answer: Breaks},
				{Keys: []string{"inside", "20x100"}, Answer: Breaks}, {Keys: []string{"inside", "20x110"}, Answer: Breaks}, {Keys: []string{"inside", "*"}, Answer: Holds},
			}, "its tool does not pass round the axle", rotorLockring.Source, "rotor-lockring"),
		goesOn("consumable.adapter-hub", Mating, "an adapter for a six-bolt rotor sits on the splines of a centre-lock hub",
			[]Ref{theirs("front.hub", "rotor_mount")}, only("centre-lock"), "it has nothing to sit on", byRotorMounts, "rotor-adapter"),
		goesOn("consumable.adapter-rotor", Mating, "the adapter carries a rotor with six bolts",
			[]Ref{theirs("front.rotor", "rotor_mount")}, only("6-bolt"), "a rotor with splines needs none", byRotorMounts, "rotor-adapter"),
	}
}

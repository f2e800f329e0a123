package substitution

var _ = families(&dynamo, &lamp, &lampWire)

// Light from a dynamo. A dynamo drives a current: lamps that take less than it gives burn out, one after the other.

var (
	volts          = Dimension{Name: "volts", Form: Number, Low: 1, High: 60, Means: "volts", Measure: "read the lamp, the dynamo or the battery"}
	watts          = Dimension{Name: "watts", Form: Number, Low: 0.1, High: 100, Means: "watts", Measure: "read the lamp or the dynamo"}
	poles          = count("poles", "poles", 1, 2, "count the wires: with one the current comes back through the frame")
	byDynamos      = Source{"an encyclopedia on hub dynamos: 6 V 3 W; in front 2.4 W with 0.6 W behind, or all of it in front; a dynamo drives a current, so a lamp that takes too little blows", Handbook}
	byLampStandard = Source{"ISO 6742-5:2015, contents: lamps to the front and lamps to the rear have requirements of their own", Standard}
	byPoles        = Source{"dotpointer notes 231: dynamos of one pole earth through the frame, of two poles they do not", TradePage}
)

var dynamo = Table{
	Family: "dynamo", Plural: "dynamos",
	Sites:    []Site{{Place: "front.dynamo", Words: "dynamo"}},
	Readings: []Reading{damaged},
	Work:     []Work{{Replace, "fit dynamo and try lamps", 30}, {Adjust, "set dynamo", 5}},
	Dimensions: []Dimension{
		word("kind", "kind", "look: in the hub, at the tyre, or at the spokes", "hub", "bottle", "spoke"),
		volts, watts, poles,
		count("holes", "spoke holes", 8, 60, "count the spokes, of a hub dynamo"),
		millimetres("oln_mm", "over locknut width", 60, 160, "outside faces of the locknuts, caliper; of a hub dynamo"),
		word("axle", "axle", "look, of a hub dynamo: quick release, nuts or a hole for a thru-axle"),
	},
	Rules: []Rule{
		{ID: "dynamo.kind", Severity: Mating, Says: "it is held as the old one was", Test: Match{Mine: "kind"}, Source: byDynamos},
		{ID: "dynamo.holes", Severity: Mating, When: []When{being("kind", "hub")}, Says: "a hub dynamo has as many spoke holes as the rim",
			Test: Match{Mine: "holes", Theirs: []Ref{theirs("front.rim", "holes")}, Rare: true}, Source: Source{"each spoke has its hole", Arithmetic}},
		{ID: "dynamo.width", Severity: Mating, When: []When{being("kind", "hub")}, Says: "a hub dynamo is as wide as the fork's ends",
			Test: Match{Mine: "oln_mm", Theirs: []Ref{theirs("fork", "oln_mm")}, Within: 1, Rare: true}, Source: bySpacings},
		{ID: "dynamo.axle", Severity: Safety, When: []When{being("kind", "hub")}, Says: "a hub dynamo's axle is the fork's: quick release and nuts share open ends, a thru-axle has its own diameter and width",
			Test: Match{Mine: "axle", Theirs: []Ref{theirs("fork", "axle")}, Alike: []string{"qr", "solid"}, Usual: "qr"}, Source: Source{"published overviews of axle standards", Handbook}},
		{ID: "dynamo.volts", Severity: Mating, Unless: []Place{"front.lamp"}, Says: "it gives the lamps' voltage, as the old one did", Test: Match{Mine: "volts", Within: 0.1}, Source: byDynamos},
		{ID: "dynamo.poles", Severity: Mating, Unless: []Place{"frame.wire"}, Says: "it is wired as the old one was: one pole earths through the frame, two do not", Test: Match{Mine: "poles", Rare: true}, Source: byPoles},
		{ID: "dynamo.watts", Severity: Function, Says: "it gives as much light", Test: Same{Mine: []string{"watts"}}, Source: byDynamos},
		finishRule("dynamo"),
	},
}

// lampsTogether are the watts of what a dynamo feeds.
var lampsTogether = []Term{plus(theirs("front.lamp", "watts")), plus(theirs("rear.lamp", "watts"))}

var lamp = Table{
	Family: "lamp", Plural: "lamps",
	Sites: []Site{
		{Place: "front.lamp", Words: "front lamp", Safety: true},
		{Place: "rear.lamp", Words: "rear lamp", Safety: true},
	},
	Readings: []Reading{lit, damaged},
	Work:     []Work{{Replace, "fit lamp and try it", 15}, {Adjust, "aim and wire lamp", 10}},
	Dimensions: []Dimension{
		word("supply", "supply", "look: wires to a dynamo, a battery of its own, or the bike's drive battery", "dynamo", "battery", "e-bike"),
		volts, watts,
		word("mount", "mount", "look where it is held", "fork-crown", "bar", "mudguard", "rack", "seatpost", "seatstay"),
		wheelOf,
	},
	Rules: []Rule{
		wheelRule("lamp", byLampStandard),
		{ID: "lamp.supply", Severity: Mating, Says: "it is fed as the old one was: a dynamo lamp on a battery, or the other way round, burns out or stays dark", Test: Match{Mine: "supply"}, Source: byDynamos},
		{ID: "lamp.fed", Severity: Mating, Aside: true, Says: "a dynamo feeds lamps that are made for one", Test: Lookup{Of: []Ref{mine("supply"), theirs("front.dynamo", "kind")}, Rows: []Row{{Keys: []string{"dynamo", "*"}, Answer: Holds}},
			Otherwise: Breaks, Why: "it is fed by a battery"}, Source: byDynamos},
		{ID: "lamp.volts", Severity: Mating, When: []When{unless("supply", "battery")}, Says: "it takes the dynamo's voltage", Test: Match{Mine: "volts", Theirs: []Ref{theirs("front.dynamo", "volts")}, Within: 0.1, Rare: true}, Source: byDynamos},
		{
			ID: "lamp.watts", Severity: Mating, When: []When{unless("supply", "battery", "e-bike")},
			Says:   "both lamps together take no more than the dynamo gives: 2.4 and 0.6 of 3 W",
			Test:   Limit{Sum: lampsTogether, AtMost: []Ref{theirs("front.dynamo", "watts")}, Plus: 0.05, Optional: true, Rare: true},
			Source: byDynamos,
		},
		{
			ID: "lamp.watts-least", Severity: Mating, When: []When{unless("supply", "battery", "e-bike")},
			Says:   "both lamps together take what the dynamo gives: its current finds no other way, and burns out what takes too little",
			Test:   Limit{Sum: lampsTogether, AtLeast: []Ref{theirs("front.dynamo", "watts")}, Plus: 0.65, Doubt: 100, Ask: "ask whether the lamps hold their voltage themselves, as those with diodes do", Optional: true, Rare: true},
			Source: byDynamos,
		},
		{ID: "lamp.share", Severity: Mating, Unless: []Place{"front.dynamo"}, When: []When{unless("supply", "battery", "e-bike")}, Says: "it takes the old one's share of the current", Test: Match{Mine: "watts", Within: 0.05, Rare: true, Doubt: 0.6, Ask: "read what the dynamo gives and what the other lamp takes"}, Source: byDynamos},
		{ID: "lamp.mount", Severity: Mating, Says: "it is held where the old one was", Test: Match{Mine: "mount", Rare: true, Else: CantTell, Why: "see whether there is a place for it"}, Source: byOldPart},
		finishRule("lamp"),
	},
}

var lit = Reading{
	Dimension: word("lit", "light", "turn the wheel, or switch it on", "bright", "dim", "dark"),
	Says: map[string]Advice{
		"bright": says(Keep, "it lights"),
		"dim":    says(Adjust, "dim: look at plugs, earth and wire before lamp or dynamo", "frame.wire", "front.dynamo"),
		"dark":   says(Adjust, "dark: try lamp and wire one by one before either is bought", "frame.wire", "front.dynamo"),
	},
}

var lampWire = Table{
	Family: "lamp-wire", Plural: "lamp wires",
	Sites:      []Site{{Place: "frame.wire", Words: "lamp wire"}},
	Readings:   []Reading{frayed, metresWanted},
	ByMetre:    true,
	Work:       []Work{{Replace, "wire lamps", 30}, {Adjust, "mend lamp wire", 15}},
	Dimensions: []Dimension{poles, length(100, 100000, "along the frame, with a tape"), byMetre},
	Rules: []Rule{
		{ID: "lamp-wire.poles", Severity: Mating, Says: "it has a core for each pole of the dynamo", Test: Limit{Sum: []Term{plus(mine("poles"))}, AtLeast: []Ref{theirs("front.dynamo", "poles"), old("poles")}, Optional: true, Rare: true}, Source: byPoles},
		cutTo(longEnough("lamp-wire.length", "length_mm", Mating, "it is at least as long as what was there; the rest is cut off", byOldPart)),
	},
}

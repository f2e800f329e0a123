package substitution

var _ = families(&pedal)

// frenchPedal is the pedal thread of old French cranks, half a turn an inch off the English one: a pedal of the other
// kind starts in the thread and then binds.
const frenchPedal = "M14x1.25"

var (
	pedalThreadOf  = word("pedal_thread", "pedal thread", "caliper in the arm's hole: 9/16, 1/2 in one-piece cranks; old French arms say 14 x 125 on the back", "9/16x20", "1/2x20", frenchPedal)
	byPedalThreads = Source{"JIS B 0225 cycle threads: pedals 9/16 and 1/2 inch, 20 turns; smontanaro.net on the French 14 x 1.25", Standard}
)

var pedal = Table{
	Family: "pedal", Plural: "pedals",
	Sites: []Site{
		{Place: "pedals", Words: "pedals", Safety: true},
	},
	Readings: houseReadings,
	Work: []Work{
		{Replace, "fit pedals", 10},
		{Adjust, "adjust pedal bearings", 20},
		{Clean, "strip, clean and grease pedals", 30},
	},
	Dimensions: []Dimension{
		word("thread", "thread", "caliper over the thread: 14.3 mm is 9/16, 14.0 mm is M14, 12.7 mm is 1/2; old French cranks say 14 x 125 on the back",
			"9/16x20", "1/2x20", frenchPedal),
		word("side", "side", "look which way it screws in: the left one is left-handed; L or R on the spindle's end", "left", "right", "pair"),
		word("cleat", "cleat", "look: flat, or the shape and number of bolts of the cleat that it takes", "none", "two-bolt", "three-bolt", "four-bolt"),
		word("system", "pedal system", "read pedal and cleat: the maker's name for the pair of them"),
	},
	Rules: []Rule{
		{
			ID: "pedal.arm", Severity: Safety, When: []When{{Of: []Ref{theirs("crank", "pedal_thread")}, Known: true}},
			Says:   "the pedals have the thread of the arms",
			Test:   Match{Mine: "thread", Theirs: []Ref{theirs("crank", "pedal_thread")}},
			Source: byPedalThreads,
		},
		{
			ID: "pedal.thread", Severity: Safety, When: []When{{Of: []Ref{theirs("crank", "pedal_thread")}, Unknown: true}},
			Says:   "the pedals have the crank's thread: 9/16, or 1/2 in a one-piece crank, or M14x1.25 in an old French one; the left one is left-handed",
			Test:   Custom{Of: []Ref{mine("thread"), theirs("crank", "spindle_interface")}, Judge: pedalThread, Geometry: true},
			Source: byPedalThreads,
		},
		{
			ID: "pedal.side", Severity: Safety,
			Says:   "a left pedal for a left one: forced into the other arm it cuts the thread out",
			Test:   sideAsOld,
			Source: byPedalThreads,
		},
		{
			ID: "pedal.cleat", Severity: Function,
			Says:   "it takes the shoes' cleats that the old ones took",
			Test:   Same{Mine: []string{"cleat", "system"}},
			Source: byCleats,
		},
		finishRule("pedal"),
	},
}

// pedalThread goes by the crank; only the pedals that were there tell whether a crank is French.
func pedalThread(s Scene, at Place) Judgement {
	d, crank := s.side(mine("thread"), at), s.side(theirs("crank", "spindle_interface"), at)
	if d.changed && d.known && d.wasKnown && !crank.changed {
		return Match{Why: "it starts in the thread and binds, or drops through"}.likeOld(d, false)
	}
	return pedalsByCrank.judge(s, at)
}

var pedalsByCrank = Lookup{
	Of:        []Ref{mine("thread"), theirs("crank", "spindle_interface")},
	Rows:      pedalThreads(),
	Otherwise: CantTell, Why: "measure the pedal's thread in the crank: 14.3, 14.0 or 12.7 mm",
}

// pedalThreads pairs thread and crank. Cottered cranks are left out: some are tapped in metric.
func pedalThreads() []Row {
	rows := []Row{
		{Keys: []string{"1/2x20", "one-piece"}, Answer: Holds},
		{Keys: []string{"9/16x20", "one-piece"}, Answer: Breaks, Words: "a one-piece crank is tapped 1/2 inch"},
		{Keys: []string{frenchPedal, "jis-taper"}, Answer: CantTell, Words: "old French cranks are tapped M14x1.25, all others 9/16: read the back of the arm"},
		{Keys: []string{frenchPedal, "iso-taper"}, Answer: CantTell, Words: "old French cranks are tapped M14x1.25, all others 9/16: read the back of the arm"},
	}
	for _, crank := range spindleInterface.Words {
		if crank == "cottered" {
			continue
		}
		rows = append(rows,
			Row{Keys: []string{"9/16x20", crank}, Answer: Holds},
			Row{Keys: []string{"1/2x20", crank}, Answer: Breaks, Words: "a crank in three pieces is tapped 9/16 inch"},
			Row{Keys: []string{frenchPedal, crank}, Answer: Breaks, Words: "M14x1.25 is the thread of old French cranks"})
	}
	return rows
}

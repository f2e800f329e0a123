package substitution

var _ = families(&freewheel)

var threadWord = word("thread", "thread", "outside diameter with a caliper, pitch with a thread gauge, and which way it tightens")

var freewheel = Table{
	Family: "freewheel", Plural: "freewheels",
	Sites: []Site{
		{Place: "rear.freewheel", Words: "freewheel"},
	},
	Readings: []Reading{skipsUnderLoad, hookedTeeth},
	Work: []Work{
		{Replace, "fit freewheel", 15},
		{Clean, "clean freewheel", 15},
	},
	Dimensions: []Dimension{speeds, teethMin, teethMax, threadWord, millimetres("stack_mm", "width of the sprockets", 5, 60, "caliper over all sprockets")},
	Ordered:    [][2]string{{"teeth_min", "teeth_max"}},
	Rules: []Rule{
		{
			ID: "freewheel.hub", Severity: Mating,
			Says: "the rear hub has a thread for a freewheel, not a freehub body",
			Test: Lookup{
				Of:        []Ref{theirs("rear.hub", "freehub"), mine("thread")},
				Rows:      []Row{{Keys: []string{"threaded", "*"}, Answer: Holds}},
				Otherwise: Breaks, Why: "the hub takes a cassette",
			},
			Source: Source{"ISO 6698, freewheel and hub thread (title and scope)", Handbook},
		},
		{
			ID: "freewheel.room", Severity: Mating, When: []When{{Of: []Ref{theirs("rear.hub", "oln_mm")}, Known: true}},
			Says: "the axle leaves room for the sprockets: 5 on 120 mm, 6 and 7 on 126, 8 on 130 and more",
			Test: Lookup{
				Of: []Ref{mine("speeds"), theirs("rear.hub", "oln_mm")},
				Rows: []Row{
					{Keys: []string{"1", "60..220"}, Answer: Holds}, {Keys: []string{"3", "110..220"}, Answer: Holds}, {Keys: []string{"4", "110..220"}, Answer: Holds},
					{Keys: []string{"5", "118..220"}, Answer: Holds}, {Keys: []string{"6", "124..220"}, Answer: Holds},
					{Keys: []string{"6", "118..123.9"}, Answer: CantTell, Words: "only narrow sets of 6 go on 120 mm: measure the set and the room"},
					{Keys: []string{"7", "124..220"}, Answer: Holds}, {Keys: []string{"8", "129..220"}, Answer: Holds}, {Keys: []string{"9", "134..220"}, Answer: Holds},
					{Keys: []string{"8", "124..128.9"}, Answer: CantTell, Words: "made for 130 mm: measure the set and the room"}, {Keys: []string{"9", "129..133.9"}, Answer: CantTell, Words: "measure the set and the room"},
				},
				Otherwise: Breaks, Why: "the outer sprocket or its chain meets the dropout", Optional: true, Rare: true,
			},
			Source: Source{"published hub spacings: 120 mm for 5 speeds and narrow sets of 6, 126 for 6 and 7, 130 from 8 on", Handbook},
		},
		{
			ID: "freewheel.stack", Severity: Mating, Unless: []Place{"rear.hub"},
			Says:   "the sprockets are no wider together than the old ones: the axle leaves room for those",
			Test:   Limit{Sum: []Term{plus(mine("stack_mm"))}, AtMost: []Ref{old("stack_mm")}, Optional: true, Plus: 0.5, Doubt: 3, Ask: "measure from the outer sprocket to the dropout"},
			Source: byArithmetic,
		},
		{
			ID: "freewheel.thread", Severity: Mating,
			Says: "the freewheel's thread is the hub's; ISO, British and Italian go together, French with nothing else",
			Test: Lookup{
				Of:        []Ref{mine("thread"), theirs("rear.hub", "thread")},
				Rows:      freewheelThreads(),
				Otherwise: CantTell, Why: "not threads of the published table: measure both",
			},
			Source: Source{"Sheldon Brown, freewheels; ISO 6698:1989 and BS 811 give the threads", Handbook},
		},
		{
			ID: "freewheel.teeth", Severity: Function,
			Says:   "the sprockets run from the same smallest to the same largest",
			Test:   Same{Mine: []string{"teeth_min", "teeth_max"}, Feel: sprocketFeel},
			Source: Source{"gear ratio is ring teeth by sprocket teeth", Arithmetic},
		},
		speedsRule("freewheel"),
		finishRule("freewheel"),
	},
}

// inchHubThreads are the ISO, British and Italian thread of freewheels and fixed sprockets.
var inchHubThreads = []string{"1.37x24", "1.375x24", "1.378x24"}

// freewheelThreads pairs the threads of the table: 24 turns to the inch within 0.2 mm go on each other.
func freewheelThreads() []Row {
	inch := inchHubThreads
	all := append([]string{"M34.7x1", "M30x1"}, inch...)
	var rows []Row
	for _, a := range all {
		rows = append(rows, Row{Keys: []string{a, a}, Answer: Holds})
	}
	for _, a := range inch {
		for _, b := range inch {
			rows = append(rows, Row{Keys: []string{a, b}, Answer: Holds, Words: "they go together, though not for a tandem or a strong rider"})
		}
	}
	for _, a := range all {
		for _, b := range all {
			rows = append(rows, Row{Keys: []string{a, b}, Answer: Breaks, Words: "another diameter and pitch"})
		}
	}
	return rows
}

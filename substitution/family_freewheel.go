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
	Dimensions: []Dimension{speeds, teethMin, teethMax, threadWord},
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

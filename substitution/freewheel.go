package substitution

var threadWord = word("thread", "thread", "outside diameter with a caliper, pitch with a thread gauge, and which way it tightens")

var freewheel = Table{
	Family: "freewheel", Plural: "freewheels",
	Dimensions: []Dimension{speeds, teethMin, teethMax, threadWord},
	Ordered:    [][2]string{{"teeth_min", "teeth_max"}},
}

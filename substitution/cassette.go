package substitution

var (
	teethMin    = count("teeth_min", "smallest sprocket", 7, 60, "count the teeth")
	teethMax    = count("teeth_max", "largest sprocket", 7, 70, "count the teeth")
	freehubWord = word("freehub", "freehub spline", "look at the splines of the body; a chart of profiles tells them apart",
		"hg", "hg-l", "hg-ev", "micro-spline", "xd", "xdr", "8-spline", "8-spline-short", "hg-mini", "threaded")
)

var cassette = Table{
	Family: "cassette", Plural: "cassettes",
	Dimensions: []Dimension{speeds, teethMin, teethMax, freehubWord},
	Ordered:    [][2]string{{"teeth_min", "teeth_max"}},
}

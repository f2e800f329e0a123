package standard

// FreehubBody is a freehub body and the sprocket sets it takes.
type FreehubBody struct {
	Freehub  string  `json:"freehub"` // the vocabulary's spline name
	Name     string  `json:"name"`
	LengthMM float64 `json:"length_mm,omitempty"` // usable length; absent where none is published
	Reference
}

var (
	refCassettePage = Reference{"a page on cassettes and freehub bodies", Practice}
	refFreehubPage  = Reference{"a wheel builder's freehub page", Practice}
	refXDR          = Reference{"a maker's note on the longer driver body", Catalogue}
)

var freehubBodies = []FreehubBody{
	{"hg", "7-speed length", 31, refCassettePage},
	{"hg", "8/9/10-speed length", 35, refCassettePage},
	{"hg-l", "11-speed road length", 36.85, Reference{"a wheel builder's freehub page: 1.85 mm longer than the 8/9/10-speed body", Practice}},
	{"8-spline", "eight deep splines", 38, refCassettePage},
	{"xd", "10-tooth driver", 0, refXDR},
	{"xdr", "10-tooth driver, 1.85 mm longer", 0, refXDR},
	{"micro-spline", "10-tooth spline", 0, refFreehubPage},
}

// FreehubBodies are all bodies in the table; the slice is the caller's own.
func FreehubBodies() []FreehubBody { return append([]FreehubBody(nil), freehubBodies...) }

// FreehubFit is what a sprocket set of a kind needs on a body: the spacers that go behind its largest sprocket.
type FreehubFit struct {
	Body    string    `json:"freehub"`
	Set     string    `json:"set"` // the kind of sprocket set
	Speeds  []int     `json:"speeds"`
	Fits    bool      `json:"fits"`
	Spacers []float64 `json:"spacers_mm,omitempty"`
	Reference
}

var freehubFits = []FreehubFit{
	{"hg", "hg", []int{8, 9}, true, nil, refFreehubPage},
	{"hg", "hg", []int{10}, true, []float64{1.0}, refFreehubPage},
	{"hg", "hg", []int{7}, true, []float64{4.5}, refFreehubPage},
	{"hg", "hg mountain", []int{11}, true, nil, refFreehubPage},
	{"hg", "hg-l road", []int{11, 12}, false, nil, refFreehubPage},
	{"hg-l", "hg-l road", []int{11, 12}, true, nil, refFreehubPage},
	{"hg-l", "hg", []int{8, 9}, true, []float64{1.85}, refFreehubPage},
	{"hg-l", "hg mountain", []int{11}, true, []float64{1.85}, refFreehubPage},
	{"hg-l", "hg", []int{10}, true, []float64{1.85, 1.0}, refFreehubPage},
	{"xd", "xd", []int{11, 12}, true, nil, refXDR},
	{"xdr", "xdr", []int{12}, true, nil, refXDR},
	{"xdr", "xd", []int{11, 12}, true, []float64{1.85}, refXDR},
	{"xd", "xdr", []int{12}, false, nil, refXDR},
	{"micro-spline", "micro-spline", []int{12}, true, nil, refFreehubPage},
}

// FreehubFits are all published pairings of body and sprocket set; the slice is the caller's own. A pairing that is not
// among them is not known, and not therefore impossible. Some 10-speed sets are made to need no 1.0 mm spacer: that is
// the set's own figure, and wins.
func FreehubFits() []FreehubFit { return append([]FreehubFit(nil), freehubFits...) }

// CogPitch is the distance from sprocket to sprocket, which the shifter's click must match.
type CogPitch struct {
	Speeds  int     `json:"speeds"`
	System  string  `json:"system"` // a neutral name of the makers who use it
	CogMM   float64 `json:"cog_mm,omitempty"`
	PitchMM float64 `json:"pitch_mm"`
	Reference
}

var refCogs = Reference{"a Japanese page on sprocket sets, by measurement", Practice}

var cogPitches = []CogPitch{
	{7, "common", 1.85, 5.0, refCogs}, {8, "common", 1.8, 4.8, refCogs}, {8, "eight-spline", 1.9, 5.0, refCogs},
	{9, "common", 1.78, 4.34, refCogs}, {9, "eight-spline", 1.75, 4.55, refCogs},
	{10, "common", 1.6, 3.95, refCogs}, {10, "eight-spline", 0, 4.12, refCogs},
	{11, "common", 1.6, 3.78, Reference{"nominal; measured sets give 3.69 to 3.78", Practice}},
	{12, "common", 0, 3.55, fromMemory("12-speed pitch")},
}

// CogPitches are all rows; the slice is the caller's own.
func CogPitches() []CogPitch { return append([]CogPitch(nil), cogPitches...) }

// PullFamily is a shifting system: cable pulled a click, times the derailleur's ratio, must be the sprocket pitch.
type PullFamily struct {
	Family  string  `json:"pull_family"` // named by derailleur ratio, never by maker
	Speeds  int     `json:"speeds"`
	Use     string  `json:"use"`
	PullMM  float64 `json:"pull_mm"`
	Ratio   float64 `json:"ratio"`
	PitchMM float64 `json:"pitch_mm"` // the sprocket pitch it is made for
	Reference
}

var (
	refPull  = Reference{"derailleur and shifter reference pages", Practice}
	memRatio = fromMemory("one of pull and ratio in this family")
)

var pullFamilies = []PullFamily{
	{"r1.7", 6, "road and mountain", 3.2, 1.7, 5.4, memRatio},
	{"r1.7", 7, "road and mountain", 2.9, 1.7, 5.0, memRatio},
	{"r1.7", 8, "road and mountain", 2.8, 1.7, 4.8, refPull},
	{"r1.7", 9, "road and mountain", 2.5, 1.7, 4.34, memRatio},
	{"r1.7", 10, "road", 2.3, 1.7, 3.95, memRatio},
	{"r1.2", 10, "mountain", 3.4, 1.2, 3.95, refPull},
	{"r1.1", 11, "mountain", 3.6, 1.1, 3.9, refPull},
	{"r1.4", 11, "road", 2.7, 1.4, 3.78, memRatio},
	{"s1.1", 9, "one-to-one", 4.0, 1.1, 4.34, memRatio},
	{"s1.3", 10, "road and mountain", 3.1, 1.3, 3.95, memRatio},
	{"sx", 11, "mountain", 3.48, 1.12, 3.9, memRatio},
}

// PullFamilies are all rows; the slice is the caller's own. Half of them rest on memory: inside one family shifter and
// derailleur agree by name, across families the numbers may only be shown, not relied on, unless both are firm.
func PullFamilies() []PullFamily { return append([]PullFamily(nil), pullFamilies...) }

package standard

// KnownThread is a thread that bicycles use, and where.
type KnownThread struct {
	Thread     Thread  `json:"thread"`
	Use        string  `json:"use"`
	Family     string  `json:"family"`                      // "bottom-bracket", "freewheel", "axle", "pedal", "steerer", "spoke", "other"
	MajorMM    float64 `json:"major_mm,omitempty"`          // outside of the male thread, where it is not the diameter in its name
	PitchDiaMM float64 `json:"pitch_diameter_mm,omitempty"` // male thread, where the standard's table was read
	CoreMM     float64 `json:"core_mm,omitempty"`           // male core or female inside, as measured on the part
	Reference  `json:"reference"`
}

// Known finds the first row of the table with this thread.
func (t Thread) Known() (KnownThread, bool) {
	for _, k := range knownThreads {
		if k.Thread.Same(t) {
			return k, true
		}
	}
	return KnownThread{}, false
}

// OutsideMM is the outside of a new male thread: what a caliper reads at most.
func (k KnownThread) OutsideMM() float64 {
	if k.MajorMM != 0 {
		return k.MajorMM
	}
	return k.Thread.DiameterMM
}

// KnownThreads are all of them; the slice is the caller's own.
func KnownThreads() []KnownThread { return append([]KnownThread(nil), knownThreads...) }

var (
	refJIS         = Reference{"JIS B 0225-1960 cycle threads", Published}
	refBSCPage     = Reference{"Sheldon Brown's freewheel page; ISO 6698:1989 covers the freewheel thread", Practice}
	refBBPage      = Reference{"wikipedalia bottom-bracket table and others; ISO 6696:1989, BS 811", Practice}
	refTrack       = Reference{"workshop forum on track hub threads", Practice}
	refDIN79012    = Reference{"DIN 79012 rolled spoke thread, as reproduced", Published}
	refAxlePage    = Reference{"axle workshop pages", Practice}
	refISO8488     = Reference{"ISO 8488:1986 steering head threads, title and scope", Practice}
	refThreadList  = Reference{"a tool maker's list of bicycle threads, as reposted", Handbook}
	refThruAxle    = Reference{"thru-axle makers' guides: 1.0, 1.5 and 1.75 mm on 12 mm axles", Catalogue}
	refFrenchPedal = Reference{"old French crank arms say 14 x 125 on the back", Practice}
	refShopBolt    = Reference{"a workshop page on brake and rotor fixings", Practice}
)

var knownThreads = []KnownThread{
	{Thread: inchThread(1.37, 24, true), Use: "English bottom bracket, drive side", Family: "bottom-bracket", CoreMM: 33.67, Reference: refBBPage},
	{Thread: inchThread(1.37, 24, false), Use: "English bottom bracket, non-drive side", Family: "bottom-bracket", CoreMM: 33.67, Reference: refBBPage},
	{Thread: inchThread(1.375, 24, true), Use: "ISO bottom bracket, drive side", Family: "bottom-bracket", CoreMM: 33.67, Reference: refBBPage},
	{Thread: inchThread(1.375, 24, false), Use: "ISO bottom bracket, non-drive side", Family: "bottom-bracket", CoreMM: 33.67, Reference: refBBPage},
	{Thread: mixedThread(36, 24, false), Use: "Italian bottom bracket, both sides", Family: "bottom-bracket", CoreMM: 34.87, Reference: refBBPage},
	{Thread: metricThread(35, 1, false), Use: "French bottom bracket, both sides; Swiss non-drive side", Family: "bottom-bracket", CoreMM: 34, Reference: refBBPage},
	{Thread: metricThread(35, 1, true), Use: "Swiss bottom bracket, drive side", Family: "bottom-bracket", CoreMM: 34, Reference: refBBPage},
	{Thread: inchThread(1.375, 26, true), Use: "26-turn English bottom bracket, drive side", Family: "bottom-bracket", Reference: refBBPage},
	{Thread: inchThread(1.375, 26, false), Use: "26-turn English bottom bracket, non-drive side", Family: "bottom-bracket", Reference: refBBPage},
	{Thread: metricThread(48, 1.5, true), Use: "48 mm bottom bracket, drive side", Family: "bottom-bracket", Reference: refBBPage},
	{Thread: metricThread(48, 1.5, false), Use: "48 mm bottom bracket, non-drive side", Family: "bottom-bracket", Reference: refBBPage},
	{Thread: metricThread(47, 1, true), Use: "T47 bottom bracket, drive side", Family: "bottom-bracket", Reference: fromMemory("hand of T47")},
	{Thread: metricThread(47, 1, false), Use: "T47 bottom bracket, non-drive side", Family: "bottom-bracket", Reference: fromMemory("hand of T47")},

	{Thread: inchThread(1.375, 24, false), Use: "ISO freewheel", Family: "freewheel", Reference: refBSCPage},
	{Thread: inchThread(1.37, 24, false), Use: "British freewheel or fixed sprocket", Family: "freewheel", Reference: refBSCPage},
	{Thread: inchThread(1.378, 24, false), Use: "Italian freewheel or fixed sprocket", Family: "freewheel", Reference: refBSCPage},
	{Thread: metricThread(34.7, 1, false), Use: "French freewheel", Family: "freewheel", Reference: refBSCPage},
	{Thread: metricThread(30, 1, false), Use: "small metric freewheel", Family: "freewheel", Reference: refBSCPage},
	{Thread: inchThread(1.29, 24, true), Use: "fixed sprocket lockring", Family: "freewheel", Reference: refTrack},
	{Thread: mixedThread(33.5, 24, true), Use: "Italian fixed sprocket lockring", Family: "freewheel", Reference: refTrack},

	{Thread: metricThread(10, 1, false), Use: "rear derailleur in its hanger", Family: "hanger", Reference: refThreadList},

	{Thread: inchThread(5./16, 26, false), Use: "front axle, utility", Family: "axle", PitchDiaMM: 7.42, CoreMM: 6.90, Reference: refJIS},
	{Thread: inchThread(3./8, 26, false), Use: "rear axle, utility", Family: "axle", PitchDiaMM: 9.01, CoreMM: 8.49, Reference: refJIS},
	{Thread: inchThread(7./16, 26, false), Use: "rear axle, heavy", Family: "axle", PitchDiaMM: 10.59, CoreMM: 10.07, Reference: refJIS},
	{Thread: inchThread(3./8, 24, false), Use: "axle, American", Family: "axle", Reference: refAxlePage},
	{Thread: inchThread(5./16, 24, false), Use: "front axle, American", Family: "axle", Reference: refAxlePage},
	{Thread: metricThread(9, 1, false), Use: "front axle, quick release", Family: "axle", Reference: refAxlePage},
	{Thread: metricThread(10, 1, false), Use: "rear axle, quick release", Family: "axle", Reference: refAxlePage},
	{Thread: mixedThread(10, 26, false), Use: "axle, older", Family: "axle", Reference: refAxlePage},

	{Thread: mixedThread(9, 26, false), Use: "front axle, quick release, older", Family: "axle", Reference: refThreadList},
	{Thread: metricThread(8, 1, false), Use: "front axle, solid", Family: "axle", Reference: refThreadList},
	{Thread: metricThread(12, 1, false), Use: "thru-axle", Family: "thru-axle", Reference: refThruAxle},
	{Thread: metricThread(12, 1.5, false), Use: "thru-axle", Family: "thru-axle", Reference: refThruAxle},
	{Thread: metricThread(12, 1.75, false), Use: "thru-axle", Family: "thru-axle", Reference: refThruAxle},
	{Thread: metricThread(15, 1.5, false), Use: "front thru-axle", Family: "thru-axle", Reference: refThruAxle},

	{Thread: inchThread(9./16, 20, true), Use: "left pedal", Family: "pedal", Reference: refJIS},
	{Thread: inchThread(9./16, 20, false), Use: "right pedal", Family: "pedal", Reference: refJIS},
	{Thread: inchThread(1./2, 20, true), Use: "left pedal, one-piece crank", Family: "pedal", Reference: refJIS},
	{Thread: inchThread(1./2, 20, false), Use: "right pedal, one-piece crank", Family: "pedal", Reference: refJIS},

	{Thread: metricThread(14, 1.25, true), Use: "left pedal, French", Family: "pedal", Reference: refFrenchPedal},
	{Thread: metricThread(14, 1.25, false), Use: "right pedal, French", Family: "pedal", Reference: refFrenchPedal},

	{Thread: inchThread(1, 24, false), Use: "1 inch steerer", Family: "steerer", Reference: refISO8488},
	{Thread: inchThread(1.125, 26, false), Use: "1 1/8 inch steerer", Family: "steerer", Reference: fromMemory("thread of the 1 1/8 inch steerer")},

	{Thread: fg(1.8), Use: "1.6 mm spoke", Family: "spoke", Reference: refDIN79012},
	{Thread: fg(2.0), Use: "1.8 mm spoke", Family: "spoke", MajorMM: 2.096, CoreMM: 1.613, Reference: refDIN79012},
	{Thread: fg(2.3), Use: "2.0 mm spoke", Family: "spoke", MajorMM: 2.299, CoreMM: 1.816, Reference: refDIN79012},
	{Thread: fg(2.6), Use: "2.3 mm spoke", Family: "spoke", MajorMM: 2.604, CoreMM: 2.121, Reference: refDIN79012},

	{Thread: metricThread(8, 0.75, false), Use: "chainring bolt", Family: "bolt", Reference: refThreadList},
	{Thread: metricThread(8, 1, false), Use: "crank bolt, square taper", Family: "bolt", Reference: refThreadList},
	{Thread: metricThread(12, 1, false), Use: "crank bolt, some splined cranks", Family: "bolt", Reference: refThreadList},
	{Thread: metricThread(8, 1.25, false), Use: "stem bolt, crank nut", Family: "bolt", Reference: refThreadList},
	{Thread: metricThread(7, 1, false), Use: "bar binder bolt, some stems", Family: "bolt", Reference: refThreadList},
	{Thread: metricThread(4, 0.7, false), Use: "limit screw", Family: "bolt", Reference: refThreadList},
	{Thread: metricThread(4, 0.75, false), Use: "limit screw, older", Family: "bolt", Reference: refThreadList},
	{Thread: metricThread(3, 0.5, false), Use: "dropout adjusting screw", Family: "bolt", Reference: refThreadList},
	{Thread: metricThread(10, 1, false), Use: "brake lever adjuster", Family: "other", Reference: refThreadList},
	{Thread: metricThread(5, 0.8, false), Use: "disc rotor and bottle-cage bolts", Family: "other", Reference: refShopBolt},
	{Thread: metricThread(6, 1, false), Use: "disc brake mount", Family: "other", Reference: refShopBolt},
}

// fg is a rolled spoke thread: 56 turns to the inch, named by its rounded outside diameter.
func fg(mm float64) Thread {
	return Thread{DiameterMM: mm, PitchMM: Inch / 56, perInch: 56, series: "FG"}
}

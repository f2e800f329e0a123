package substitution

import "fmt"

// What is read of rims and spokes.

var (
	byRunOut   = Source{"TBIS 15194, a national adoption of 2019, 4.3.9.1 table 22: rim brakes, full indicator reading, 0.8 mm city, young adult and mountain, 0.6 mm racing", Standard}
	byRimWall  = Source{"wheellab.cc on rim wear: replaced at a wall of 1.00 mm, strength goes with the cube", TradePage}
	byBuilders = Source{"velowheels.co.uk, build tolerances: even tension on a side; the rim maker's most counts", TradePage}
)

const (
	runOutRacing = 0.6 // mm, full indicator reading
	runOutOthers = 0.8
	wallScrap    = 1.0 // mm
)

var runOut = Reading{
	Dimension: Dimension{Name: "run_out_mm", Form: Number, High: 30, Means: "run-out", Measure: "a gauge at the rim, the whole swing of a turn, sideways or up and down, the larger"},
	Judge: func(l Look) Advice {
		mm, _ := l.Figure("run_out_mm")
		a := Advice{Source: byRunOut, Words: fmt.Sprintf("%s mm in a turn; 0.8 mm are allowed, 0.6 on a racing bike", figure(mm))}
		switch {
		case mm > runOutOthers:
			a.Action = Adjust
			return l.nearLimit(a, "run_out_mm", runOutOthers)
		case mm > runOutRacing:
			a.Asks = "say adjust for a racing bike, keep for any other"
			return a
		}
		a.Action = Keep
		return l.nearLimit(a, "run_out_mm", runOutRacing)
	},
}

var rimWall = Reading{
	Dimension: Dimension{Name: "wall_mm", Form: Number, Low: 0.1, High: 6, Means: "wall of the brake track", Measure: "rim caliper, at the thinnest place of either side"},
	Fewer:     true,
	Judge: func(l Look) Advice {
		mm, _ := l.Figure("wall_mm")
		a := Advice{Action: Keep, Source: byRimWall, Words: fmt.Sprintf("walls of %s mm; at 1 mm the rim is scrap", figure(mm))}
		if mm <= wallScrap {
			a.Action, a.LookAt = Replace, []Place{"~.rim-pads"}
		}
		return l.nearLimit(a, "wall_mm", wallScrap)
	},
}

// brokenSpokes: one that broke tells of the tension all round, and its neighbours have carried its load.
var brokenSpokes = Reading{
	Dimension: count("broken", "broken spokes", 0, 60, "count them"),
	Judge: func(l Look) Advice {
		n, _ := l.Figure("broken")
		if n == 0 {
			return says(Keep, "none broken")
		}
		return says(Replace, figure(n)+" broken: read the tension all round before the wheel is trued, the neighbours have carried the load; where more break, build the wheel anew",
			"~.spokes-left", "~.spokes-right", "~.rim")
	},
}

var spokeTension = Reading{
	Dimension: word("tension", "tension", "pluck or press pairs of spokes of one side against each other, or a tension gauge", "even", "uneven", "slack"),
	Says: map[string]Advice{
		"even":   {Action: Keep, Words: "even tension", Source: byBuilders},
		"uneven": {Action: Adjust, Words: "uneven tension: even it out before the wheel is trued", Source: byBuilders, LookAt: []Place{"~.rim"}},
		"slack":  {Action: Adjust, Words: "slack: bring the tension up evenly, to no more than the rim's maker allows", Source: byBuilders, LookAt: []Place{"~.rim"}},
	},
}

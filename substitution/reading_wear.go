package substitution

import (
	"fmt"
	"slices"
	"strconv"

	"stead/substitution/standard"
)

// sprocketsAndRings are what a worn chain has worn.
var sprocketsAndRings = []Place{"rear.cassette", "rear.freewheel", "rear.sprocket", "crank.outer-ring", "crank.middle-ring", "crank.inner-ring", "crank.ring"}

var wearPercent = Reading{
	Dimension: Dimension{Name: "wear_percent", Form: Number, High: 5, Means: "wear",
		Measure: "chain gauge, or the length over 24 half-links: 304.8 mm is new, 307.1 mm is 0.75 %; gauges that push the rollers apart read too much"},
	Judge: judgeWear,
}

// judgeWear compares wear with the limit for the number of sprockets. Past it the sprockets are suspect, and past one per
// cent the rings as well.
func judgeWear(l Look) Advice {
	wear, _ := l.Figure("wear_percent")
	speeds, known := chainSpeeds(l.Build)
	limit, published := standard.ChainWearLimit(speeds)
	if !known || !published {
		return wearWithoutSpeeds(wear)
	}
	kind := strconv.Itoa(speeds) + "-speed"
	if speeds == 1 {
		kind = "single-sprocket"
	}
	a := Advice{Action: Keep, Source: byWearPage, Words: fmt.Sprintf("%s %% worn, and %s chains go at %s %%", figure(wear), kind, figure(limit.Percent))}
	if wear >= limit.Percent {
		a.Action, a.LookAt = Replace, slices.Clone(sprocketsAndRings)
		a.Words += ": try the sprockets for skipping under load with the new chain"
		if wear > 1 {
			a.Words += "; the rings will be worn too"
		}
	}
	return l.nearLimit(a, "wear_percent", limit.Percent)
}

// wearWithoutSpeeds decides only what is so for any number of sprockets: the limits lie between 0.5 and 1 per cent.
func wearWithoutSpeeds(wear float64) Advice {
	low, _ := standard.ChainWearLimit(11)
	high, _ := standard.ChainWearLimit(1)
	a := Advice{Source: byWearPage, Words: fmt.Sprintf("%s %% worn; the limit is %s to %s %% by the number of sprockets, which is not recorded",
		figure(wear), figure(low.Percent), figure(high.Percent))}
	switch {
	case wear >= high.Percent:
		a.Action, a.LookAt = Replace, slices.Clone(sprocketsAndRings)
	case wear < low.Percent:
		a.Action = Keep
	default:
		a.Asks = "record the cassette's, freewheel's or chain's speeds, or the single sprocket"
	}
	return a
}

// chainSpeeds is the number of sprockets that the chain runs on: by the sprockets themselves (one on a hub gear or a
// single sprocket), else the most that the chain is made for; an eighth-inch chain runs on one.
func chainSpeeds(b Build) (int, bool) {
	for _, place := range []Place{"rear.cassette", "rear.freewheel"} {
		if list, known := b[place].Get("speeds"); known {
			return list.ints[len(list.ints)-1], true
		}
	}
	if _, single := b["rear.sprocket"]; single {
		return 1, true
	}
	if list, known := b["chain"].Get("speeds"); known {
		return list.ints[len(list.ints)-1], true
	}
	if width, known := b["chain"].Get("chain_width"); known && width.word == "1/8" {
		return 1, true
	}
	return 0, false
}

// What published makers' limits of a rotor come to where its own mark cannot be read: scrap for all of them at 1.4 mm or
// less, in use for all of them above 1.8 mm, and in between only the mark decides.
const (
	rotorScrapMM = 1.4
	rotorKeepMM  = 1.8
)

var (
	byWearPage    = Source{"a chain wear page that cites a tool maker: 0.5 % for 11 to 13 speeds, 0.75 % for 5 to 10, 1 % for one", TradePage}
	byRotorMark   = Source{"the mark on the rotor", Catalogue}
	byRotorLimits = Source{"limits of five brake makers as published: 1.4, 1.5, 1.52, 1.55 and 1.8 mm", Catalogue}
	byPadManual   = Source{"one brake maker's manual, as a published page quotes it", TradePage}
	byBleedPage   = Source{"a published page on hydraulic brakes: pads with fluid on them are replaced, the rotor cleaned, and the leak found", Handbook}
)

var (
	trackThickness = Reading{
		Dimension: Dimension{Name: "thickness_mm", Form: Number, Low: 0.3, High: 4, Means: "thickness", Measure: "micrometer or caliper on the brake track, at the thinnest place"},
		Fewer:     true, Judge: judgeThickness,
	}
	rotorMark = Reading{Dimension: Dimension{Name: "marked_minimum_mm", Form: Number, Low: 0.3, High: 4, Means: "least thickness as marked", Measure: "read the mark on the rotor (MIN.TH)"}}
	runsOut   = fault("runs_out", "runs out of true", "turn the wheel and watch the gap to the pads",
		"runs true", says(Adjust, "runs out of true: it can be trued"))
	padLining = Reading{
		Dimension: Dimension{Name: "lining_mm", Form: Number, Low: 0, High: 8, Means: "lining", Measure: "caliper or rule on the lining alone, without its backing"},
		Fewer:     true, Judge: judgeLining,
	}
	oilyPad = Reading{
		Dimension: Dimension{Name: "contaminated", Form: Flag, Means: "oil on it", Measure: "look and feel; it howls"},
		Judge:     judgeOil,
	}
	oilyRimPad = fault("contaminated", "oil on it", "look and feel; it howls", "no oil on it", says(Clean, "oil on it: clean pad and rim of oil and grit"))
)

// judgeThickness goes by the mark on the rotor; without it, by what all published limits have in common.
func judgeThickness(l Look) Advice {
	mm, _ := l.Figure("thickness_mm")
	pads := []Place{"~.pads"}
	thick := figure(mm) + " mm thick"
	if marked, read := l.Figure("marked_minimum_mm"); read {
		a := Advice{Action: Keep, Source: byRotorMark, Words: fmt.Sprintf("%s, scrap at %s mm as it is marked", thick, figure(marked))}
		if mm <= marked {
			a.Action, a.LookAt = Replace, pads
		}
		return l.nearLimit(a, "thickness_mm", marked)
	}
	a := Advice{Source: byRotorLimits}
	switch {
	case mm <= rotorScrapMM:
		a.Action, a.LookAt = Replace, pads
		a.Words = fmt.Sprintf("%s: at %s mm every maker's rotor is scrap", thick, figure(rotorScrapMM))
		return l.nearLimit(a, "thickness_mm", rotorScrapMM)
	case mm > rotorKeepMM:
		a.Action = Keep
		a.Words = fmt.Sprintf("%s: above %s mm no maker's rotor is scrap", thick, figure(rotorKeepMM))
		return l.nearLimit(a, "thickness_mm", rotorKeepMM)
	}
	a.Words = fmt.Sprintf("%s: between %s and %s mm only the rotor's own mark decides", thick, figure(rotorScrapMM), figure(rotorKeepMM))
	a.Asks = "read the least thickness on the rotor (MIN.TH)"
	return a
}

func judgeLining(l Look) Advice {
	mm, _ := l.Figure("lining_mm")
	a := Advice{Action: Keep, Source: byPadManual, Words: fmt.Sprintf("%s mm of lining; one maker's pads are changed at %s mm, others state pad and carrier together: the brake's own manual decides",
		figure(mm), figure(standard.PadMinimumLiningMM))}
	if mm <= standard.PadMinimumLiningMM {
		a.Action, a.LookAt = Replace, []Place{"~.rotor"}
	}
	return l.nearLimit(a, "lining_mm", standard.PadMinimumLiningMM)
}

// judgeOil points from oily pads to where the oil comes from, so that new ones are not spoilt by the same leak.
func judgeOil(l Look) Advice {
	if !l.Read["contaminated"].Equal(Yes(true)) {
		return says(Keep, "no oil on it")
	}
	a := Advice{Action: Replace, Source: byBleedPage, LookAt: []Place{"~.caliper", "~.hose", "~.lever", "~.rotor"},
		Words: "oil in the lining does not come out: find where it came from before new pads go in (if the brake is hydraulic: lever, hose, caliper), and clean the rotor"}
	if worked, known := l.Build[l.end("~.caliper")].Get("actuation"); known && worked.word == "cable" {
		a.Source = byPractice
		a.Words = "oil in the lining does not come out: a cable brake has no fluid, so look for spilt chain oil or a leaking fork, and clean the rotor"
	}
	return a
}

var (
	jockeyTeeth = fault("hooked_teeth", "teeth worn to points", "look at the teeth from the side, against a new part",
		"teeth not worn to points", says(Replace, "teeth worn to points"))
	jockeyFeel = Reading{
		Dimension: feelInHouse.Dimension,
		Says: map[string]Advice{"smooth": says(Keep, "turns smoothly"), "notchy": says(Clean, "turns notchy: clean and oil its bush"),
			"rough": says(Clean, "turns rough: clean and oil its bush")},
	}
)

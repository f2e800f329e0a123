package inspection

import (
	"fmt"
	"strconv"
	"strings"

	"stead/substitution"
	"stead/substitution/standard"
)

// practice is the source of what workshops do and no published text says.
const practice = "common practice, no source"

// judges are the rules that turn readings into proposals, by family.
var judges = map[substitution.Family]func(look) Proposal{
	"chain":             judgeChain,
	"cassette":          judgeSprockets,
	"freewheel":         judgeSprockets,
	"chainring":         judgeSprockets,
	"rear-derailleur":   judgeShifting,
	"front-derailleur":  judgeShifting,
	"shifter":           judgeShifting,
	"bottom-bracket":    judgeBearingHouse,
	"hub":               judgeBearingHouse,
	"cartridge-bearing": judgeBearing,
	"headset-bearing":   judgeBearing,
	"loose-balls":       judgeBalls,
	"ball-cage":         judgeBalls,
	"disc-rotor":        judgeRotor,
	"disc-pad":          judgePad,
	"tyre":              judgeWorn,
	"rim":               judgeWorn,
	"sprocket":          judgeSprockets,
	"jockey-wheel":      judgeJockey,
	"headset":           judgeBearingHouse,
	"freehub-body":      judgeBearingHouse,
	"pedal":             judgeBearingHouse,
	"hub-cone":          judgeBalls,
	"rim-pad":           judgeRimPad,
	"cable-inner":       judgeCable,
	"cable-outer":       judgeCable,
	"axle":              judgeWorn,
	"rim-tape":          judgeWorn,
	"tube":              judgeWorn,
	"spoke":             judgeWorn,
	"nipple":            judgeWorn,
	"seatpost":          judgeWorn,
	"stem":              judgeWorn,
	"handlebar":         judgeWorn,
	"bar-tape":          judgeWorn,
	"grip":              judgeWorn,
	"bolt":              judgeWorn,
}

var sprocketsAndRings = []substitution.Place{"rear.cassette", "rear.freewheel", "crank.outer-ring", "crank.middle-ring", "crank.inner-ring", "crank.ring"}

// judgeChain compares wear with the limit for the number of speeds. Past it the sprockets are suspect, and past one per
// cent the rings as well.
func judgeChain(l look) Proposal {
	wear, read := l.number("wear_percent")
	if !read {
		if l.yes("stiff") {
			return Proposal{Action: Clean, Words: "the chain has stiff links: clean and oil it, and try again", Source: practice}
		}
		return Proposal{}
	}
	speeds, known := chainSpeeds(l.build)
	limit, known2 := standard.ChainWearLimit(speeds)
	if !known || !known2 {
		return wearWithoutSpeeds(wear)
	}
	kind := strconv.Itoa(speeds) + "-speed"
	if speeds == 1 {
		kind = "single-speed"
	}
	words := fmt.Sprintf("%s %% worn, and %s chains go at %s %%", figure(wear), kind, figure(limit.Percent))
	if wear < limit.Percent {
		return Proposal{Action: Keep, Words: words, Source: limit.Reference.String()}
	}
	words += ": try the sprockets for skipping under load with the new chain"
	if wear > 1 {
		words += "; the rings will be worn too"
	}
	return Proposal{Action: Replace, Words: words, Source: limit.Reference.String(), LookAt: append([]substitution.Place(nil), sprocketsAndRings...)}
}

// wearWithoutSpeeds decides only what is so for any number of speeds: the limits lie between 0.5 and 1 per cent.
func wearWithoutSpeeds(wear float64) Proposal {
	low, _ := standard.ChainWearLimit(11)
	high, _ := standard.ChainWearLimit(1)
	p := Proposal{Source: low.Reference.String(), Words: fmt.Sprintf("%s %% worn; the limit is %s to %s %% by the number of speeds, which is not recorded",
		figure(wear), figure(low.Percent), figure(high.Percent))}
	switch {
	case wear >= high.Percent:
		p.Action, p.LookAt = Replace, append([]substitution.Place(nil), sprocketsAndRings...)
	case wear < low.Percent:
		p.Action = Keep
	}
	return p
}

// chainSpeeds is the number of sprockets: by the sprockets themselves, else the most that the chain is made for.
func chainSpeeds(b substitution.Build) (int, bool) {
	for _, place := range []substitution.Place{"rear.cassette", "rear.freewheel", "chain"} {
		if list, known := b[place].Get("speeds"); known {
			return list.Ints()[len(list.Ints())-1], true
		}
	}
	return 0, false
}

func judgeSprockets(l look) Proposal {
	switch {
	case l.yes("skips_under_load"):
		return Proposal{Action: Replace, Words: "a chain that is not worn and skips under load has worn teeth under it", Source: practice, LookAt: []substitution.Place{"chain"}}
	case l.yes("hooked_teeth"):
		return Proposal{Action: Replace, Words: "hooked teeth hold the chain and wear the next one", Source: practice, LookAt: []substitution.Place{"chain"}}
	}
	return Proposal{Action: Keep, Words: "the chain runs over it without skipping", Source: practice}
}

func judgeShifting(l look) Proposal {
	switch {
	case l.yes("damaged"):
		return Proposal{Action: Replace, Words: "damaged", Source: practice}
	case l.word("shifting") == "slow" || l.word("shifting") == "misses":
		return Proposal{Action: Adjust, Words: "shifting is set by cable and stops first; look at hanger, cable and housing before any part", Source: practice}
	}
	return Proposal{Action: Keep, Words: "shifts as it should", Source: practice}
}

// judgeBearingHouse judges what has bearings in it, a hub, headset, bottom bracket or pedal: what turns roughly is opened and looked at, and is not sold for it.
// A bottom bracket that has no balls on record is one closed unit.
func judgeBearingHouse(l look) Proposal {
	inside := bearingsIn(l.build, l.place)
	switch {
	case l.word("feel") == "rough" || l.word("feel") == "notchy":
		if l.place == "bottom-bracket" && len(inside) == 0 {
			return Proposal{Action: Replace, Words: "turns " + l.word("feel") + ": a closed unit cannot be opened", Source: practice}
		}
		return Proposal{Action: Clean, Words: "turns " + l.word("feel") + ": open it; pitted races and cones decide what else is wanted", Source: practice, LookAt: inside}
	case l.word("play") == "slight" || l.word("play") == "marked":
		return Proposal{Action: Adjust, Words: l.word("play") + " play and turns smoothly: adjusting takes it out", Source: practice}
	}
	return Proposal{Action: Keep, Words: "turns smoothly without play", Source: practice}
}

// judgeBearing judges one bearing that is changed whole.
func judgeBearing(l look) Proposal {
	switch {
	case l.word("feel") == "rough" || l.word("feel") == "notchy":
		return Proposal{Action: Replace, Words: "turns " + l.word("feel") + ": its races are marked", Source: practice}
	case l.word("play") == "slight" || l.word("play") == "marked":
		return Proposal{Action: Adjust, Words: l.word("play") + " play and turns smoothly: take it out by the preload first", Source: practice}
	}
	return Proposal{Action: Keep, Words: "turns smoothly without play", Source: practice}
}

func judgeBalls(l look) Proposal {
	if _, looked := l.readings["pitted"]; !looked {
		return Proposal{}
	}
	if l.yes("pitted") {
		return Proposal{Action: Replace, Words: "pitted: all balls of the race are changed together", Source: "Sheldon Brown: mixed balls do not share the load"}
	}
	return Proposal{Action: Keep, Words: "no pits to be seen", Source: practice}
}

// judgeRotor goes by the mark on the rotor, else by a published maker's limit.
func judgeRotor(l look) Proposal {
	if mm, read := l.number("thickness_mm"); read {
		least, source := standard.RotorMinimumThickness.MM, standard.RotorMinimumThickness.Reference.String()
		if marked, onRotor := l.number("marked_minimum_mm"); onRotor {
			least, source = marked, "the mark on the rotor"
		}
		words := fmt.Sprintf("%s mm thick, scrap at %s mm", figure(mm), figure(least))
		if mm <= least {
			end, _, _ := strings.Cut(string(l.place), ".")
			return Proposal{Action: Replace, Words: words, Source: source, LookAt: []substitution.Place{substitution.Place(end + ".pads")}}
		}
		if !l.yes("runs_out") {
			return Proposal{Action: Keep, Words: words, Source: source}
		}
	}
	if l.yes("runs_out") {
		return Proposal{Action: Adjust, Words: "runs out of true: it can be trued", Source: practice}
	}
	return Proposal{}
}

func judgePad(l look) Proposal {
	if l.yes("contaminated") {
		return Proposal{Action: Replace, Words: "oil in the lining does not come out", Source: practice}
	}
	mm, read := l.number("lining_mm")
	if !read {
		return Proposal{}
	}
	words := fmt.Sprintf("%s mm of lining, to be changed at %s mm", figure(mm), figure(standard.PadMinimumLiningMM))
	const source = "one brake maker's manual, as a published page quotes it"
	if mm <= standard.PadMinimumLiningMM {
		end, _, _ := strings.Cut(string(l.place), ".")
		return Proposal{Action: Replace, Words: words, Source: source, LookAt: []substitution.Place{substitution.Place(end + ".rotor")}}
	}
	return Proposal{Action: Keep, Words: words, Source: source}
}

func judgeWorn(l look) Proposal {
	switch {
	case l.yes("damaged"):
		return Proposal{Action: Replace, Words: "damaged", Source: practice}
	case l.yes("worn_to_mark"):
		return Proposal{Action: Replace, Words: "worn to its mark", Source: "the maker's wear mark"}
	}
	return Proposal{Action: Keep, Words: "sound", Source: practice}
}

func judgeJockey(l look) Proposal {
	switch {
	case l.yes("hooked_teeth"):
		return Proposal{Action: Replace, Words: "teeth worn to points", Source: practice}
	case l.word("feel") == "rough" || l.word("feel") == "notchy":
		return Proposal{Action: Clean, Words: "turns " + l.word("feel") + ": clean and oil its bush", Source: practice}
	}
	return Proposal{Action: Keep, Words: "sound", Source: practice}
}

func judgeRimPad(l look) Proposal {
	switch {
	case l.yes("worn_to_mark"):
		return Proposal{Action: Replace, Words: "worn to its mark", Source: "the maker's wear mark"}
	case l.yes("contaminated"):
		return Proposal{Action: Clean, Words: "clean pad and rim of oil and grit", Source: practice}
	}
	return Proposal{Action: Keep, Words: "pad left over its mark", Source: practice}
}

// judgeCable judges cable and housing. A cable that runs stiffly is first taken out, cleaned and greased.
func judgeCable(l look) Proposal {
	switch {
	case l.yes("frayed") || l.yes("damaged"):
		return Proposal{Action: Replace, Words: "frayed or damaged: it breaks where it frays", Source: practice}
	case l.yes("stiff"):
		return Proposal{Action: Clean, Words: "runs stiffly: draw it, clean and grease it, and try again", Source: practice}
	}
	return Proposal{Action: Keep, Words: "runs freely", Source: practice}
}

func figure(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

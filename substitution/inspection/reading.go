package inspection

import (
	"stead/substitution"
)

// The readings, each with its unit in its name, its bounds and how it is taken.
var (
	wearPercent = number("wear_percent", "wear", 0, 5, "chain gauge, or the length over 24 half-links: 304.8 mm is new, 307.1 mm is 0.75 %; gauges that push the rollers apart read too much")
	skips       = flag("skips_under_load", "skips under load", "ride or load the cranks in the worn gear")
	hooked      = flag("hooked_teeth", "hooked teeth", "look at the teeth from the side, against a new part")
	thickness   = number("thickness_mm", "thickness", 0.3, 4, "micrometer or caliper on the brake track, at the thinnest place")
	leastMarked = number("marked_minimum_mm", "least thickness as marked", 0.3, 4, "read the mark on the rotor (MIN.TH)")
	bent        = flag("runs_out", "runs out of true", "turn the wheel and watch the gap to the pads")
	lining      = number("lining_mm", "lining", 0, 8, "caliper or rule on the lining alone, without its backing")
	oily        = flag("contaminated", "oil on it", "look and feel; it howls")
	feel        = word("feel", "feel", "turn it slowly between the fingers, wheel or fork free", "smooth", "notchy", "rough")
	play        = word("play", "play", "rock it against its bearing", "none", "slight", "marked")
	pitted      = flag("pitted", "pitted", "look at balls, cups and cones under a lamp")
	ballsFound  = substitution.Dimension{Name: "balls", Form: substitution.Int, Low: 1, High: 60, Means: "balls found", Measure: "count the balls that come out"}
	damaged     = flag("damaged", "damaged", "look for cuts, cracks, bulges or fabric showing")
	worn        = flag("worn_to_mark", "worn to its mark", "look at the wear mark or groove")
	shifts      = word("shifting", "shifting", "run through the gears on the stand", "good", "slow", "misses")
	frayed      = flag("frayed", "frayed", "look at both ends, where the strands show")
	stiff       = flag("stiff", "runs stiffly", "pull it by hand with the brake or gear let loose")
)

func number(name, means string, low, high float64, measure string) substitution.Dimension {
	return substitution.Dimension{Name: name, Form: substitution.Number, Low: low, High: high, Means: means, Measure: measure}
}

func flag(name, means, measure string) substitution.Dimension {
	return substitution.Dimension{Name: name, Form: substitution.Flag, Means: means, Measure: measure}
}

func word(name, means, measure string, words ...string) substitution.Dimension {
	return substitution.Dimension{Name: name, Form: substitution.Word, Words: words, Means: means, Measure: measure}
}

var readings = map[substitution.Family][]substitution.Dimension{
	"chain":             {wearPercent, stiff},
	"cassette":          {skips, hooked},
	"freewheel":         {skips, hooked},
	"chainring":         {skips, hooked},
	"rear-derailleur":   {shifts, damaged},
	"front-derailleur":  {shifts, damaged},
	"shifter":           {shifts, damaged},
	"bottom-bracket":    {feel, play},
	"hub":               {feel, play},
	"cartridge-bearing": {feel, play},
	"headset-bearing":   {feel, play},
	"loose-balls":       {pitted, ballsFound},
	"ball-cage":         {pitted, ballsFound},
	"disc-rotor":        {thickness, leastMarked, bent},
	"disc-pad":          {lining, oily},
	"tyre":              {damaged, worn},
	"rim":               {damaged, worn},
	"sprocket":          {skips, hooked},
	"jockey-wheel":      {hooked, feel},
	"headset":           {feel, play},
	"freehub-body":      {feel, play},
	"hub-cone":          {pitted},
	"axle":              {damaged},
	"rim-pad":           {worn, oily},
	"cable-inner":       {frayed, stiff},
	"cable-outer":       {damaged, stiff},
	"rim-tape":          {damaged},
	"tube":              {damaged},
	"spoke":             {damaged},
	"nipple":            {damaged},
	"seatpost":          {damaged},
	"stem":              {damaged},
	"handlebar":         {damaged},
	"bar-tape":          {damaged},
	"grip":              {damaged},
	"pedal":             {feel, play},
	"bolt":              {damaged},
}

// ReadingsOf are the readings that can be taken of a part of the family; none for most.
func ReadingsOf(family substitution.Family) []substitution.Dimension { return readings[family] }

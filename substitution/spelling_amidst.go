package substitution

import (
	"regexp"
	"slices"
	"strings"

	"stead/substitution/standard"
)

// A word seldom stands alone: "24 mm hollow axle", "presta valve", "JIS sq. taper", "resin (organic)". What stands about it
// is the dimension's own name, or says the same again.

// about are words that add nothing to a dimension's word, by dimension; what its name and its meaning say needs no listing.
var about = map[string][]string{
	"spindle_interface": {"hollow", "axle", "spindle", "external", "through", "crank", "crankset", "drive"},
	"freehub":           {"body", "driver", "spline", "splines", "splined", "freehub", "cassette", "type"},
	"rotor_mount":       {"disc", "disk", "rotor", "iso", "is", "bcd", "44", "44mm"},
	"shell":             {"thread", "threaded", "bb", "cup", "cups", "type", "tpi", "frame"},
	"seal":              {"seals", "sealed", "shields", "both", "sides", "double"},
	"kind":              {"post", "seatpost", "stem", "headset", "steerer", "type", "brake", "axle", "style"},
	"axle":              {"dropout", "dropouts", "skewer"},
	"brake_mount":       {"mount", "mounts", "tab", "tabs", "brake", "brakes", "bosses", "studs", "stud", "bolt", "pivot"},
	"mount":             {"mount", "tab", "tabs", "bosses", "clamp", "type", "brake", "brakes", "reach"},
	"pull":              {"cable", "lever", "brake", "brakes", "type"},
	"actuation":         {"actuated", "disc", "brake", "operated", "pull"},
	"fluid":             {"fluid", "brake"},
	"pad_fixing":        {"pad", "pads", "m6", "type", "bolt"},
	"compound":          {"pad", "pads", "lining", "compound", "metal"},
	"pads":              {"pad", "pads"},
	"valve":             {"valve", "type"},
	"position":          {"ring", "wheel", "hub", "chainring", "headset", "bearing", "race", "cup"},
	"side":              {"side", "pedal", "lever", "shifter", "thread", "threaded"},
	"head":              {"spoke", "spokes", "head"},
	"rails":             {"rail", "rails", "saddle", "mm"},
	"shape":             {"bar", "bars", "handlebar", "lever"},
	"cleat":             {"cleat", "cleats", "pedal", "spd-type", "road", "mtb"},
	"cage":              {"cage"},
	"cable_pull":        {"pull", "cable"},
	"swing":             {"swing"},
	"nipple":            {"nipple", "head", "end", "shaped", "brake", "cable"},
	"use":               {"cable", "cables", "inner", "outer", "housing", "wire", "line"},
	"purpose":           {"tyre", "tubeless", "puncture", "repair", "kit", "lube", "grease", "paste", "wheel", "disc", "cleaner", "fluid", "spray"},
	"strength":          {"class", "grade", "cl", "stainless", "steel"},
	"hanger":            {"hanger", "frame", "derailleur", "mount"},
	"roller":            {"roller", "rollers", "size"},
	"bolt_pattern":      {"4", "5", "arm", "bolt", "bolts", "angles", "spider", "holes"},
	"nlgi":              {"grade", "no"},
	"pull_family":       {"family", "ratio", "shifter", "shifting"},
	"preload":           {"plug", "nut"},
	"steerer_material":  {"steerer", "full"},
	"material":          {"alloy"},
	"pedal_thread":      {"tpi", "in", "inch"},
	"lockring_thread":   {"tpi", "lh", "left", "hand"},
}

// forRotor is a mount with the rotor that it is made for behind it, "PM160", which the rotor's own limits say; 74 are the
// millimetres between the bolts of a post mount.
var forRotor = regexp.MustCompile(`^(.*[a-z]) ?(74|140|160|180|200|203)( ?mm)?$`)

var wordBreak = regexp.MustCompile(`[\s(),;:-]+`)

// amidst finds the word of the list among words that say nothing more, or that say the same: each half of "organic/resin" is
// the organic one. A word that is neither makes the text unread.
func (d Dimension) amidst(text string) (string, bool) {
	plain := standard.Plain(text)
	if word, ok := d.sameTwice(plain); ok {
		return word, true
	}
	if strings.HasSuffix(d.Name, "mount") {
		plain = forRotor.ReplaceAllString(plain, "$1")
	}
	said := strings.Fields(strings.ReplaceAll(d.Name, "_", " ") + " " + d.Means)
	var left []string
	for _, w := range wordBreak.Split(plain, -1) {
		w = strings.TrimRight(w, ".")
		if w != "" && !slices.Contains(about[d.Name], w) && !slices.Contains(said, w) {
			left = append(left, w)
		}
	}
	bare := strings.Join(left, " ")
	if bare == "" {
		return "", false
	}
	if word, ok := d.sameTwice(strings.Join(left, "/")); ok {
		return word, true
	}
	return d.inList(spelling(bare))
}

// sameTwice reads a word that is given with another word for it: "resin (organic)", "dunlop/woods".
func (d Dimension) sameTwice(plain string) (string, bool) {
	pieces := strings.FieldsFunc(plain, func(r rune) bool { return strings.ContainsRune("/()=,", r) })
	if len(pieces) < 2 {
		return "", false
	}
	found := ""
	for _, piece := range pieces {
		word, ok := d.inList(spelling(piece))
		if !ok || found != "" && word != found {
			return "", false
		}
		found = word
	}
	return found, true
}

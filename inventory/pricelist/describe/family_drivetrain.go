package describe

import (
	"slices"
	"strings"

	"stead/substitution"
	"stead/substitution/standard"
)

// circles are the bolt circles that rings and cranks are made with, from the table of them.
func circles() string {
	var all []string
	for _, c := range standard.BoltCircles() {
		all = append(all, trim(c.BCDMM))
	}
	slices.Sort(all)
	return strings.Join(slices.Compact(all), "|")
}

// bareCircles are those that a figure without unit or label may mean, beside a ring's teeth.
const bareCircles = "64|74|86|94|96|104|110|112|122|128|130|135|144"

func drivetrainGrammars() map[substitution.Family]*grammar {
	return map[substitution.Family]*grammar{
		"chain": {
			also:  []reader{readChainWidth, readSpeeds},
			words: "speeds chain_width roller",
			slots: []slot{
				{dim: "links", labels: "links", units: "links none", within: "72..200", joined: "80..140"},
			},
		},
		"chain-joiner": {also: []reader{readChainWidth, readSpeeds}, words: "speeds chain_width roller"},
		"cassette": {
			also:  []reader{readSpeeds, readSprocketList},
			words: "speeds freehub lockring roller",
			slots: sprocketSlots,
			forms: []string{"teeth_min ~ teeth_max", "teeth_min / teeth_max", "teeth_min x teeth_max"},
		},
		"freewheel": {
			also:  []reader{readThread("thread", inchThreads), readSpeeds, readSprocketList, readOneSprocket},
			words: "speeds thread",
			slots: sprocketSlots,
			forms: []string{"teeth_min ~ teeth_max", "teeth_min / teeth_max", "teeth_min x teeth_max"},
		},
		"sprocket": {
			also:  []reader{readThread("fixing", inchThreads), readChainWidth},
			words: "fixing chain_width",
			slots: []slot{{dim: "teeth", labels: "teeth", units: "teeth none", within: "9..36", joined: "11..24"}},
		},
		"freehub-body": {also: []reader{doubtBodyLength}, words: "freehub"},
		"chainring": {
			also:  []reader{readSpeeds, readPairsWith, readChainWidth},
			words: "position bolt_pattern speeds chain_width roller",
			slots: []slot{
				{dim: "teeth", labels: "teeth", units: "teeth none", within: "20..62", joined: "26..60"},
				{dim: "bcd_mm", labels: "bcd", units: "mm none", within: circles(), alone: circles(), bare: bareCircles},
				{dim: "bolts", labels: "bolts", units: "bolts holes none", within: "3..8"},
				{dim: "offset_mm", labels: "offset", units: "mm none", within: "-12..12", alone: "never"},
			},
			forms: []string{"bcd_mm / bolts"},
		},
		"chainring-bolt": {
			also:  []reader{readThread("thread", metricThreads), readSetOf("bolts")},
			words: "thread",
			slots: []slot{
				{dim: "length_mm", labels: "length", units: "mm none", within: "3..25", bare: "5.5|6.5|7.5|8.5", joined: "4..20"},
				{dim: "bolts", labels: "set", units: "bolts none", within: "4|5|8|10", alone: "4|5|8"},
			},
		},
		"crankset": {
			also:  []reader{readSpeeds},
			words: "spindle_interface speeds bolt_pattern roller",
			slots: []slot{
				{dim: "teeth_outer", labels: "teeth rings", units: "teeth none", within: "22..62", joined: "22..62"},
				{dim: "teeth_middle", units: "none teeth", within: "20..54", alone: "never"},
				{dim: "teeth_inner", units: "none teeth", within: "18..46", alone: "never"},
				{dim: "bcd_mm", labels: "bcd", units: "mm none", within: circles(), alone: "94|104|110|130|135|144", joined: "104|110|130|144"},
				{dim: "bcd_inner_mm", units: "mm none", within: "56|58|64|74|80", alone: "never"},
				{dim: "arm_mm", labels: "arm length", units: "mm none cm", within: "125..200", alone: "140..185", joined: "150|152|155|160|165|167.5|170|172.5|175|177.5|180", bare: "165|167.5|170|172.5|175"},
				{dim: "spindle_interface", labels: "spindle", units: "mm none", within: "19|24|30", alone: "24|30", word: "mm"},
				{dim: "chainline_mm", labels: "chainline", units: "mm none", within: "35..65", alone: "never"},
				{dim: "bolts", labels: "bolts", units: "bolts holes", within: "3..8"},
			},
			forms: []string{
				"[bcd] bcd_mm / bcd_inner_mm", "bcd_mm / bcd_inner_mm [bcd]",
				"teeth_outer / teeth_middle / teeth_inner", "teeth_outer - teeth_middle - teeth_inner", "teeth_outer x teeth_middle x teeth_inner",
				"teeth_outer / teeth_inner", "teeth_outer - teeth_inner", "teeth_outer x teeth_inner",
			},
		},
		"rear-derailleur": {
			also:  []reader{readPullRatio, readSpeeds},
			words: "cage speeds mount",
			slots: []slot{
				{dim: "teeth_max", labels: "largest", units: "teeth none", within: "21..54", alone: "23..54"},
				{dim: "capacity", labels: "capacity", units: "teeth none", within: "20..55", alone: "never"},
			},
		},
		"front-derailleur": {
			also:  []reader{readSpeeds},
			words: "mount swing cable_pull speeds",
			slots: []slot{
				{dim: "clamp_mm", labels: "clamp diameter", units: "mm none", within: "28.6|31.8|34.9|35", bare: "28.6|31.8|34.9"},
				{dim: "capacity", labels: "capacity", units: "teeth none", within: "8..28", alone: "never"},
				{dim: "teeth_outer", labels: "maxring", units: "teeth none", within: "32..60", alone: "38..60"},
			},
		},
		"shifter": {also: []reader{readPullRatio, readSpeeds}, words: "side speeds kind"},
		"jockey-wheel": {
			also:  []reader{readSpeeds},
			words: "speeds",
			slots: []slot{
				{dim: "teeth", labels: "teeth", units: "teeth none", within: "9..20", joined: "10..16"},
				{dim: "bore_mm", labels: "bore", units: "mm none", within: "3..12", alone: "never"},
				{dim: "width_mm", labels: "width height thickness", units: "mm none", within: "4..15", alone: "never"},
			},
		},
	}
}

// sprocketSlots are a cassette's or freewheel's smallest and largest sprocket.
var sprocketSlots = []slot{
	{dim: "teeth_min", labels: "smallest", units: "teeth none", within: "9..18", alone: "never"},
	{dim: "teeth_max", labels: "largest", units: "teeth none", within: "18..54", alone: "never"},
}

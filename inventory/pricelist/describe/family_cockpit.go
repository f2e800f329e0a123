package describe

import "stead/substitution"

func cockpitGrammars() map[substitution.Family]*grammar {
	fluid := []slot{
		{dim: "volume_ml", labels: "volume", units: "ml litre none", within: "1..210000", alone: "2..210000"},
		{dim: "mass_g", labels: "mass", units: "gram kilo none", within: "1..200000", alone: "2..200000"},
	}
	return map[substitution.Family]*grammar{
		"seatpost": {
			words: "kind rails setback_mm",
			slots: []slot{
				{dim: "setback_mm", labels: "setback", units: "mm none", within: "0..60", alone: "never"},
				{dim: "diameter_mm", labels: "diameter", units: "mm none", within: "20..36", alone: "21..35.5", bare: "25|25.4|26|26.2|26.4|26.6|26.8|27|27.0|27.2|28.6|29.8|30.0|30.4|30.8|30.9|31.6|34.9", joined: "22..35"},
				{dim: "length_mm", labels: "length", units: "mm cm none", within: "100..600", alone: "150..600", joined: "200..500"},
			},
			forms: []string{"diameter_mm x length_mm", "diameter_mm / length_mm", "diameter_mm - length_mm"},
		},
		"stem": {
			also:  []reader{readSteerer, readEitherWay, readQuill, readSteererAndBar},
			words: "kind",
			slots: []slot{
				{dim: "clamp_mm", labels: "clamp diameter", units: "mm none", within: "22.2|25|25.4|25.8|26|26.0|26.4|31.7|31.8|35|35.0", alone: "25.4|26|26.0|31.8|35", bare: "25.4|26.0|31.8", joined: "25.4|26.0|31.8|35"},
				{dim: "steerer_mm", labels: "steerer", units: "mm none", within: "25.4|28.6|31.8|38.1", alone: "28.6", bare: "28.6"},
				{dim: "quill_mm", labels: "quill shaft", units: "mm none", within: "21.1|22|22.0|22.2|25.4|28.6", alone: "22.2", bare: "22.2"},
				{dim: "length_mm", labels: "length extension", units: "mm cm none", within: "20..180", alone: "40..150", joined: "40..150"},
				{dim: "angle_deg", labels: "angle", units: "degree none", within: "-45..60", alone: "-45..60"},
			},
			forms: []string{"quill_mm / clamp_mm", "quill_mm x clamp_mm", "clamp_mm x length_mm", "length_mm x clamp_mm", "clamp_mm / length_mm"},
		},
		"handlebar": {
			words: "shape",
			slots: []slot{
				{dim: "rise_mm", labels: "rise", units: "mm inch none", within: "-60..200", alone: "never"},
				{dim: "reach_mm", labels: "barreach", units: "mm none", within: "40..160", alone: "never"},
				{dim: "drop_mm", labels: "bardrop", units: "mm none", within: "60..200", alone: "never"},
				{dim: "clamp_mm", labels: "clamp diameter", units: "mm none", within: "22.2|25|25.4|25.8|26|26.0|31.7|31.8|35|35.0", alone: "25.4|26|26.0|31.8|35", bare: "25.4|26.0|31.8", joined: "25.4|26.0|31.8|35"},
				{dim: "width_mm", labels: "width length", units: "mm cm none", within: "340..850", joined: "360..820", bare: "380|400|420|440|460"},
			},
			forms: []string{"clamp_mm x width_mm", "width_mm x clamp_mm"},
		},
		"bar-tape": {slots: []slot{
			{dim: "length_mm", labels: "length", units: "mm cm metre none", within: "900..3500"},
			{dim: "width_mm", labels: "width", units: "mm cm none", within: "20..45", alone: "25..40"},
		}},
		"grip": {
			slots: []slot{
				{dim: "bore_mm", labels: "bore clamp", units: "mm none", within: "22|22.0|22.2|23.8|25.4", alone: "22.2"},
				{dim: "length_mm", labels: "length", units: "mm none", within: "70..180", bare: "92|95|120|125|128|130|135|138|140", joined: "85..150"},
				{dim: "width_mm", labels: "width", units: "mm none", within: "20..60", alone: "never"},
			},
			forms: []string{"bore_mm x length_mm"},
		},
		"pedal":  {also: []reader{readPedalThread, readCleat}, words: "side cleat"},
		"grease": {unfinished: true, also: []reader{readNLGI}, words: "purpose thickener", slots: fluid},
		"lubricant": {
			unfinished: true, also: []reader{readNLGI}, words: "purpose thickener fluid", slots: fluid,
		},
		"cleaner": {unfinished: true, words: "purpose", slots: fluid},
		"bolt": {
			also:  []reader{readThread("thread", metricThreads), passOthersSize},
			words: "strength",
			slots: []slot{{dim: "length_mm", labels: "length", units: "mm none", within: "4..200", joined: "5..150"}},
		},
		"consumable": {words: "fluid"},
	}
}

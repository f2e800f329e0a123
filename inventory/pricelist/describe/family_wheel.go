package describe

import "stead/substitution"

func wheelGrammars() map[substitution.Family]*grammar {
	return map[substitution.Family]*grammar{
		"hub": {
			also:  []reader{readThruAxle, doubtBodyLength},
			words: "axle freehub rotor_mount position head",
			slots: []slot{
				{dim: "holes", labels: "holes", units: "holes teeth none", within: "12..48", alone: "16..48", joined: "20|24|28|32|36|40"}, // French holes are "32T"
				{dim: "oln_mm", labels: "oln", units: "mm none", within: "74..200", alone: "74|91|93|96|100|110|114|120|126|130|132|135|140|141|142|145|148|150|157|170|177|190|197", bare: "100|120|126|130|135", joined: "100|110|120|126|130|135|142|148"},
			},
		},
		"hub-cone": {
			also:  []reader{readThread("thread", axleThreads)},
			words: "position",
			slots: []slot{{dim: "length_mm", labels: "length", units: "mm none", within: "6..35", joined: "8..30"}},
		},
		"axle": {
			also:  []reader{readThread("thread", axleThreads), readThruAxle},
			words: "position kind",
			slots: []slot{
				{dim: "length_mm", labels: "length", units: "mm cm none", within: "80..260", bare: "160|165|170|172|174|175|178|180|182|185|188", joined: "90..230"},
				{dim: "diameter_mm", labels: "diameter", units: "mm none", within: "7..20", alone: "8|9|10|12|14|15|20"},
			},
			forms: []string{"diameter_mm x length_mm"},
		},
		"tyre": {
			also:  []reader{readTyre},
			words: "tubeless tubular",
			slots: []slot{
				{dim: "width_mm", labels: "width", units: "mm none inch", within: "16..130", alone: "never"},
			},
		},
		"tube": {
			also:  []reader{readTube},
			words: "valve",
			slots: []slot{
				{dim: "valve_mm", labels: "valve", units: "mm none", within: "25..120", alone: "27|30|32|33|34|35|36|38|40|42|45|46|48|50|51|52|60|65|70|72|75|80|85|100"},
			},
		},
		"rim": {
			also:  []reader{readRim},
			words: "hookless brake_track tubular",
			slots: []slot{
				{dim: "valve_hole_mm", labels: "valvehole", units: "mm none", within: "5..12", alone: "never"},
				{dim: "depth_mm", labels: "depth", units: "mm none", within: "5..110", alone: "never"},
				{dim: "holes", labels: "holes", units: "holes teeth none", within: "12..48", alone: "16..48", joined: "20|24|28|32|36"},
				{dim: "inner_width_mm", labels: "inner", units: "mm none c", within: "11..60", alone: "never"},
				{dim: "erd_mm", labels: "erd", units: "mm none", within: "150..640", alone: "never"},
			},
		},
		"rim-tape": {
			also:  []reader{readRimTape},
			words: "tubeless",
			slots: []slot{
				{dim: "width_mm", labels: "width", units: "mm none", within: "9..80", alone: "10..60", joined: "10..40"},
			},
		},
		"spoke": {
			also:  []reader{readSpokeWire, readThread("thread", spokeThreads)},
			words: "butted head",
			slots: []slot{
				{dim: "length_mm", labels: "length", units: "mm cm none", within: "70..330", alone: "100..330", bare: "150..315", joined: "100..330"},
				{dim: "gauge_mm", labels: "gauge diameter", units: "mm none", within: "1.4..3", alone: "1.5|1.6|1.8|2.0|2.3|2.34|2.6", bare: "1.8|2.0|2.3"},
			},
			forms: []string{"gauge_mm x length_mm", "gauge_mm - length_mm"},
		},
		"nipple": {
			also: []reader{readThread("thread", spokeThreads), readNippleWire},
			slots: []slot{
				{dim: "length_mm", labels: "length", units: "mm none", within: "10..20", joined: "12|14|16"},
			},
			forms: []string{"#1.8|2|2.0|2.3 x length_mm"},
		},
	}
}

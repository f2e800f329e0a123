package describe

import "stead/substitution"

func brakeGrammars() map[substitution.Family]*grammar {
	return map[substitution.Family]*grammar{
		"disc-rotor": {
			also:  []reader{readSixHoles, readRotorThickness},
			words: "rotor_mount pads",
			slots: []slot{
				{dim: "rotor_mm", labels: "diameter", units: "mm none", within: "120..230", alone: "140|160|170|180|183|185|190|200|203|205|220|223", bare: "140|160|180|203|220"},
				{dim: "thickness_mm", labels: "thickness", units: "mm none", within: "1.4..2.6", alone: "1.5..2.5", joined: "1.8|1.85|2.0|2.3"},
			},
		},
		"disc-pad": {also: []reader{readShape}, words: "compound"},
		"rim-pad": {
			words: "pad_fixing rim_material",
			slots: []slot{{dim: "length_mm", labels: "length", units: "mm none", within: "30..80", joined: "45..75"}},
		},
		"brake-caliper": {
			also:  []reader{readReach, readShape},
			words: "mount pull actuation fluid hose kind pistons",
			slots: []slot{{dim: "pistons", labels: "pistons", units: "none", within: "1|2|4|6|8", alone: "never"}},
		},
		"brake-lever": {
			words: "actuation pull fluid shape side",
			slots: []slot{{dim: "bore_mm", labels: "clamp", units: "mm none", within: "18..30", alone: "22.2|23.8|24|26|26.2"}},
		},
		"cable-inner": {
			words: "use nipple by_metre",
			slots: cableSlots("1..2", "1.1|1.2|1.3|1.5|1.6|1.8|2", "300..250000"),
			forms: []string{"diameter_mm x length_mm", "diameter_mm - length_mm", "diameter_mm / length_mm"},
		},
		"cable-outer": {
			words: "use by_metre",
			slots: cableSlots("3..6", "4|4.2|4.5|5|5.1|6", "300..250000"),
			forms: []string{"diameter_mm x length_mm", "diameter_mm - length_mm", "diameter_mm / length_mm"},
		},
	}
}

// readSixHoles reads a rotor's mount from its holes: "6L", "6 trous".
func readSixHoles(r *reading) {
	for i := range r.items {
		if it := &r.items[i]; r.isFigure(i) && it.value == 6 && it.unit&(holes|bolts) != 0 {
			r.give("rotor_mount", substitution.Text("6-bolt"), plain, i, i+1)
		}
	}
}

// readRotorThickness reads a rotor's thickness without a unit where it has decimals, as it is written: "1.8", "2,0".
func readRotorThickness(r *reading) {
	at := -1
	for i := range r.items {
		if it := &r.items[i]; r.isFigure(i) && it.unit == none && it.decimals > 0 && it.value >= 1.5 && it.value <= 2.3 && !r.isJoint(i+1, "x/-") {
			if at >= 0 {
				return
			}
			at = i
		}
	}
	if at >= 0 {
		r.give("thickness_mm", substitution.Num(r.items[at].value), bare, at, at+1)
	}
}

func cableSlots(diameters, usual, lengths string) []slot {
	return []slot{
		{dim: "diameter_mm", labels: "diameter", units: "mm none", within: diameters, alone: usual, joined: usual},
		{dim: "length_mm", labels: "length", units: "mm cm metre foot none", within: lengths, bare: "1500|1600|1700|1800|2000|2100|2200|2500|3000|3500", joined: "1000..3000"},
	}
}

package describe

import (
	"slices"

	"stead/substitution"
)

// What holds wheels, saddle and fork, and the parts of headset, crank and hydraulic brake that are sold one by one.
func fittingGrammars() map[substitution.Family]*grammar {
	steerer := slot{dim: "steerer_mm", labels: "steerer", units: "mm none", within: "25.4|28.6|31.8|38.1", alone: "25.4|28.6|31.8", bare: "28.6"}
	return map[substitution.Family]*grammar{
		"hanger": {
			also:  []reader{readThread("axle_thread", metricThreads)},
			words: "derailleur_side",
			slots: []slot{{dim: "holes", labels: "holes bolts", units: "holes bolts none", within: "1..4", alone: "1..4"}},
		},
		"skewer": {
			also:  []reader{readThread("thread", metricThreads)},
			words: "position kind",
			slots: []slot{{dim: "oln_mm", labels: "oln", units: "mm none", within: "74..200", alone: "74|100|110|120|126|130|135|141|145|170|190", bare: "100|130|135"}},
		},
		"thru-axle": {
			also:  []reader{readPitchApart, readThread("thread", metricThreads)},
			words: "position head",
			slots: []slot{
				{dim: "length_mm", labels: "length", units: "mm none", within: "90..260", alone: "105..260", bare: "160|163|164|165|166|167|168|169|170|171|172|173|174|175|176|178|180|182|184|185|188|192|195|200", joined: "105..260"},
				{dim: "diameter_mm", labels: "diameter", units: "mm none", within: "8..26", alone: "9|10|12|15|20", joined: "12|15|20"},
			},
			// The second figure of "15x100" is the hub's width, and no length of the axle.
			forms: []string{"diameter_mm x #74|100|110|135|141|142|148|150|157|177|190|197", "diameter_mm x length_mm"},
		},
		"axle-nut": {also: []reader{readThread("thread", axleThreads)}, words: "kind"},
		"saddle": {
			words: "rails cover",
			slots: []slot{
				{dim: "width_mm", labels: "width", units: "mm cm none", within: "100..320", alone: "120..230", joined: "125..220"},
				{dim: "length_mm", labels: "length", units: "mm cm none", within: "150..400", alone: "235..330", joined: "235..330"},
			},
			forms: []string{"length_mm x width_mm", "width_mm x length_mm"},
		},
		"seat-clamp": {
			words: "kind",
			slots: []slot{{dim: "diameter_mm", labels: "diameter clamp", units: "mm none", within: "25..50", alone: "28.6|29.8|30|30.0|31.8|34.9|35|36.4|38|39.8|40", bare: "28.6|29.8|31.8|34.9|36.4|38.6|39.8"}},
		},
		"crown-race": {
			words: "split",
			slots: []slot{
				{dim: "crown_mm", labels: "crown", units: "mm none", within: "25..60", alone: "26.4|27|27.0|30|30.0|33|39.8|40|52", bare: "26.4|27.0|39.8"},
				{dim: "angle_deg", labels: "angle", units: "degree none", within: "30..50", alone: "36|45"},
			},
			forms: []string{"#25.4|28.6|38.1 / crown_mm"},
		},
		"headset-spacer": {
			also: []reader{readSteerer},
			slots: []slot{
				steerer,
				{dim: "height_mm", labels: "height", units: "mm none", within: "0.5..60", alone: "1..20", joined: "1..40"},
			},
			forms: []string{"steerer_mm x height_mm"},
		},
		"top-cap": {also: []reader{readSteerer, readThread("thread", metricThreads)}, slots: []slot{steerer}},
		"crank-arm": {
			also:  []reader{readPedalThread},
			words: "side spindle_interface",
			slots: []slot{{dim: "arm_mm", labels: "arm length", units: "mm none", within: "90..200", alone: "140..185", bare: "160|165|167.5|170|172.5|175", joined: "152|160|165|170|172.5|175"}},
		},
		"chain-guard": {
			words: "kind",
			slots: []slot{
				{dim: "teeth_max", labels: "teeth largest maxring", units: "teeth none", within: "20..60"},
				{dim: "bcd_mm", labels: "bcd", units: "mm none", within: circles(), alone: circles()},
				{dim: "bolts", labels: "bolts", units: "bolts holes none", within: "3..8", alone: "3..8"},
			},
		},
		"cleat": {also: []reader{readCleat}, words: "cleat", slots: []slot{{dim: "float_deg", units: "degree none", within: "0..20", alone: "0..12"}}},
		"brake-hose": {
			words: "fluid hose by_metre",
			slots: []slot{
				{dim: "outer_mm", labels: "outer diameter", units: "mm none", within: "3..8", alone: "4.6|5|5.0|5.1|5.5|6"},
				{dim: "length_mm", labels: "length", units: "mm cm metre foot none", within: "300..50000", alone: "500..50000", bare: "1000|1500|1600|1700|1800|2000|2200|2500|3000"},
			},
		},
		"brake-adapter": {
			also:  []reader{(*reading).readMounts},
			words: "position",
			slots: []slot{{dim: "rotor_mm", labels: "diameter", units: "mm none", within: "140..230", alone: "140|160|180|183|185|200|203|220|223", bare: "140|160|180|203|220"}},
		},
		"seal-kit":  {words: "fluid"},
		"bleed-kit": {words: "fluid"},
		"peg": {slots: []slot{
			{dim: "bore_mm", labels: "bore", units: "mm none", within: "9..15", alone: "10|14"},
			{dim: "length_mm", labels: "length", units: "mm inch none", within: "60..150", alone: "80..130"},
		}, forms: []string{"bore_mm x length_mm"}},
		"stabiliser": {also: []reader{dropPounds, readWheelRange}, slots: []slot{{dim: "load_kg", labels: "load", units: "kilogram pound none", within: "1..200", alone: "1..200"}}},
		"cotter-pin": {slots: []slot{
			{dim: "diameter_mm", labels: "diameter", units: "mm none", within: "8..11", alone: "8..11", bare: "9|9.0|9.5"},
			{dim: "length_mm", labels: "length", units: "mm none", within: "25..70", alone: "30..50"},
		}, forms: []string{"diameter_mm x length_mm"}},
		"half-link": {also: []reader{readChainWidth}, words: "chain_width"},
		"bar-plug":  {slots: []slot{{dim: "bore_mm", labels: "bore diameter", units: "mm none", within: "14..26", alone: "16..24"}}},
	}
}

// readWheelRange reads the wheels that stabilisers are for: "12-20"", "16 to 20 inch", "for 16 inch".
func readWheelRange(r *reading) {
	for i := range r.items {
		to := i
		if j := r.behindTo(i + 1); r.isFigure(j) {
			to = j
		}
		if !r.isFigure(i) || r.items[to].unit&inch == 0 {
			continue
		}
		if small, large := r.childsBead(i), r.childsBead(to); small > 0 && small <= large {
			r.give("bead_min_mm", substitution.Count(small), plain, i, to+1)
			r.give("bead_max_mm", substitution.Count(large), plain, i, to+1)
		}
		return
	}
}

// childsBead is the bead seat of a child's wheel, whose inches are those of tyres with decimals: 16 x 1.75 is 305, 16 x
// 1 3/8 is not. The smallest, of 12 1/2, goes by 12. 0 if there is none.
func (r *reading) childsBead(i int) int {
	name := append(r.digits(nil, i), " x 1.75"...)
	if r.items[i].value == 12 {
		name = []byte("12 1/2 x 2 1/4")
	}
	t, ok := tyres.of(name)
	if !ok {
		return 0
	}
	return t.BeadMM
}

// behindTo is the item behind what leads from one figure to the next: a dash, a stroke, "to", "à".
func (r *reading) behindTo(i int) int {
	if r.isJoint(i, "-/>") || r.isTo(i) {
		return i + 1
	}
	return -1
}

// readCleat reads the pattern of a cleat, or of the pedal that takes it, from its number of bolts.
func readCleat(r *reading) {
	for i := range r.items {
		if it := &r.items[i]; it.kind == figure && it.unit&bolts != 0 {
			if name := map[float64]string{2: "two-bolt", 3: "three-bolt", 4: "four-bolt"}[it.value]; name != "" {
				r.give("cleat", substitution.Text(name), plain, i, i+1)
			}
		}
	}
}

// isTo reports whether the item says which way something goes.
func (r *reading) isTo(i int) bool {
	for _, to := range []string{"to", "auf", "zu", "vers", "naar", "a", "su"} {
		if r.isWord(i, to) {
			return true
		}
	}
	return false
}

// readMounts reads the two ends of a brake adapter where the text says which way it goes, from the frame to the caliper: "IS
// to post", "flat > post", "IS-PM", "post mount caliper on IS fork", or where both are one, "PM-PM". Lists write "PM/IS" for
// either.
func (r *reading) readMounts() {
	last := -1
	for i := range r.items {
		m := r.mountAt(i)
		if m == "" {
			continue
		}
		if from, to := last, i; last >= 0 && i-last <= 5 {
			if r.isOfCaliper(last) && r.isOfFrame(i) {
				from, to = i, last
			} else if !r.leadsTo(last, i) {
				last = i
				continue
			}
			r.give("mount_from", substitution.Text(r.mountAt(from)), plain, from, from+1)
			r.give("mount_to", substitution.Text(r.mountAt(to)), plain, to, to+1)
			return
		}
		last = i
	}
}

// mountAt is the mount that item i names, or "".
func (r *reading) mountAt(i int) string {
	if i < 0 || i >= len(r.items) || r.items[i].kind != phrase {
		return ""
	}
	for _, says := range r.items[i].sense.says {
		if says.dimension == "mount_to" {
			return says.value.Word()
		}
	}
	return ""
}

// leadsTo reports whether an adapter goes from the mount at item i to that at item j.
func (r *reading) leadsTo(i, j int) bool {
	if r.isOfFrame(i) && r.isOfCaliper(j) {
		return true
	}
	a, b := r.mountAt(i), r.mountAt(j)
	return j-i <= 3 && (a == b || r.isTo(j-1) || r.isJoint(j-1, ">") || a == "is" && b == "post" && j == i+2 && r.isJoint(i+1, "-"))
}

// isOfCaliper reports whether the word behind item i names a brake caliper.
func (r *reading) isOfCaliper(i int) bool {
	return i+1 < len(r.items) && r.items[i+1].kind == phrase && r.items[i+1].sense.family == "brake-caliper"
}

// isOfFrame reports whether the word behind item i is a frame or a fork.
func (r *reading) isOfFrame(i int) bool {
	return slices.ContainsFunc([]string{"frame", "fork", "rahmen", "gabel", "cadre", "fourche", "vork", "voorvork", "telaio", "forcella"}, func(word string) bool { return r.isWord(i+1, word) })
}

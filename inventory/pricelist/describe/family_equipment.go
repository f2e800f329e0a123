package describe

import (
	"math"

	"stead/substitution"
)

// Gear hubs, light, carriers, mudguards, suspension, and what only its maker's number names.
func equipmentGrammars() map[substitution.Family]*grammar {
	load := slot{dim: "load_kg", labels: "load", units: "kilogram pound none", within: "1..200", alone: "1..200"}
	gears := slot{dim: "gears", labels: "speeds", units: "speeds gram none", within: "2..18"} // "7 G" of German lists
	volts := slot{dim: "volts", units: "volt", within: "1..60"}
	watts := slot{dim: "watts", units: "watt", within: "0.1..100"}
	all := map[substitution.Family]*grammar{
		"hub-internals": {slots: []slot{gears, {dim: "oln_mm", labels: "oln", units: "mm none", within: "100..180", alone: "110..150"}}},
		"indicator-chain": {
			words: "end",
			slots: []slot{{dim: "rod_mm", labels: "length", units: "mm none", within: "20..200", alone: "30..150"}},
		},
		"non-turn-washer": {
			words: "side",
			slots: []slot{
				{dim: "flats_mm", labels: "bore", units: "mm none", within: "5..15", alone: "never"},
				{dim: "angle_deg", labels: "angle", units: "degree none", within: "0..90", alone: "0..90"},
			},
		},
		"hub-spare":   {words: "kind side"},
		"hub-shifter": {words: "kind", slots: []slot{gears, {dim: "bore_mm", labels: "clamp", units: "mm none", within: "18..30", alone: "22.2|23.8"}}},
		"dynamo": {
			also:  []reader{readThruAxle},
			words: "kind axle",
			slots: []slot{volts, watts,
				{dim: "holes", labels: "holes", units: "holes none", within: "20..48", alone: "20..48"},
				{dim: "oln_mm", labels: "oln", units: "mm none", within: "74..110", alone: "74|100|110"},
			},
		},
		"lamp":      {words: "supply mount position", slots: []slot{volts, watts}},
		"lamp-wire": {words: "by_metre poles", slots: []slot{{dim: "length_mm", labels: "length", units: "mm cm metre none", within: "200..100000"}}},
		"mudguard": {
			also:  []reader{readGuardedWheel},
			words: "mount position",
			slots: []slot{{dim: "width_mm", labels: "width", units: "mm none", within: "25..120", alone: "28..90", joined: "35..75"}},
		},
		"rack": {also: []reader{readGuardedWheel, dropPounds}, words: "mount position", slots: []slot{load}},
		"child-seat": {
			also:  []reader{dropPounds},
			words: "mount",
			slots: []slot{load,
				{dim: "tube_min_mm", units: "mm none", within: "20..50", alone: "never"},
				{dim: "tube_max_mm", units: "mm", within: "22..60", alone: "never"},
			},
			forms: []string{"tube_min_mm ~ tube_max_mm"},
		},
		"basket": {also: []reader{dropPounds}, words: "mount", slots: []slot{load}},
		"kickstand": {
			words: "mount",
			slots: []slot{
				{dim: "hole_mm", units: "mm", within: "10..60", alone: "18|40"},
				{dim: "length_mm", labels: "length", units: "mm none", within: "150..450", alone: "200..400"},
				load,
			},
		},
		"bottle-cage": {words: "mount", slots: []slot{{dim: "bottle_mm", labels: "diameter", units: "mm none", within: "40..120", alone: "70..100"}}},
		"bell":        {words: "mount", slots: []slot{{dim: "bore_mm", labels: "clamp diameter", units: "mm none", within: "18..35", alone: "22.2|25.4|26|31.8"}}},
		"frame-lock":  {words: "mount", slots: []slot{{dim: "tyre_max_mm", labels: "width largest", units: "mm none", within: "20..120", alone: "never"}}},
		"service-kit": {slots: []slot{{dim: "hours_of", labels: "hours", units: "hour holes none", within: "10..1000", alone: "10..1000"}}},
		"fork-seal": {
			words: "seal_kind",
			slots: []slot{
				{dim: "stanchion_mm", labels: "diameter", units: "mm none", within: "25..45", alone: "28|30|32|34|35|36|38|40", bare: "32|34|35|36|38"},
				{dim: "outer_mm", labels: "outer", units: "mm none", within: "30..60", alone: "never"},
			},
			forms: []string{"stanchion_mm x outer_mm"},
		},
		"suspension-oil": {unfinished: true, also: []reader{readOilWeight}, words: "weight", slots: []slot{
			{dim: "volume_ml", labels: "volume", units: "ml litre none", within: "10..210000", alone: "10..210000"},
		}},
		"shock": {
			words: "mount",
			slots: []slot{
				{dim: "eye_to_eye_mm", labels: "length eyes", units: "mm none", within: "120..280", alone: "never"},
				{dim: "stroke_mm", labels: "stroke", units: "mm none", within: "20..100", alone: "never"},
				{dim: "hardware_mm", labels: "width", units: "mm none", within: "10..60", alone: "never"},
			},
			forms: []string{"eye_to_eye_mm x stroke_mm", "eye_to_eye_mm / stroke_mm", "eye_to_eye_mm - stroke_mm"},
		},
	}
	for _, numbered := range []substitution.Family{"motor-ring", "speed-sensor", "wheel-magnet", "display", "drive-battery", "charger"} {
		all[numbered] = &grammar{}
	}
	return all
}

// readGuardedWheel reads the wheel that a mudguard or rack is made for: "700C", "28 inch", "26-28"" gives none of two.
// Behind a mudguard's wheel stands how wide it is: "700c x 45mm", "622x45". In "45-622" the width is a tyre's.
func readGuardedWheel(r *reading) {
	if r.readGuard() {
		return
	}
	if size, ok := r.sizes(false); ok {
		r.give("bead_mm", substitution.Count(size.bead), plain, size.first, size.last)
		return
	}
	if !r.has("bead_mm") {
		r.readWheelAlone()
	}
}

// readGuard reads a wheel and the width of what is over it.
func (r *reading) readGuard() bool {
	if r.family != "mudguard" {
		return false
	}
	for i := range r.items {
		if !r.isFigure(i) {
			continue
		}
		name, end := r.wheelName(i)
		if name == nil || !r.isJoint(end, "x") || !r.isFigure(end+1) || r.isJoint(end+2, "/-x") {
			continue
		}
		bead, ok := beads.of(name)
		width := &r.items[end+1]
		if ok && width.decimals == 0 && width.value >= 25 && width.value <= 120 && (width.unit&mm != 0 || width.unit == none && bead.MM == int(r.items[i].value)) {
			r.give("bead_mm", substitution.Count(bead.MM), plain, i, end)
			r.give("width_mm", substitution.Num(width.value), plain, end+1, end+2)
			return true
		}
	}
	return false
}

// readOilWeight reads how thick a suspension oil is: "7.5W".
func readOilWeight(r *reading) {
	for i := range r.items {
		it := &r.items[i]
		if !r.isFigure(i) || it.unit&watt == 0 {
			continue
		}
		r.give("weight", substitution.Text(trim(it.value)+"W"), plain, i, i+1)
	}
}

// dropPounds passes over a load in pounds where it is said in kilograms too: "55 lb / 25 kg".
func dropPounds(r *reading) {
	for i := range r.items {
		p := &r.items[i]
		if !r.isFigure(i) || p.unit&pound == 0 {
			continue
		}
		for k := range r.items {
			if kg := &r.items[k]; r.isFigure(k) && kg.unit&kilogram != 0 && math.Abs(p.value*0.45359237-kg.value) <= kg.value*0.05 {
				r.claim(i, i+1)
			}
		}
	}
}

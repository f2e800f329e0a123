package substitution

var (
	bore    = millimetres("bore_mm", "bore", 1, 80, "inside jaws of a caliper; below 10 mm they read low")
	outer   = millimetres("outer_mm", "outside diameter", 2, 120, "caliper on the ring, not the seal")
	width   = millimetres("width_mm", "width", 1, 40, "caliper on the rings, not the seals")
	ballDia = millimetres("ball_mm", "ball diameter", 1, 12, "caliper; ten in a row tell an inch ball from a metric one")
)

var cartridgeBearing = Table{
	Family: "cartridge-bearing", Plural: "cartridge bearings",
	Dimensions: []Dimension{
		bore, outer, width,
		word("seal", "seal", "look: open, metal shields (zz) or rubber seals (rs, 2rs)", "open", "zz", "rs", "2rs"),
		word("clearance", "clearance class", "read the mark; a caliper cannot tell", "c2", "cn", "c3", "c4"),
		word("designation", "designation", "read the mark on the ring or seal"),
	},
	Ordered: [][2]string{{"bore_mm", "outer_mm"}},
}

var headsetBearing = Table{
	Family: "headset-bearing", Plural: "headset bearings",
	Dimensions: []Dimension{
		bore, outer, width,
		Dimension{Name: "inner_angle_deg", Form: Number, Low: 20, High: 90, Means: "inner chamfer", Measure: "read the mark (36°x45° is inside x outside) or a protractor; a caliper cannot tell"},
		Dimension{Name: "outer_angle_deg", Form: Number, Low: 20, High: 90, Means: "outer chamfer", Measure: "read the mark (36°x45° is inside x outside) or a protractor; a caliper cannot tell"},
		word("position", "position", "look", "upper", "lower"),
	},
	Ordered: [][2]string{{"bore_mm", "outer_mm"}},
}

var looseBalls = Table{
	Family: "loose-balls", Plural: "loose balls",
	Dimensions: []Dimension{
		ballDia,
		count("grade", "grade", 3, 2000, "read the label; a caliper cannot tell"),
	},
}

var ballCage = Table{
	Family: "ball-cage", Plural: "ball cages",
	Dimensions: []Dimension{
		ballDia,
		count("balls", "balls", 3, 60, "count the balls"),
		outer, bore,
	},
	Ordered: [][2]string{{"bore_mm", "outer_mm"}},
}

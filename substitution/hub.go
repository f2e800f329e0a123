package substitution

var rotorMount = word("rotor_mount", "rotor mount", "look: six bolts or a splined ring with a lockring", "6-bolt", "centre-lock")

var hub = Table{
	Family: "hub", Plural: "hubs",
	Dimensions: []Dimension{
		count("holes", "spoke holes", 8, 60, "count the spokes"),
		millimetres("oln_mm", "over locknut width", 60, 220, "outside faces of the locknuts, caliper"),
		word("axle", "axle", "look: qr, solid, or a thru-axle written DIAMETERxOLN"),
		freehubWord,
		rotorMount,
		word("position", "position", "look", "front", "rear"),
	},
}

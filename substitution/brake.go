package substitution

var padShape = word("pad_shape", "pad shape", "hold the old pad against the new one; the code on its backing plate")

var discRotor = Table{
	Family: "disc-rotor", Plural: "disc rotors",
	Dimensions: []Dimension{
		count("rotor_mm", "rotor diameter", 100, 260, "read the rotor; across it with a rule"),
		rotorMount,
		millimetres("thickness_mm", "thickness", 0.5, 4, "caliper or micrometer on the brake track, not on the arms"),
	},
}

var discPad = Table{
	Family: "disc-pad", Plural: "disc pads",
	Dimensions: []Dimension{
		padShape,
		word("compound", "compound", "read the back of the pad", "organic", "sintered", "semi-metallic"),
	},
}

var brakeCaliper = Table{
	Family: "brake-caliper", Plural: "brake calipers",
	Dimensions: []Dimension{
		word("mount", "mount", "look: post, flat, is; for a rim brake its reach"),
		word("pull", "pull", "the maker's word: short or long cable pull", "short", "long"),
		word("actuation", "actuation", "look", "cable", "hydraulic"),
		padShape,
	},
}

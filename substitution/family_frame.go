package substitution

var _ = families(&frame, &fork)

// frame and fork are never sold here: they are kept, and set bounds for what is fitted to them.
var frame = Table{
	Family: "frame", Plural: "frames", NeverSold: true,
	Sites: []Site{
		{Place: "frame", Words: "frame", Safety: true},
	},
	Dimensions: []Dimension{
		millimetres("chainstay_mm", "chainstay length", 200, 800, "bottom bracket centre to rear axle centre, with a tape"),
		millimetres("oln_mm", "spacing between the rear dropouts", 80, 220, "inside faces of the dropouts, caliper or rule"),
		word("axle", "rear axle", "read the axle, or look: quick release, nuts or thru-axle"),
		word("shell", "bottom bracket shell", "read the bottom bracket or measure the shell"),
		millimetres("shell_mm", "shell width", 50, 130, "face to face of the shell, caliper"),
		millimetres("seat_tube_mm", "seat tube outside diameter", 20, 60, "caliper where the front derailleur clamps"),
		millimetres("seatpost_mm", "seat post diameter", 20, 40, "read the post or measure it, caliper"),
		count("rotor_max_mm", "largest rear rotor the frame is rated for", 100, 260, "the frame maker's specification"),
		count("tyre_max_mm", "widest rear tyre", 15, 130, "the frame maker's specification"),
	},
}

var fork = Table{
	Family: "fork", Plural: "forks", NeverSold: true,
	Sites: []Site{
		{Place: "fork", Words: "fork", Safety: true},
	},
	Dimensions: []Dimension{
		millimetres("oln_mm", "spacing between the fork ends", 70, 160, "inside faces of the fork ends, caliper or rule"),
		word("axle", "front axle", "read the axle, or look: quick release, nuts or thru-axle"),
		millimetres("steerer_mm", "steerer diameter", 20, 60, "caliper under the stem"),
		millimetres("crown_mm", "crown race seat diameter", 20, 70, "caliper on the seat, race removed"),
		word("steerer_material", "steerer material", "look into the steerer from above; a magnet tells steel from alloy", "steel", "alloy", "carbon"),
		word("preload", "what the top cap pulls on", "take off the top cap and look into the steerer; none where a new fork has none yet", "star-nut", "expander", "threaded", "none"),
		count("rotor_max_mm", "largest front rotor the fork is rated for", 100, 260, "the fork maker's specification"),
		count("tyre_max_mm", "widest front tyre", 15, 130, "the fork maker's specification"),
	},
}

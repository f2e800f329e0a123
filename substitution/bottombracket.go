package substitution

var bottomBracket = Table{
	Family: "bottom-bracket", Plural: "bottom brackets",
	Dimensions: []Dimension{
		word("shell", "shell", "read the cups, or measure the shell's bore or thread",
			"bsa", "iso", "italian", "french", "swiss", "bb30", "bb30a", "pf30", "pf30a", "bb86", "bb90", "bb92", "bb95", "bb386", "bbright", "t47", "one-piece"),
		millimetres("shell_mm", "shell width", 50, 130, "face to face of the shell, caliper"),
		spindleInterface,
		millimetres("spindle_mm", "spindle length", 80, 190, "end to end of the spindle, caliper"),
	},
}

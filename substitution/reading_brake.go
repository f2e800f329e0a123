package substitution

// What is read of levers, fluid and joints of a brake.

var byTopUp = Source{"hydraulic bike brakes, top up or bleed: spongy is air, dark fluid is replaced, a low reservoir is worn pads until shown otherwise", Handbook}

// leverFeel says what the hand feels. What it means goes by what works the brake.
var leverFeel = Reading{
	Dimension: word("lever_feel", "feel of the lever", "pull it hard three times", "firm", "spongy", "to the bar"),
	Judge: func(l Look) Advice {
		worked, known := l.Build[l.Place].Get("actuation")
		switch {
		case l.Read["lever_feel"].word == "firm":
			return says(Keep, "the lever is firm")
		case !known:
			return Advice{Words: "air in a hydraulic brake, stretch and friction in one on a cable", Source: byTopUp, Asks: "record the lever's actuation: cable or hydraulic"}
		case worked.word == "cable":
			return says(Adjust, "the lever gives: set the brake, and look at pads, cable and housing before any part", "~.brake-cable", "~.caliper")
		case l.Read["lever_feel"].word == "to the bar":
			return Advice{Action: Clean, Words: "comes to the bar: worn pads until shown otherwise; then a leak; then bleed it", Source: byTopUp, LookAt: []Place{"~.pads", "~.caliper", "~.hose"}}
		}
		return Advice{Action: Clean, Words: "spongy: air; bleed the brake, and look where it got in", Source: byTopUp, LookAt: []Place{"~.hose", "~.caliper"}}
	},
}

var fluidColour = Reading{
	Dimension: word("fluid_colour", "colour of the fluid", "open the reservoir, or draw a little into a syringe", "clear", "dark"),
	Says: map[string]Advice{
		"clear": {Action: Keep, Words: "the fluid is clear", Source: byTopUp},
		"dark":  {Action: Clean, Words: "dark fluid: change it, makers want it new every year or two", Source: byTopUp},
	},
}

var byFluidAge = Source{"a bike maker's support page on the correct use of brake fluids: renewed every year", Catalogue}

// fluidMonths is how long ago the fluid was changed.
var fluidMonths = Reading{
	Dimension: Dimension{Name: "fluid_months", Form: Number, High: 600, Means: "months since the fluid was changed", Measure: "the bike's history, or ask the rider"},
	Judge: func(l Look) Advice {
		months, _ := l.Figure("fluid_months")
		a := Advice{Action: Keep, Source: byFluidAge, Words: figure(months) + " months since the fluid was changed; one maker wants it new every year"}
		if months >= 12 {
			a.Action = Clean
		}
		return a
	},
}

// brakeLeaks is the leak of lever or caliper: the house is resealed or replaced, never topped up.
var brakeLeaks = fault("leaking", "leaking", "wipe it dry, pull the lever hard for a minute and look at every joint", "no leak seen",
	Advice{Action: Replace, Words: "it leaks: seals by its maker's kit where there is one, else replace it; then pads and rotor", Source: byBleedPage, LookAt: []Place{"~.pads", "~.rotor"}})

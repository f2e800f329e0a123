package substitution

var _ = families(&brakeHose, &brakeAdapter, &sealKit, &bleedKit)

// What a hydraulic brake is opened, filled and mounted with.

var brakeHose = Table{
	Family: "brake-hose", Plural: "brake hoses",
	Sites: []Site{
		{Place: "front.hose", Words: "front brake hose", Safety: true},
		{Place: "rear.hose", Words: "rear brake hose", Safety: true},
	},
	Readings: []Reading{leaking, damaged, metresWanted},
	ByMetre:  true,
	Work:     []Work{{Replace, "fit hose and bleed brake", 45}, {Adjust, "shorten hose and bleed brake", 40}},
	Dimensions: []Dimension{
		fluid, system,
		millimetres("outer_mm", "outside diameter", 3, 8, "caliper"),
		length(200, 100000, "along the hose, with a tape"), byMetre,
		word("hose", "end at the caliper", "look where the hose enters the caliper: an eye under a hollow bolt, or a nut over an olive", "banjo", "olive"),
	},
	Rules: []Rule{
		{
			ID: "brake-hose.fluid", Severity: Safety,
			Says:   "the hose is made for the fluid in it: DOT fluid and mineral oil each ruin the other's rubber",
			Test:   Match{Mine: "fluid", Theirs: []Ref{theirs("~.lever", "fluid"), theirs("~.caliper", "fluid")}},
			Source: byFluids,
		},
		worksBy("brake-hose.lever", []Place{"front.hose", "rear.hose"}, "~.lever", "hydraulic"),
		worksBy("brake-hose.caliper", []Place{"front.hose", "rear.hose"}, "~.caliper", "hydraulic"),
		{
			ID: "brake-hose.system", Severity: Safety,
			Says:   "the hose is the brake's own: fittings that nearly match leak under pressure",
			Test:   Match{Mine: "system", Theirs: []Ref{theirs("~.lever", "system"), theirs("~.caliper", "system")}, Else: CantTell, Why: "ask the brake's maker whether its fittings go on this hose", Rare: true},
			Source: byOriginalBrakeParts,
		},
		{
			ID: "brake-hose.outside", Severity: Safety,
			Says:   "it is as thick as the old one: olive and nut grip one diameter",
			Test:   Match{Mine: "outer_mm", Within: 0.1, Rare: true},
			Source: byOldPart,
		},
		{
			ID: "brake-hose.end", Severity: Mating,
			Says: "it ends as the caliper wants it, and is sealed anew",
			Test: Lookup{Of: []Ref{mine("hose"), theirs("~.caliper", "hose")}, Rows: []Row{
				{Keys: []string{"banjo", "banjo"}, Answer: Holds, Brings: []Bring{small("crush-washer", "crush washers for a banjo", 2)}},
				{Keys: []string{"olive", "olive"}, Answer: Holds, Brings: []Bring{small("hose-olive", "olive", 1), small("hose-insert", "insert for the hose", 1)}},
			}, Otherwise: Breaks, Why: "it does not screw in", Optional: true, Rare: true},
			Source: Source{"a motorcycle reference and a bicycle maintenance page (whafi.com) on the two joints; that the seals are used once is common practice", Handbook},
		},
		cutTo(longEnough("brake-hose.length", "length_mm", Safety, "it is at least as long as what was there; the rest is cut off", byOldPart)),
		finishRule("brake-hose"),
	},
}

// leaking is the fault of everything that holds fluid.
var leaking = fault("leaking", "leaking", "wipe it dry, pull the lever hard for a minute and look at every joint",
	"no leak seen", Advice{Action: Replace, Words: "it leaks: replace it, bleed the brake, and look at pads and rotor for fluid",
		Source: Source{"hydraulic brake pages, top up or bleed: fluid on the pads, find the leak at lever, hose or caliper", Handbook}, LookAt: []Place{"~.pads", "~.rotor"}})

var brakeAdapter = Table{
	Family: "brake-adapter", Plural: "brake adapters",
	Sites: []Site{
		{Place: "front.adapter", Words: "front brake adapter", Safety: true},
		{Place: "rear.adapter", Words: "rear brake adapter", Safety: true},
	},
	Readings: []Reading{damaged},
	Work:     []Work{{Replace, "fit adapter and set brake", 20}},
	Dimensions: []Dimension{
		word("mount_from", "mount on frame or fork", "look: two posts, two bolts through the stay, or two tabs", "post", "flat", "is"),
		word("mount_to", "mount for the caliper", "look: what the caliper bolts to", "post", "flat", "is"),
		count("rotor_mm", "rotor", 120, 230, "read the adapter, or the rotor that it was with"),
		wheelOf,
	},
	Rules: []Rule{
		adapterOn("brake-adapter.frame", "rear.adapter", "frame"),
		adapterOn("brake-adapter.fork", "front.adapter", "fork"),
		{
			ID: "brake-adapter.caliper", Severity: Safety,
			Says:   "the caliper bolts to it",
			Test:   Match{Mine: "mount_to", Theirs: []Ref{theirs("~.caliper", "mount")}, Why: "none takes another's caliper"},
			Source: byDiscMounts,
		},
		{
			ID: "brake-adapter.rotor", Severity: Safety,
			Says:   "it sets the caliper for the rotor: 200 and 203 mm are two sizes",
			Test:   Custom{Of: []Ref{mine("rotor_mm"), mine("position"), mine("mount_from"), theirs("~.rotor", "rotor_mm")}, Judge: rotorOfAdapter, Geometry: true},
			Source: Source{"the pad sits half the difference off: 1.5 mm between 200 and 203 (arithmetic); bikeman.com: on tabs a rear adapter for 160 suits 180 in front", Handbook},
		},
		adapterWithin("brake-adapter.fork-limit", "front.adapter", "fork", unless("position", "rear"), 0),
		adapterWithin("brake-adapter.fork-limit-turned", "front.adapter", "fork", madeFor("rear"), -tabsApart),
		adapterWithin("brake-adapter.frame-limit", "rear.adapter", "frame", unless("position", "front"), 0),
		adapterWithin("brake-adapter.frame-limit-turned", "rear.adapter", "frame", madeFor("front"), tabsApart),
		{
			ID: "brake-adapter.end", Severity: Safety, When: []When{unless("mount_from", "is")},
			Says:   "a front adapter in front, a rear one behind",
			Test:   Is{Mine: "position", Placed: true, Silent: true},
			Source: byDiscMounts,
		},
		{
			ID: "brake-adapter.other-end", Severity: Function, When: []When{{Of: []Ref{mine("mount_from")}, Is: []string{"is"}, Known: true}},
			Says:   "an adapter for tabs is of its own end; that of the other goes for a rotor of another size",
			Test:   Is{Mine: "position", Placed: true, Silent: true, Why: "on tabs a rear adapter in front suits a rotor 20 mm larger than is marked on it, and the other way round"},
			Source: byDiscMounts,
		},
	},
}

var byDiscMounts = Source{"published overviews of post, flat and tab mounts: none takes another's caliper; a rear adapter for 160 on front tabs suits 180", Handbook}

// tabsApart is how much larger a rotor a rear adapter suits on front tabs, in mm.
const tabsApart = 20

// rotorOfAdapter compares the rotor with the one that the adapter is marked for; one for the tabs of the other end serves
// another size there.
func rotorOfAdapter(s Scene, at Place) Judgement {
	match := Match{Mine: "rotor_mm", Theirs: []Ref{theirs("~.rotor", "rotor_mm")}, Why: "the pads meet the track beside its middle or not at all"}
	from, _ := s.Now[at].Get("mount_from")
	made, placed := s.Now[at].Get("position")
	me, rotor := s.side(mine("rotor_mm"), at), s.side(match.Theirs[0], at)
	if from.word != "is" || !placed || suits(at, made.word) || !me.known || !rotor.known {
		return match.judge(s, at)
	}
	serves := me.now.number + tabsApart
	if at.end() == "rear" {
		serves = me.now.number - tabsApart
	}
	j := Judgement{Answer: Holds, Wanted: rotor.now.String() + " mm", Found: figure(serves) + " mm", Words: me.words() + " made as " + made.word + ": it suits " + figure(serves) + " mm here, on " + rotor.words()}
	if serves != rotor.now.number {
		j.Answer = Breaks
		j.Words += ": " + match.Why
	}
	return j
}

// madeFor asks a rule only of what is marked for an end.
func madeFor(end string) When {
	return When{Of: []Ref{mine("position")}, Is: []string{end}, Known: true}
}

// adapterWithin holds the rotor that an adapter sets the caliper for to what fork or frame is rated for; off is how much
// more than is marked on it the bearer may be rated for, where it was made for the tabs of the other end.
func adapterWithin(id string, at, bearer Place, when When, off float64) Rule {
	return Rule{
		ID: id, Severity: Safety, At: []Place{at}, When: []When{when, {Of: []Ref{theirs(bearer, "rotor_max_mm")}, Known: true}},
		Says:   "the rotor that it sets the caliper for is no larger than the " + string(bearer) + " is rated for",
		Test:   Limit{Sum: []Term{plus(mine("rotor_mm"))}, AtMost: []Ref{theirs(bearer, "rotor_max_mm")}, Plus: off, Optional: true, Rare: true},
		Source: byISO4210,
	}
}

func adapterOn(id string, at, bearer Place) Rule {
	return Rule{
		ID: id, Severity: Safety, At: []Place{at},
		Says:   "it bolts to the mount that the " + string(bearer) + " has",
		Test:   Match{Mine: "mount_from", Theirs: []Ref{theirs(bearer, "brake_mount")}},
		Source: byDiscMounts,
	}
}

var sealKit = Table{
	Family: "seal-kit", Plural: "brake seal kits",
	Sites: []Site{
		{Place: "front.caliper.seals", Words: "front brake seals", Safety: true},
		{Place: "rear.caliper.seals", Words: "rear brake seals", Safety: true},
	},
	Readings:   []Reading{leaking},
	Work:       []Work{{Replace, "reseal brake and bleed it", 60}},
	Dimensions: []Dimension{system, fluid},
	Rules: []Rule{
		{
			ID: "seal-kit.system", Severity: Safety,
			Says:   "seals are the brake's own, by its maker's list",
			Test:   Match{Mine: "system", Theirs: []Ref{theirs("~.caliper", "system"), theirs("~.lever", "system")}},
			Source: byOriginalBrakeParts,
		},
		{
			ID: "seal-kit.fluid", Severity: Safety,
			Says:   "the rubber is made for the brake's fluid",
			Test:   Match{Mine: "fluid", Theirs: []Ref{theirs("~.caliper", "fluid"), theirs("~.lever", "fluid")}, Rare: true},
			Source: byFluids,
		},
	},
}

// brakesOf are a dimension of all that a bike's brakes are made of.
func brakesOf(dimension string) []Ref {
	return []Ref{theirs("front.caliper", dimension), theirs("rear.caliper", dimension), theirs("front.lever", dimension), theirs("rear.lever", dimension)}
}

// fluidIn are all that a bike's brakes hold their fluid in.
var fluidIn = append(brakesOf("fluid"), theirs("front.hose", "fluid"), theirs("rear.hose", "fluid"))

var bleedKit = Table{
	Family: "bleed-kit", Plural: "bleed kits",
	Sites: []Site{
		{Place: "bench.bleed-kit", Words: "bleed kit"},
	},
	Dimensions: []Dimension{system, fluid},
	Rules: []Rule{
		{
			ID: "bleed-kit.system", Severity: Mating,
			Says:   "its fittings screw into the brake",
			Test:   Match{Mine: "system", Theirs: brakesOf("system"), Each: true, Else: CantTell, Why: "see whether its fittings screw in: several makers share a thread"},
			Source: Source{"brake makers list the fittings of each brake", Practice},
		},
		{
			ID: "bleed-kit.fluid", Severity: Safety,
			Says:   "a kit is for the brake's fluid, and one that has held one is used for that alone",
			Test:   Match{Mine: "fluid", Theirs: fluidIn, Each: true},
			Source: byFluids,
		},
		{
			ID: "bleed-kit.brake", Severity: Mating, Aside: true,
			Says:   "a brake on a cable holds nothing to bleed",
			Test:   Lookup{Of: []Ref{theirs("front.caliper", "actuation")}, Rows: []Row{{Keys: []string{"hydraulic"}, Answer: Holds}}, Otherwise: Breaks, Why: "there is no fluid in it"},
			Source: byArithmetic,
		},
		{
			ID: "bleed-kit.lever", Severity: Mating, Aside: true,
			Says:   "the lever of a brake on a cable holds nothing to bleed",
			Test:   Lookup{Of: []Ref{theirs("front.lever", "actuation")}, Rows: []Row{{Keys: []string{"hydraulic"}, Answer: Holds}}, Otherwise: Breaks, Why: "there is no fluid in it"},
			Source: byArithmetic,
		},
	},
}

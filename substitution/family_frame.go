package substitution

var _ = families(&frame, &fork)

var (
	rearAxleDim    = word("axle", "rear axle", "read the axle, or look: quick release, nuts or thru-axle")
	brakeMountWord = word("brake_mount", "brake mount", "look: two posts, two bolts through the stay, two tabs, studs for cantilevers or one hole", "post", "flat", "is", "cantilever", "u-brake", "single-bolt", "direct")
	frameThread    = word("axle_thread", "thread for the thru-axle", "read the frame maker's specification, or caliper and thread gauge on the axle that fits; none where it screws into the hanger", "M12x1", "M12x1.5", "M12x1.75", "M14x1.5", "M15x1.5", "M20x2", "none")
	frameAxleLong  = millimetres("axle_length_mm", "length of its thru-axle", 90, 260, "the maker's specification, or the axle that fits: under the head to the end of the thread")
	threading      = word("kind", "threading", "look above the headset: nuts on a thread, or a stem clamped round a plain steerer", "threaded", "threadless")
)

// frame is never sold here: it is kept, and sets bounds for what is fitted to it.
var frame = Table{
	Family: "frame", Plural: "frames", NeverSold: true,
	Sites: []Site{
		{Place: "frame", Words: "frame", Safety: true},
	},
	Readings: []Reading{cracked("frame")},
	Dimensions: []Dimension{
		millimetres("chainstay_mm", "chainstay length", 200, 800, "bottom bracket centre to rear axle centre, with a tape"),
		millimetres("oln_mm", "spacing between the rear dropouts", 80, 220, "inside faces of the dropouts, caliper or rule"),
		rearAxleDim, frameThread, frameAxleLong,
		word("shell", "bottom bracket shell", "read the bottom bracket or measure the shell"),
		millimetres("shell_mm", "shell width", 50, 130, "face to face of the shell, caliper"),
		millimetres("seat_tube_mm", "seat tube outside diameter", 20, 60, "caliper where the front derailleur clamps"),
		millimetres("seatpost_mm", "seat post diameter", 20, 40, "read the post or measure it, caliper"),
		millimetres("head_tube_mm", "head tube length", 50, 300, "end to end without the cups, with a tape"),
		millimetres("head_upper_mm", "upper head tube bore", 25, 65, "inside jaws of a caliper, cup removed"),
		millimetres("head_lower_mm", "lower head tube bore", 25, 65, "inside jaws of a caliper, cup removed"),
		brakeMountWord,
		word("hanger", "derailleur hanger", "look: a hanger for the usual bolt, one for direct mount, or the open universal one round the axle", "hanger", "direct", "axle", "none"),
		word("hanger_code", "hanger's code", "the frame maker's code for its hanger, or the code that the shop gives its shape"),
		{Name: "front_tab", Form: Flag, Means: "tab for a front derailleur", Measure: "look at the seat tube for a brazed or bolted tab"},
		{Name: "stay_angle_deg", Form: Number, Low: 50, High: 80, Means: "angle of chainstay and seat tube", Measure: "a protractor between chainstay and seat tube"},
		count("rotor_min_mm", "rotor that the mount is made for", 100, 260, "the frame maker's specification: the size without an adapter"),
		count("rotor_max_mm", "largest rear rotor the frame is rated for", 100, 260, "the frame maker's specification"),
		count("tyre_max_mm", "widest rear tyre", 15, 130, "the frame maker's specification"),
	},
	Ordered: [][2]string{{"rotor_min_mm", "rotor_max_mm"}},
	Agrees:  []Agreement{widthOfAxle},
}

// fork is kept as a rule; where one is compared with another, everything that sits on it must find its place again.
var fork = Table{
	Family: "fork", Plural: "forks", NeverSold: true,
	Sites: []Site{
		{Place: "fork", Words: "fork", Safety: true},
	},
	Readings: []Reading{serviceHours, serviceMonths, travelUsed, leakingSeal, cracked("fork")},
	Work:     []Work{{Clean, "service suspension fork", 60}, {Adjust, "set suspension fork", 10}},
	Dimensions: []Dimension{
		millimetres("oln_mm", "spacing between the fork ends", 70, 160, "inside faces of the fork ends, caliper or rule"),
		word("axle", "front axle", "read the axle, or look: quick release, nuts or thru-axle"),
		frameThread, frameAxleLong,
		millimetres("steerer_mm", "steerer diameter", 20, 60, "caliper under the stem"),
		millimetres("crown_mm", "crown race seat diameter", 20, 70, "caliper on the seat, race removed"),
		word("steerer_material", "steerer material", "look into the steerer from above; a magnet tells steel from alloy", "steel", "alloy", "carbon"),
		word("preload", "what the top cap pulls on", "take off the top cap and look into the steerer; none where a new fork has none yet", "star-nut", "expander", "threaded", "none"),
		threading,
		millimetres("steerer_length_mm", "steerer length", 80, 400, "crown race seat to the top, with a tape"),
		millimetres("axle_to_crown_mm", "axle to crown", 280, 620, "middle of the axle to the crown race seat, with a tape"),
		model, stanchion,
		millimetres("seal_mm", "seat of its seals", 25, 70, "caliper in the lower leg, seal out"),
		millimetres("travel_mm", "travel", 0, 250, "read the fork, or the maker's specification"),
		brakeMountWord,
		count("bead_mm", "wheel size it is made for", 100, 720, "the fork maker's specification"),
		count("rotor_min_mm", "rotor that the mount is made for", 100, 260, "the fork maker's specification: the size without an adapter"),
		count("rotor_max_mm", "largest front rotor the fork is rated for", 100, 260, "the fork maker's specification"),
		count("tyre_max_mm", "widest front tyre", 15, 130, "the fork maker's specification"),
	},
	Ordered: [][2]string{{"rotor_min_mm", "rotor_max_mm"}},
	Agrees:  []Agreement{forkKind, widthOfAxle},
	Rules: []Rule{
		forkAsOld("fork.steerer", "steerer_mm", 0.15, "the steerer goes through headset and stem: it has the old one's diameter"),
		{
			ID: "fork.crown", Severity: Safety,
			Says:   "the crown race goes on the seat: 26.4 and 27.0 mm are two standards of one inch",
			Test:   Custom{Of: []Ref{mine("crown_mm")}, Judge: crownAsOld, Geometry: true},
			Source: Source{"overwheel.net on 1 inch Italian and JIS; a headset maker's identification guide", Handbook},
		},
		{
			ID: "fork.kind", Severity: Safety,
			Says:   "a threaded steerer for a threaded headset, a plain one for a threadless",
			Test:   Match{Mine: "kind", Rare: true},
			Source: Source{"an encyclopedia on headsets: a threaded headset is adjusted by its nuts, a threadless one through the stem", Handbook},
		},
		{
			ID: "fork.steerer-length", Severity: Safety,
			Says:   "the steerer is no shorter than the old one: headset, spacers and stem must find their room",
			Test:   Limit{Sum: []Term{plus(mine("steerer_length_mm"))}, AtLeast: []Ref{old("steerer_length_mm")}, Optional: true, Doubt: 40, Ask: "measure the spacers of the old one: they may go"},
			Source: byArithmetic,
		},
		{
			ID: "fork.width", Severity: Safety,
			Says:   "the ends are as wide as the hub over its locknuts",
			Test:   Match{Mine: "oln_mm", Within: 1, Rare: true},
			Source: Source{"published hub spacings: 100, 110, 120, 126, 130, 135, 142, 148 mm", Handbook},
		},
		{
			ID: "fork.axle", Severity: Safety,
			Says:   "the ends take the axle that was there",
			Test:   Match{Mine: "axle", Alike: []string{"qr", "solid"}, Rare: true},
			Source: Source{"published overviews of axle standards", Handbook},
		},
		{
			ID: "fork.axle-thread", Severity: Safety, Unless: []Place{"front.thru-axle"},
			Says:   "the thru-axle that was there screws into its insert",
			Test:   Match{Mine: "axle_thread", Rare: true, Why: "it starts in the insert and tears it"},
			Source: byThruAxles,
		},
		{
			ID: "fork.axle-length", Severity: Safety, Unless: []Place{"front.thru-axle"},
			Says:   "it takes a thru-axle as long as the one that was there",
			Test:   Match{Mine: "axle_length_mm", Within: 1, Rare: true},
			Source: byThruAxles,
		},
		{
			ID: "fork.brake-mount", Severity: Safety, Unless: []Place{"front.adapter"}, When: []When{{Of: []Ref{theirs("front.caliper", "mount")}, Not: []string{"post"}}},
			Says:   "the brake bolts on as it did",
			Test:   Match{Mine: "brake_mount", Theirs: []Ref{theirs("front.caliper", "mount")}, Doubtful: reachOnBolt, Ask: askReach, Rare: true},
			Source: byMounts,
		},
		forkAsOld("fork.wheel", "bead_mm", 0, "it is made for the wheel that was there"),
		{
			ID: "fork.axle-to-crown", Severity: Safety,
			Says:   "the fork is as long as the old one: a longer one slackens the steering and loads the frame, for which its maker gives a limit",
			Test:   Match{Mine: "axle_to_crown_mm", Within: 10, Doubt: 80, Ask: "ask the frame's maker how long a fork it takes", Rare: true, Why: "it tilts the frame by four degrees and more, and no maker allows for both"},
			Source: Source{"frame makers give the longest fork; that 20 mm are about a degree is arithmetic on a wheelbase of a metre; ten millimetres for nothing and eighty for the most are common practice", Practice},
		},
		{
			ID: "fork.rotor", Severity: Safety,
			Says:   "it is rated for as large a rotor as the old one",
			Test:   Limit{Sum: []Term{plus(mine("rotor_max_mm"))}, AtLeast: []Ref{old("rotor_max_mm")}, Optional: true, Doubt: 160, Ask: "read the size of the rotor"},
			Source: byISO4210,
		},
		{
			ID: "fork.tyre", Severity: Safety,
			Says:   "it has room for as wide a tyre as the old one",
			Test:   Limit{Sum: []Term{plus(mine("tyre_max_mm"))}, AtLeast: []Ref{old("tyre_max_mm")}, Optional: true, Doubt: 115, Ask: "read the width of the tyre"},
			Source: byISO4210,
		},
		{
			ID: "fork.material", Severity: Safety,
			Says:   "what the top cap pulls on suits the steerer: a star nut never goes into carbon",
			Test:   Match{Mine: "steerer_material", Rare: true, Optional: true, Else: CantTell, Why: "a carbon steerer wants an expander and its own torque, a metal one a star nut"},
			Source: Source{"ISO 4210-2 warns of devices that damage the bore of alloy and composite steerers", Handbook},
		},
		{
			ID: "fork.travel", Severity: Function,
			Says:   "it springs as far as it did",
			Test:   Same{Mine: []string{"travel_mm"}},
			Source: byArithmetic,
		},
		finishRule("fork"),
	},
}

func forkAsOld(id, dimension string, within float64, says string) Rule {
	return Rule{ID: id, Severity: Safety, Says: says, Test: Match{Mine: dimension, Within: within, Rare: true}, Source: byOldPart}
}

// forkKind: a top cap that pulls on a star nut or an expander is a threadless steerer's.
func forkKind(p *Part) []Follows {
	preload, known := p.Get("preload")
	switch {
	case !known || preload.word == "none":
		return nil
	case preload.word == "threaded":
		return []Follows{{Dimension: "kind", Value: Text("threaded"), Because: "preload threaded"}}
	}
	return []Follows{{Dimension: "kind", Value: Text("threadless"), Because: "preload " + preload.word}}
}

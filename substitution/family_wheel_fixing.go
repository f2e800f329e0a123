package substitution

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"stead/substitution/standard"
)

var _ = families(&skewer, &thruAxle, &axleNut)

// What holds a wheel in the bike. All of it is a matter of safety.

var (
	byThruAxles = Source{"a titanium axle maker's guide and modernbike.com, help 1446: length under the head to the end of the thread, pitches 1, 1.5 and 1.75 mm on 12 mm, head flat or conical", Catalogue}
	bySpacings  = Source{"published hub spacings: 100, 110, 120, 126, 130, 135, 142, 148 mm", Handbook}
	wheelOf     = word("position", "wheel", "look: which wheel it is of", "front", "rear")
	wheelFixed  = Work{Adjust, "set wheel fixing", 3}
)

func wheelRule(f Family, source Source) Rule {
	return Rule{ID: string(f) + ".position", Severity: Mating, Says: "a front one in front, a rear one behind",
		Test: Is{Mine: "position", Placed: true, Silent: true}, Source: source}
}

// skewerWidth holds a skewer to the width of hub and ends.
func skewerWidth(id string, at, bearer Place) Rule {
	return Rule{
		ID: id, Severity: Safety, At: []Place{at},
		Says:   "the skewer is long enough for hub and ends: its nut is full of thread when it is closed",
		Test:   Match{Mine: "oln_mm", Theirs: []Ref{theirs("~.hub", "oln_mm"), theirs(bearer, "oln_mm")}, Within: 1, Doubt: 10, Ask: "screw it in: at least five turns of the nut must hold", Rare: true},
		Source: bySpacings,
	}
}

// openEndsFor asks for ends with slots: skewer and nuts hold in no other.
func openEndsFor(id string, at, bearer Place, why string) Rule {
	return Rule{
		ID: id, Severity: Safety, At: []Place{at},
		Says:   "it holds in the open ends of the " + string(bearer) + ": ends for a thru-axle have holes",
		Test:   Lookup{Of: []Ref{theirs(bearer, "axle")}, Rows: only("qr", "solid"), Otherwise: Breaks, Why: why, Optional: true, Rare: true},
		Source: Source{"published overviews of axle standards", Handbook},
	}
}

var skewer = Table{
	Family: "skewer", Plural: "quick-release skewers",
	Sites: []Site{
		{Place: "front.skewer", Words: "front quick release", Safety: true},
		{Place: "rear.skewer", Words: "rear quick release", Safety: true},
	},
	Readings: []Reading{damaged},
	Work:     []Work{{Replace, "fit quick release", 5}, wheelFixed, {Clean, "clean and oil quick release", 5}},
	Dimensions: []Dimension{
		wheelOf,
		millimetres("oln_mm", "hub width that it is for", 70, 220, "outside faces of the hub's locknuts; the skewer is 20 mm and more longer"),
		word("kind", "kind", "look: a lever with a cam, or a bolt", "lever", "bolt"),
		threadWord,
	},
	Rules: []Rule{
		wheelRule("skewer", bySpacings),
		{
			ID: "skewer.hub", Severity: Safety,
			Says:   "a skewer goes through a hollow axle only",
			Test:   Lookup{Of: []Ref{theirs("~.hub", "axle")}, Rows: only("qr"), Otherwise: Breaks, Why: "the hub has no axle for a skewer", Optional: true, Rare: true},
			Source: byAxleKind,
		},
		skewerWidth("skewer.fork-width", "front.skewer", "fork"),
		skewerWidth("skewer.width", "rear.skewer", "frame"),
		openEndsFor("skewer.fork", "front.skewer", "fork", "there is no slot for its ends"),
		openEndsFor("skewer.frame", "rear.skewer", "frame", "there is no slot for its ends"),
		{
			ID: "skewer.dynamo", Severity: Safety, At: []Place{"front.skewer"}, When: []When{{Of: []Ref{theirs("front.dynamo", "kind")}, Not: []string{"bottle", "spoke"}}},
			Says:   "a skewer goes through a hub dynamo with a hollow axle only",
			Test:   Lookup{Of: []Ref{theirs("front.dynamo", "axle")}, Rows: only("qr"), Otherwise: Breaks, Why: "the dynamo has no axle for a skewer", Optional: true, Rare: true},
			Source: byAxleKind,
		},
		{
			ID: "skewer.axle", Severity: Safety,
			Says:   "a skewer goes through a hollow axle only",
			Test:   Lookup{Of: []Ref{theirs("~.hub.axle", "kind")}, Rows: only("hollow"), Otherwise: Breaks, Why: "there is no hole through it", Optional: true, Rare: true},
			Source: byAxleKind,
		},
		{
			ID: "skewer.thread", Severity: Safety,
			Says:   "where rod and nut are not of one set they have one thread",
			Test:   Match{Mine: "thread", Rare: true},
			Source: Source{"a tool maker's list of bicycle threads: M5x0.8", Handbook},
		},
		{ID: "skewer.kind", Severity: Function, Says: "it opens as it did, by hand or with a key", Test: Same{Mine: []string{"kind"}}, Source: byOldPart},
		finishRule("skewer"),
	},
}

// thruAxleHubs pairs the axle that hub, frame or fork is made for with the diameter that goes through it.
func thruAxleHubs(what string) []Row {
	rows := []Row{
		{Keys: []string{"qr", "*"}, Answer: Breaks, Words: what + " is made for a quick release"},
		{Keys: []string{"solid", "*"}, Answer: Breaks, Words: what + " is made for nuts"},
	}
	hubs := map[string][]string{
		"11.5..12.2": {"12x100", "12x110", "12x135", "12x142", "12x148", "12x150", "12x157", "12x177", "12x197"},
		"14.5..15.2": {"15x100", "15x110", "15x150"},
		"19.5..20.2": {"20x100", "20x110"},
	}
	for _, thick := range slices.Sorted(maps.Keys(hubs)) {
		for _, hub := range hubs[thick] {
			rows = append(rows, Row{Keys: []string{hub, thick}, Answer: Holds}, Row{Keys: []string{hub, "1..11.4"}, Answer: Breaks, Words: "it is loose in " + what},
				Row{Keys: []string{hub, "11.5..30"}, Answer: Breaks, Words: "it is of another diameter"})
		}
	}
	return rows
}

// How much longer than the hub is wide thru-axles are made, in mm under the head.
const (
	axleOverLeast = 20
	axleOverMost  = 30
)

var byAxleLengths = Source{"modernbike.com, help 1446, and a titanium axle maker's guide: 20 to 30 mm over the hub's width, not standardised (15x100 is 127 mm long, 12x142 is 163 or 171)", Handbook}

// axleInEnds holds the axle to the ends that frame or fork has for one.
func axleInEnds(id string, at, bearer Place) Rule {
	return Rule{
		ID: id, Severity: Safety, At: []Place{at}, When: []When{{Of: []Ref{theirs(bearer, "axle")}, Known: true}},
		Says:   "the axle is as thick as the holes in the " + string(bearer) + "'s ends",
		Test:   Lookup{Of: []Ref{theirs(bearer, "axle"), mine("diameter_mm")}, Rows: thruAxleHubs("the " + string(bearer)), Otherwise: CantTell, Why: "measure the hole", Optional: true},
		Source: byThruAxles,
	}
}

// axleThreadIn holds the thread to that of the insert in frame or fork.
func axleThreadIn(id string, at, bearer Place, when ...When) Rule {
	return Rule{
		ID: id, Severity: Safety, At: []Place{at}, When: when,
		Says:   "the thread is that of the " + string(bearer) + "'s insert: M12 is made with pitches of 1, 1.5 and 1.75 mm, and they never mix",
		Test:   Match{Mine: "thread", Theirs: []Ref{theirs(bearer, "axle_thread")}, Why: "it starts in the insert and tears it"},
		Source: byThruAxles,
	}
}

// axleLengthOf holds the length to what frame or fork takes.
func axleLengthOf(id string, at, bearer Place) Rule {
	return Rule{
		ID: id, Severity: Safety, At: []Place{at},
		Says:   "it is as long from under the head to the end of the thread as the " + string(bearer) + " wants it: shorter it holds by less thread, longer it meets the bottom",
		Test:   Match{Mine: "length_mm", Theirs: []Ref{theirs(bearer, "axle_length_mm")}, Within: 1},
		Source: byThruAxles,
	}
}

// lengthUntold asks a rule only where nobody knows the length that frame or fork wants: who knows it asks the hub nothing.
func lengthUntold(bearer Place) When {
	return When{Of: []Ref{theirs(bearer, "axle_length_mm")}, Unknown: true}
}

// axleReaches holds an axle to the least that is made for the hub's width.
func axleReaches(id string, at, bearer Place) Rule {
	return Rule{
		ID: id, Severity: Safety, At: []Place{at}, When: []When{lengthUntold(bearer)},
		Says: "it reaches through the hub into the insert: 20 mm over the hub's width at least, as such axles are made",
		Test: Limit{Sum: []Term{plus(mine("length_mm"))}, AtLeast: []Ref{theirs("~.hub", "oln_mm")}, Plus: -axleOverLeast, Doubt: axleOverLeast,
			Ask: "screw it in: the whole of the insert's thread must be full", Optional: true, Rare: true},
		Source: byAxleLengths,
	}
}

// axleEnds holds an axle to the most that is made for the hub's width.
func axleEnds(id string, at, bearer Place) Rule {
	return Rule{
		ID: id, Severity: Safety, At: []Place{at}, When: []When{lengthUntold(bearer)},
		Says: "it meets no bottom: axles are made up to 30 mm longer than the hub is wide, longer ones for frames that want them",
		Test: Limit{Sum: []Term{plus(mine("length_mm"))}, AtMost: []Ref{theirs("~.hub", "oln_mm")}, Plus: axleOverMost, Doubt: 200,
			Ask: "measure the old one, or ask the maker of frame or fork: lengths are not standardised", Optional: true, Rare: true},
		Source: byAxleLengths,
	}
}

var thruAxle = Table{
	Family: "thru-axle", Plural: "thru-axles",
	Sites: []Site{
		{Place: "front.thru-axle", Words: "front thru-axle", Safety: true},
		{Place: "rear.thru-axle", Words: "rear thru-axle", Safety: true},
	},
	Readings: []Reading{damaged},
	Work:     []Work{{Replace, "fit thru-axle", 5}, wheelFixed, {Clean, "clean and grease thru-axle", 5}},
	Dimensions: []Dimension{
		word("thread", "thread", "caliper over the thread, which reads 11.85 to 11.95 for M12, and a thread gauge", "M12x1", "M12x1.5", "M12x1.75", "M14x1.5", "M15x1.5", "M20x2"),
		millimetres("diameter_mm", "diameter", 8, 26, "caliper on the plain part"),
		millimetres("length_mm", "length", 90, 260, "under the head to the end of the thread, without spacers"),
		millimetres("thread_length_mm", "length of thread", 5, 60, "caliper along the thread"),
		word("head", "head", "look under the head: flat, or a cone that sits in the frame", "flat", "conical"),
		wheelOf,
	},
	Agrees: []Agreement{thruAxleThread},
	Rules: []Rule{
		wheelRule("thru-axle", bySpacings),
		{
			ID: "thru-axle.hub", Severity: Safety,
			Says:   "the axle is as thick as the hub's hole",
			Test:   Lookup{Of: []Ref{theirs("~.hub", "axle"), mine("diameter_mm")}, Rows: thruAxleHubs("the hub"), Otherwise: CantTell, Why: "measure the hole", Optional: true, Rare: true},
			Source: byThruAxles,
		},
		{
			ID: "thru-axle.dynamo", Severity: Safety, At: []Place{"front.thru-axle"},
			Says:   "the axle is as thick as the hole of a hub dynamo",
			Test:   Lookup{Of: []Ref{theirs("front.dynamo", "axle"), mine("diameter_mm")}, Rows: thruAxleHubs("the dynamo"), Otherwise: CantTell, Why: "measure the hole", Optional: true, Rare: true},
			Source: byThruAxles,
		},
		axleInEnds("thru-axle.fork", "front.thru-axle", "fork"),
		axleInEnds("thru-axle.frame", "rear.thru-axle", "frame"),
		axleThreadIn("thru-axle.fork-thread", "front.thru-axle", "fork"),
		axleThreadIn("thru-axle.thread", "rear.thru-axle", "frame", When{Of: []Ref{theirs("rear.hanger", "axle_thread")}, Is: []string{"none"}}),
		{
			ID: "thru-axle.hanger", Severity: Safety, At: []Place{"rear.thru-axle"},
			Says:   "where it screws into the hanger, the hanger has its thread",
			Test:   Match{Mine: "thread", Theirs: []Ref{theirs("rear.hanger", "axle_thread")}, Free: "none", Optional: true, Rare: true},
			Source: byThruAxles,
		},
		{
			ID: "thru-axle.diameter", Severity: Safety,
			Says:   "it is as thick as the old one",
			Test:   Match{Mine: "diameter_mm", Within: 0.2},
			Source: byThruAxles,
		},
		axleLengthOf("thru-axle.fork-length", "front.thru-axle", "fork"),
		axleLengthOf("thru-axle.length", "rear.thru-axle", "frame"),
		axleReaches("thru-axle.fork-reach", "front.thru-axle", "fork"),
		axleReaches("thru-axle.reach", "rear.thru-axle", "frame"),
		axleEnds("thru-axle.fork-over", "front.thru-axle", "fork"),
		axleEnds("thru-axle.over", "rear.thru-axle", "frame"),
		{
			ID: "thru-axle.thread-length", Severity: Safety,
			Says:   "it has as much thread as the old one",
			Test:   Match{Mine: "thread_length_mm", Within: 1, Rare: true},
			Source: byThruAxles,
		},
		{
			ID: "thru-axle.head", Severity: Safety,
			Says:   "the head is of the old one's kind: a flat one does not sit in a conical seat",
			Test:   Match{Mine: "head", Rare: true},
			Source: byThruAxles,
		},
		finishRule("thru-axle"),
	},
}

// thruAxleThread: an axle is at least as thick as the thread at its end, and most are as thick.
func thruAxleThread(p *Part) []Follows {
	thread, known := p.Get("thread")
	size, _, ok := strings.Cut(strings.TrimPrefix(thread.word, "M"), "x")
	if !known || !ok {
		return nil
	}
	d, told := p.Get("diameter_mm")
	want, err := strconv.ParseFloat(size, 64)
	if err != nil {
		return nil
	}
	if told && d.number < want-0.3 {
		return []Follows{{Wrong: "diameter_mm " + d.String() + " is thinner than its thread " + thread.word}}
	} else if !told {
		return []Follows{{Dimension: "diameter_mm", Value: Num(want), Because: "thread " + thread.word, Loose: true}}
	}
	return nil
}

// widthOfAxle: a hub, frame or fork for 12x142 is 142 mm wide.
func widthOfAxle(p *Part) []Follows {
	word, known := p.Get("axle")
	axle, err := standard.ParseThruAxle(word.word)
	if !known || err != nil {
		return nil
	}
	return []Follows{{Dimension: "oln_mm", Value: Num(axle.OLNMM), Within: 2, Because: "axle " + word.word}}
}

var axleNut = Table{
	Family: "axle-nut", Plural: "axle nuts",
	Sites: []Site{
		{Place: "front.axle-nuts", Words: "front axle nuts", Safety: true},
		{Place: "rear.axle-nuts", Words: "rear axle nuts", Safety: true},
	},
	Readings: []Reading{damaged},
	Pieces:   2,
	Work:     []Work{{Replace, "fit axle nuts", 5}, {Adjust, "tighten axle nuts", 3}},
	Dimensions: []Dimension{
		threadWord,
		word("kind", "kind", "look: with a washer of its own, toothed, or plain", "plain", "flanged", "serrated"),
	},
	Rules: []Rule{
		{
			ID: "axle-nut.thread", Severity: Safety,
			Says:   "the nut has the axle's thread: M9 on 3/8 x 26 and M10 x 1 on M10 x 1.5 start and then strip",
			Test:   Match{Mine: "thread", Theirs: []Ref{theirs("~.hub.axle", "thread")}, Why: "it strips the axle"},
			Source: Source{"JIS B 0225 cycle threads; wrenchfu.com on axle nuts", Standard},
		},
		{
			ID: "axle-nut.hub", Severity: Safety,
			Says:   "nuts go on a solid axle: a hollow one stands too short for them, and a thru-axle has its own thread",
			Test:   Lookup{Of: []Ref{theirs("~.hub", "axle")}, Rows: only("solid"), Otherwise: Breaks, Why: "there is no thread for nuts outside the ends", Optional: true, Rare: true},
			Source: byAxleKind,
		},
		{
			ID: "axle-nut.dynamo", Severity: Safety, At: []Place{"front.axle-nuts"},
			Says:   "nuts go on a hub dynamo with a solid axle",
			Test:   Lookup{Of: []Ref{theirs("front.dynamo", "axle")}, Rows: only("solid"), Otherwise: Breaks, Why: "there is no thread for nuts outside the ends", Optional: true, Rare: true},
			Source: byAxleKind,
		},
		{
			ID: "axle-nut.axle", Severity: Safety,
			Says:   "nuts go on a solid axle: a hollow one ends inside the frame's ends",
			Test:   Lookup{Of: []Ref{theirs("~.hub.axle", "kind")}, Rows: only("solid"), Otherwise: Breaks, Why: "it ends inside the frame's ends, and leaves no thread for nuts", Optional: true, Rare: true, Usual: "solid"},
			Source: byAxleKind,
		},
		openEndsFor("axle-nut.fork", "front.axle-nuts", "fork", "there is no slot for the axle"),
		openEndsFor("axle-nut.frame", "rear.axle-nuts", "frame", "there is no slot for the axle"),
		{ID: "axle-nut.kind", Severity: Function, Says: "it grips the end as the old one did", Test: Same{Mine: []string{"kind"}}, Source: byOldPart},
		finishRule("axle-nut"),
	},
}

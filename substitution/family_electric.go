package substitution

var _ = families(&motorRing, &speedSensor, &wheelMagnet, &display, &driveBattery, &charger)

// The parts of an electric drive. They are exchanged by the maker's part number and by nothing else: plug, program and
// approval hang together.

var byDriveMaker = Source{"EN 15194, electrically power assisted cycles (title and scope): drive, battery and charger are approved together; only the maker's number names a spare", Standard}

var partNumber = word("designation", "maker's part number", "read the label on the part")

// byMakersNumber is a table of a part that only its number vouches for.
func byMakersNumber(f Family, plural string, site Site, readings []Reading, work ...Work) Table {
	return Table{
		Family: f, Plural: plural, Sites: []Site{site}, Readings: readings, Work: work,
		Dimensions: []Dimension{partNumber},
		Rules: []Rule{{
			ID: string(f) + ".number", Severity: Safety,
			Says:   "it has the old one's part number: whether another stands in for it only the drive's maker can say",
			Test:   Match{Mine: "designation", Else: CantTell, Why: "ask the drive's maker whether this number replaces it"},
			Source: byDriveMaker,
		}},
	}
}

var (
	motorRing    = byMakersNumber("motor-ring", "motor rings", Site{Place: "crank.motor-ring", Words: "ring of the motor"}, []Reading{hookedRing, damaged}, Work{Replace, "fit ring of the motor", 30})
	speedSensor  = byMakersNumber("speed-sensor", "speed sensors", Site{Place: "rear.sensor", Words: "speed sensor"}, []Reading{damaged}, Work{Replace, "fit speed sensor", 30}, Work{Adjust, "set speed sensor", 5})
	wheelMagnet  = byMakersNumber("wheel-magnet", "wheel magnets", Site{Place: "rear.magnet", Words: "wheel magnet"}, []Reading{damaged}, Work{Replace, "fit wheel magnet", 5}, Work{Adjust, "set wheel magnet", 3})
	display      = byMakersNumber("display", "displays", Site{Place: "handlebar.display", Words: "display"}, []Reading{damaged}, Work{Replace, "fit display", 20})
	driveBattery = byMakersNumber("drive-battery", "drive batteries", Site{Place: "frame.battery", Words: "drive battery", Safety: true}, []Reading{batteryHurt}, Work{Replace, "exchange drive battery", 10})
	charger      = byMakersNumber("charger", "chargers", Site{Place: "bench.charger", Words: "charger", Safety: true}, []Reading{damaged}, Work{Replace, "exchange charger", 5})
)

// batteryHurt stops the job: such a battery may burn hours or days later.
var batteryHurt = fault("damaged", "damaged, swollen or dropped", "look at its case and plug without opening it, and ask whether it fell, got wet or was crashed",
	"no damage seen, and none told", Advice{Action: Replace,
		Words:  "stop: do not charge, ride or post it; take it outdoors, away from what burns, and follow the maker's instructions and the local fire rules; it is dangerous goods",
		Source: byDamagedBatteries})

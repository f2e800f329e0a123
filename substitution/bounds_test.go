package substitution

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// otherSide names the rule that holds a sum from the other side, or says why nothing does.
var otherSide = map[string]string{
	"fork.steerer-length": "a longer steerer is cut", "fork.rotor": "no rotor is too small for a rating", "fork.tyre": "no tyre is too narrow for the room",
	"freewheel.stack": "spacers make up for less", "headset.stack": "spacers make up for less", "stem.stack": "spacers make up for less",
	"bolt.strength": "a stronger bolt holds as well", "chainring-bolt.number": "bolts left over are kept",
	"chain-guard.ring": "a larger guard covers a small ring too", "bottom-bracket.spindle-room": "a longer spindle moves the chainline, which bottom-bracket.spindle-length says",
	"crankset.shell-narrow": "rule crankset.shell-wide", "crankset.shell-wide": "rule crankset.shell-narrow",
	"crankset.shells-kept": "rule crankset.shells-narrow-kept", "crankset.shells-narrow-kept": "rule crankset.shells-kept",
	"rear-derailleur.capacity": "a cage takes up less than it can", "rear-derailleur.sprocket-range": "a cage takes up less than it can",
	"rear-derailleur.largest-sprocket": "how near the wheel comes to a small set is set by its screw", "front-derailleur.capacity": "a cage spans less than it can",
	"cable-inner.length": "the rest is cut off", "cable-outer.length": "the rest is cut off", "brake-hose.length": "the rest is cut off", "lamp-wire.length": "the rest is cut off", "kickstand.length": "the rest is cut off or set",
	"hub.body": "spacers make up for a longer body", "freehub-body.length": "rule freehub-body.short",
	"disc-rotor.fork-limit": "rule disc-rotor.fork-least", "disc-rotor.frame-limit": "rule disc-rotor.frame-least",
	"disc-rotor.fork-least": "rule disc-rotor.fork-limit", "disc-rotor.frame-least": "rule disc-rotor.frame-limit",
	"disc-rotor.caliper-gap": "rule disc-rotor.caliper-stroke", "disc-rotor.caliper-stroke": "rule disc-rotor.caliper-gap",
	"brake-caliper.thick-rotor": "rule brake-caliper.thin-rotor", "brake-caliper.thin-rotor": "rule brake-caliper.thick-rotor",
	"rim.valve-hole": "a reducer makes a hole smaller", "rim.depth": "a valve may stand out further",
	"rim-tape.wide": "rule rim-tape.narrower-than-rim", "rim-tape.cloth-wide": "rule rim-tape.narrower-than-rim", "rim-tape.narrower-than-rim": "rule rim-tape.wide",
	"rim-tape.tubeless-wide": "rule rim-tape.tubeless-narrow", "rim-tape.tubeless-narrow": "rule rim-tape.tubeless-wide", "rim-tape.narrow": "rule rim-tape.wide",
	"mudguard.narrower": "a wider one keeps more dry",
	"rack.load":         "a higher mark carries less as well", "basket.load": "a higher mark carries less as well", "child-seat.load": "a higher mark carries less as well", "kickstand.load": "a higher mark carries less as well",
	"basket.bearer": "a stronger rack carries less as well", "child-seat.rack": "a stronger rack carries less as well",
	"child-seat.thin": "rule child-seat.thick", "child-seat.thick": "rule child-seat.thin",
	"lamp.watts": "rule lamp.watts-least", "lamp.watts-least": "rule lamp.watts", "lamp-wire.poles": "a core left over hangs free",
	"stabiliser.smallest": "rule stabiliser.largest", "stabiliser.largest": "rule stabiliser.smallest", "stabiliser.load": "a higher mark carries less as well",
	"tube.widest": "rule tube.narrowest", "tube.narrowest": "rule tube.widest", "tube.range-up": "rule tube.range-down", "tube.range-down": "rule tube.range-up",
	"tube.valve-length": "a longer valve stands out further", "consumable.valve-length": "a longer valve stands out further",
	"thru-axle.reach": "rule thru-axle.over", "thru-axle.over": "rule thru-axle.reach",
	"thru-axle.fork-reach": "rule thru-axle.fork-over", "thru-axle.fork-over": "rule thru-axle.fork-reach",
	"brake-adapter.fork-limit": "no rotor is too small for a rating", "brake-adapter.fork-limit-turned": "no rotor is too small for a rating",
	"brake-adapter.frame-limit": "no rotor is too small for a rating", "brake-adapter.frame-limit-turned": "no rotor is too small for a rating",
	"tyre.fork-room": "rule tyre.rim-width", "tyre.frame-room": "rule tyre.rim-width",
	"shock.stroke":    "a shorter stroke is a difference, which shock.shorter says",
	"seatpost.length": "a longer post is cut or goes further in", "frame-lock.tyre": "a narrow tyre goes through as well", "frame-lock.room": "a narrow tyre goes through as well",
	"spoke.hole": "rule spoke.hole-loose", "spoke.hole-loose": "rule spoke.hole", "hub.spoke-hole": "rule spoke.hole-loose",
}

// Whatever is held by a bound that stops a part is held from the other side too, or it is said why not: tape of 19 mm once
// fitted a rim of 30, and an axle shorter than the hub is wide fitted it.
func TestEveryBoundHasItsOther(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range Rules() {
		_, bound := r.Test.(Limit)
		why := otherSide[r.ID]
		if seen[r.ID] = true; !bound || !r.Severity.Stops() {
			require.Empty(t, why, "%s is no bound that stops a part: strike it off", r.ID)
			continue
		}
		require.NotEmpty(t, why, "%s: what holds it from the other side?", r.ID)
		if id, named := strings.CutPrefix(why, "rule "); named {
			_, err := RuleByID(id)
			require.NoError(t, err, r.ID)
		}
	}
	for id := range otherSide {
		require.True(t, seen[id], "there is no rule %s", id)
	}
}

package substitution

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// touching says of each family which others its parts sit in, on or against, each pair once. What sits in another's place
// ("front.hub.axle" in "front.hub") is found from the places and need not stand here.
var touching = map[Family]string{
	"frame": "headset bottom-bracket hub hub-internals non-turn-washer skewer thru-axle axle-nut hanger rear-derailleur front-derailleur seatpost seat-clamp brake-caliper brake-adapter " +
		"disc-rotor tyre chain crankset cable-outer brake-hose mudguard rack lamp shock kickstand child-seat bottle-cage frame-lock drive-battery lamp-wire bolt",
	"fork": "headset crown-race headset-spacer top-cap stem hub dynamo skewer thru-axle axle-nut brake-caliper brake-adapter disc-rotor tyre mudguard rack lamp fork-seal service-kit " +
		"suspension-oil consumable bolt brake-hose cable-outer",
	"chain":            "cassette freewheel sprocket chainring rear-derailleur front-derailleur jockey-wheel motor-ring chain-joiner half-link chain-guard crankset lubricant cleaner",
	"crankset":         "chainring chainring-bolt chain-guard crank-arm bottom-bracket pedal bolt motor-ring front-derailleur cotter-pin",
	"chainring":        "chainring-bolt chain-guard front-derailleur rear-derailleur",
	"crank-arm":        "bottom-bracket pedal bolt",
	"pedal":            "cleat",
	"rear-derailleur":  "hanger shifter cable-inner cable-outer cassette freewheel consumable",
	"front-derailleur": "shifter cable-inner cable-outer",
	"shifter":          "cable-inner cable-outer cassette freewheel handlebar",
	"hub-shifter":      "handlebar hub-internals indicator-chain cable-inner cable-outer",
	"hub": "rim spoke axle hub-cone loose-balls cartridge-bearing freehub-body cassette freewheel sprocket disc-rotor skewer thru-axle axle-nut consumable " +
		"hub-internals hub-spare indicator-chain non-turn-washer grease peg stabiliser",
	"axle":           "hub-cone axle-nut skewer peg cartridge-bearing loose-balls",
	"freehub-body":   "cassette sprocket loose-balls cartridge-bearing",
	"hub-cone":       "loose-balls",
	"hub-internals":  "sprocket hub-spare indicator-chain non-turn-washer",
	"brake-lever":    "brake-caliper brake-hose cable-inner cable-outer handlebar seal-kit bleed-kit consumable lubricant",
	"brake-caliper":  "disc-pad rim-pad disc-rotor brake-adapter brake-hose cable-inner cable-outer rim seal-kit bleed-kit bolt consumable lubricant",
	"disc-pad":       "disc-rotor",
	"disc-rotor":     "brake-adapter bolt consumable",
	"rim-pad":        "rim",
	"rim":            "tyre tube rim-tape spoke nipple consumable dynamo mudguard rack",
	"tyre":           "tube rim-tape mudguard frame-lock rack consumable stabiliser",
	"tube":           "rim-tape consumable",
	"spoke":          "nipple wheel-magnet dynamo",
	"lamp":           "dynamo lamp-wire rack mudguard handlebar seatpost drive-battery",
	"dynamo":         "lamp-wire skewer thru-axle axle-nut",
	"seatpost":       "saddle seat-clamp rack child-seat consumable",
	"stem":           "handlebar headset headset-spacer top-cap basket consumable",
	"handlebar":      "bar-tape grip bar-plug bell display basket consumable",
	"grip":           "bar-plug",
	"bar-tape":       "bar-plug brake-lever",
	"headset":        "headset-bearing ball-cage loose-balls crown-race headset-spacer top-cap",
	"crown-race":     "headset-bearing ball-cage loose-balls",
	"bottom-bracket": "loose-balls ball-cage cartridge-bearing",
	"shock":          "service-kit suspension-oil",
	"drive-battery":  "charger display",
	"speed-sensor":   "wheel-magnet",
	"rack":           "basket child-seat",
	"cassette":       "consumable",
	"cable-inner":    "cable-outer consumable",
	"cable-outer":    "consumable",
	"brake-hose":     "consumable",
}

// unjoined are the pairs that touch and have no rule between them, by why.
var unjoined = []struct{ why, pairs string }{
	{"where it is bolted, clipped or strapped is not recorded of the other: the old one, or holding it there, tells",
		"basket+handlebar basket+stem display+handlebar fork+lamp frame+lamp handlebar+lamp handlebar+shifter " +
			"lamp+mudguard lamp+rack lamp+seatpost rack+seatpost child-seat+seatpost"},
	{"the thread of a hole is recorded of rotors, calipers and spindles alone: elsewhere the old bolt tells",
		"bolt+crank-arm bolt+fork"},
	{"only the drive maker's number names a spare",
		"chain+motor-ring charger+drive-battery crankset+motor-ring display+drive-battery drive-battery+frame " +
			"drive-battery+lamp speed-sensor+wheel-magnet spoke+wheel-magnet"},
	{"its maker's list names what goes in, and what came out vouches for it",
		"axle+cartridge-bearing dynamo+spoke"},
	{"the ball track is not among the dimensions: what came out is counted and measured",
		"axle+loose-balls ball-cage+crown-race crown-race+loose-balls hub-cone+loose-balls"},
	{"it goes by its label: purpose against purpose, fluid against fluid",
		"chain+cleaner chain+lubricant fork+suspension-oil grease+hub shock+suspension-oil consumable+tube"},
	{"both go by a third part, and the rule stands there",
		"crankset+front-derailleur seat-clamp+seatpost frame+service-kit hub+hub-internals hub+hub-spare " +
			"hub+indicator-chain hub+non-turn-washer hub-internals+non-turn-washer hub-shifter+indicator-chain " +
			"chain+chain-guard"},
	{"the one is not made for a kind or size of the other",
		"bar-plug+bar-tape bar-plug+grip bar-tape+brake-lever lamp+lamp-wire rim-tape+tube nipple+rim " +
			"frame+lamp-wire cable-inner+consumable cable-outer+consumable"},
	{"stops, guides and the slope of the ends are not recorded of frame and fork",
		"brake-hose+fork brake-hose+frame cable-outer+fork cable-outer+frame frame+non-turn-washer"},
	{"the sprocket does not say on which spline or driver it goes: the old one, or holding it on, tells",
		"freehub-body+sprocket hub-internals+sprocket"},
	{"a shim or sleeve is asked of the two that it stands between, and brought by their rule",
		"consumable+handlebar consumable+seatpost consumable+stem"},
}

func pairOf(a, b Family) string {
	if b < a {
		a, b = b, a
	}
	return string(a) + "+" + string(b)
}

// neighbours are all pairs of families whose parts touch on a bike.
func neighbours(t *testing.T) []string {
	pairs := map[string]bool{}
	for family, others := range touching {
		for _, other := range strings.Fields(others) {
			_, err := TableOf(Family(other))
			require.NoError(t, err)
			require.False(t, pairs[pairOf(family, Family(other))], "%s stands twice", pairOf(family, Family(other)))
			pairs[pairOf(family, Family(other))] = true
		}
	}
	for _, inner := range sites {
		for _, outer := range sites {
			if inner.Family != outer.Family && strings.HasPrefix(string(inner.Place), string(outer.Place)+".") {
				pairs[pairOf(inner.Family, outer.Family)] = true
			}
		}
	}
	return slices.Sorted(maps.Keys(pairs))
}

// Parts that touch are joined by a rule, or it is said why none is needed.
func TestEveryPairThatTouchesHasARule(t *testing.T) {
	why := map[string]string{}
	for _, some := range unjoined {
		for _, pair := range strings.Fields(some.pairs) {
			require.Empty(t, why[pair], "%s has two reasons", pair)
			why[pair] = some.why
		}
	}
	pairs := neighbours(t)
	none := 0
	touches := map[string]bool{}
	for _, pair := range pairs {
		a, b, _ := strings.Cut(pair, "+")
		touches[a], touches[b] = true, true
		joined := len(joints[[2]Family{Family(a), Family(b)}]) > 0
		require.False(t, joined && why[pair] != "", "%s: a rule joins them: strike the reason off", pair)
		require.True(t, joined || why[pair] != "", "%s: they touch, no rule joins them, and nobody says why", pair)
		if !joined {
			none++
			t.Logf("%-32s %s", pair, why[pair])
		}
	}
	for pair := range why {
		require.Contains(t, pairs, pair, "they do not touch: strike the reason off")
	}
	for _, table := range tables {
		bench := strings.HasPrefix(string(table.Sites[0].Place), "bench.")
		require.True(t, bench || touches[string(table.Family)], "what does a %s touch?", table.Family)
	}
	t.Logf("%d pairs of families touch, %d of them without a rule", len(pairs), none)
}

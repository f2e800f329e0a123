package inspection

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution"
)

// nothingElse are families of which neither a rule brings anything nor the bench gives anything, with why.
var nothingElse = map[substitution.Family]string{
	"frame": "it is never sold here", "chain-joiner": "it is what is wanted besides", "half-link": "it comes with its pin", "chainring-bolt": "bolt and nut come together", "bolt": "nothing",
	"crankset": "rings, bolts and bottom bracket are judged at their own places", "crank-arm": "its bolt is judged at its own place", "chain-guard": "its clips come with it", "motor-ring": "its lockring comes with the drive",
	"cleat": "bolts and plates come with it", "hub-shifter": "its cable is judged at its own place", "cartridge-bearing": "it is filled and sealed", "headset-spacer": "nothing", "top-cap": "its bolt comes with it",
	"indicator-chain": "its locknut comes with it", "non-turn-washer": "nothing", "hub-spare": "nothing", "rim-pad": "its washers come with it", "disc-pad": "pin and spring come with them",
	"mudguard": "stays and bolts come with it", "rack": "stays and bolts come with it", "basket": "its holder comes with it", "dynamo": "lamps and wire are judged at their own places", "lamp": "its wire is judged at its own place",
	"nipple": "nothing", "peg": "nothing", "stabiliser": "nothing", "cotter-pin": "nut and washer come with it", "axle-nut": "its washers come with it", "rim-tape": "nothing", "hanger": "its bolts come with it; that it is aligned is its work", "speed-sensor": "it is the maker's set", "wheel-magnet": "it is the maker's set",
	"saddle": "its clamp is the post's", "bell": "nothing", "bar-tape": "plugs are judged at their own place", "grip": "plugs are judged at their own place", "bar-plug": "nothing", "display": "it is the maker's set",
	"shock": "its mounts are the frame's, by its maker's list", "child-seat": "its bracket comes with it", "kickstand": "its plate and bolt come with it", "bottle-cage": "its bolts come with it", "lamp-wire": "plugs are crimped from what lies on the bench",
	"drive-battery": "its maker's number only", "charger": "its maker's number only", "suspension-oil": "it is what is wanted besides", "grease": "it is what is wanted besides", "lubricant": "it is what is wanted besides",
	"cleaner": "it is what is wanted besides", "consumable": "it is what is wanted besides", "bleed-kit": "it is what is wanted besides",
}

// Of every family it is said what else is needed: what its rules bring, what the bench gives, or that it is nothing.
func TestEveryFamilySaysWhatElseIsNeeded(t *testing.T) {
	for _, family := range substitution.Families() {
		table, err := substitution.TableOf(family)
		require.NoError(t, err)
		says := slices.ContainsFunc(table.Rules, func(r substitution.Rule) bool { return r.MayBring() }) ||
			slices.ContainsFunc(smearings, func(s smearing) bool { return s.family == family }) || slices.Contains(clamped, family) || slices.Contains(opened, family)
		if why, none := nothingElse[family]; none {
			require.False(t, says, "%s needs something: strike it off", family)
			require.NotEmpty(t, why)
			continue
		}
		require.True(t, says, "%s: what else is needed with it?", family)
	}
}

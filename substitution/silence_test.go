package substitution

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// silent are dimensions without which a rule that spoke against two parts says nothing more, or holds, by why that is right
// and what else asks. Each is a rule and the dimension of the family whose it is.
var silent = []struct{ why, of string }{
	{"where nobody names it the trade means the usual",
		"axle.hub/axle.kind axle-nut.axle/axle.kind peg.axle-kind/axle.kind hanger.frame/frame.hanger consumable.valve-tubular/rim.tubular brake-lever.shape/brake-lever.shape grip.bar/handlebar.shape dynamo.axle/dynamo.axle headset.kind/headset.kind headset.kind/fork.kind " +
			"hub.head/hub.head hub.head/spoke.head spoke.head/hub.head spoke.head/spoke.head saddle.rails/saddle.rails saddle.rails/seatpost.rails " +
			"chain.roller/chain.roller chain.roller/cassette.roller chainring.roller/chain.roller chainring.roller/chainring.roller chain-joiner.roller/chain.roller " +
			"chain-joiner.roller/chain-joiner.roller hanger.derailleur/hanger.derailleur_side rear-derailleur.hanger/rear-derailleur.mount pedal.arm/crankset.pedal_thread " +
			"rim-pad.rim/rim-pad.rim_material rim.hookless-tubes/rim.hookless rim-tape.tubular/rim.tubular tube.tubular/tyre.tubular tube.tubular-rim/rim.tubular " +
			"tyre.tubular/rim.tubular"},
	{"rule axle.length-as-was asks the old axle's length", "axle.stands/hub.oln_mm"},
	{"the rotor's own rule asks for the rating", "brake-adapter.fork-limit/fork.rotor_max_mm brake-adapter.frame-limit/frame.rotor_max_mm " +
		"brake-adapter.fork-limit-turned/fork.rotor_max_mm brake-adapter.frame-limit-turned/frame.rotor_max_mm"},
	{"a spline's usual length", "cassette.body/hub.body_mm cassette.short-body/hub.body_mm cassette.freehub-body/freehub-body.body_mm freehub-body.short/freehub-body.body_mm"},
	{"what a consumable is for stands on its label: without it nothing is asked",
		"cleaner.fluid/cleaner.purpose lubricant.fluid/lubricant.purpose consumable.fluid/consumable.purpose consumable.adapter-hub/consumable.purpose " +
			"consumable.adapter-rotor/consumable.purpose consumable.link/consumable.purpose consumable.lockring-axle/consumable.purpose consumable.lockring-set/consumable.purpose " +
			"consumable.star-nut/consumable.purpose consumable.steerer-fork/consumable.purpose consumable.threadless/consumable.purpose consumable.tubeless-tyre/consumable.purpose " +
			"consumable.tubular-rim/consumable.purpose consumable.tubular-tyre/consumable.purpose consumable.valve-depth/consumable.purpose consumable.valve-hole/consumable.purpose"},
	{"a maker that names one end of the range names the one that matters", "crankset.shell-narrow/crankset.shell_min_mm crankset.shell-wide/crankset.shell_max_mm"},
	{"a mount without a figure is made for the smallest rotor, which is on every list", "disc-rotor.fork-least/fork.rotor_min_mm disc-rotor.frame-least/frame.rotor_min_mm disc-rotor.fork-limit/fork.rotor_max_mm"},
	{"between two parts a third decides as well: the other lamp, the rings, the tube",
		"lamp.watts/lamp.watts lamp.watts/dynamo.watts rear-derailleur.largest-sprocket/rear-derailleur.teeth_max rear-derailleur.sprocket-range/rear-derailleur.capacity " +
			"tube.valve-depth/rim.depth_mm"},
	{"it follows from the speeds, and from the ring's position", "chain-joiner.chain-width/chain-joiner.chain_width chainring.chain-width/chainring.chain_width"},
	{"the rings that a crankset names are those that it has", "shifter.rings/crankset.teeth_outer shifter.rings/crankset.teeth_middle shifter.rings/crankset.teeth_inner"},
	{"the thread, or the code of the end, is asked", "freewheel.room/hub.oln_mm freewheel.room/freewheel.speeds sprocket.hub/hub.freehub thru-axle.fork/fork.axle thru-axle.frame/frame.axle " +
		"headset.upper/frame.head_upper_mm headset.lower/frame.head_lower_mm"},
	{"tape that does not say so is no tubeless tape, and is asked as a strip", "rim-tape.cloth-wide/rim-tape.tubeless rim-tape.tubeless-narrow/rim-tape.tubeless rim-tape.tubeless-wide/rim-tape.tubeless"},
	{"what stays in the steerer is asked of a new fork alone", "headset.preload/fork.preload headset.preload/fork.steerer_material"},
	{"an adapter of the other end is refused where its mount does not say that it is for tabs", "brake-adapter.fork/brake-adapter.mount_from brake-adapter.frame/brake-adapter.mount_from"},
	{"the axle is the bracket's where the crank does not say that it is of one piece", "crankset.one-piece/crankset.spindle_interface"},
}

// What is not known is not held to agree: a rule that spoke against two parts still asks when nobody knows one of the
// dimensions that it spoke of, or it is said why not. A quick release once fitted every hub whose axle nobody had looked at.
// The parts drawn are the same every time.
func TestNoRuleFallsSilent(t *testing.T) {
	why := map[string]string{}
	for _, some := range silent {
		for _, of := range strings.Fields(some.of) {
			require.Empty(t, why[of], "%s has two reasons", of)
			why[of] = some.why
			rule, dimension, _ := strings.Cut(of, "/")
			r, err := RuleByID(rule)
			require.NoError(t, err)
			family, name, _ := strings.Cut(dimension, ".")
			require.True(t, r.Decides(Family(family), name), "%s does not read %s", rule, dimension)
		}
	}
	spoke := 0
	pairsOfFamilies := slices.SortedFunc(maps.Keys(joints), func(a, b [2]Family) int { return strings.Compare(string(a[0]+a[1]), string(b[0]+b[1])) })
	for _, of := range pairsOfFamilies {
		if of[1] < of[0] {
			continue
		}
		for seed := range drawsOfAPair {
			spoke += fallsSilent(t, why, whole(of[0], seed), whole(of[1], 7*seed+3))
		}
	}
	t.Logf("%d answers against a pair asked again with less known", spoke)
	require.Positive(t, spoke)
}

// drawsOfAPair is how many parts of two families are held side by side.
const drawsOfAPair = 8

// whole is a part of which everything is known that does not contradict the rest.
func whole(family Family, seed int) *Part {
	return rapid.Custom(func(t *rapid.T) *Part { return likely(t, family, "", 10) }).Example(seed)
}

func fallsSilent(t *testing.T, why map[string]string, a, b *Part) (spoke int) {
	before := Together(a, b)
	for _, whose := range []*Part{a, b} {
		for _, name := range whose.Spec.Names() {
			if slices.Contains(placing, name) {
				continue // without it the place that suits is taken
			}
			less := *whose
			less.Spec = maps.Clone(whose.Spec)
			delete(less.Spec, name)
			x, y := &less, b
			if whose == b {
				x, y = a, &less
			}
			after := Together(x, y)
			asked := slices.ContainsFunc(after.Findings, func(f Finding) bool {
				return slices.ContainsFunc(f.Missing, func(m Missing) bool {
					site, _ := SiteOf(m.Place)
					return m.Dimension == name && site.Family == whose.Family
				})
			})
			for _, f := range before.Stops() {
				spoke++
				still := slices.ContainsFunc(after.Stops(), func(g Finding) bool { return g.Rule == f.Rule })
				of := fmt.Sprintf("%s/%s.%s", f.Rule.ID, whose.Family, name)
				if !still && !asked && f.Rule.Decides(whose.Family, name) {
					require.NotEmpty(t, why[of], "%s says no more, and nothing else asks: %s %s with %s %s: %s", of, a.Family, a.Spec, b.Family, b.Spec, f.Words)
				}
			}
		}
	}
	return spoke
}

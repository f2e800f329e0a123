package substitution

import "slices"

// bolted are the families of parts that a bolt, a nut or a thread of their own holds and that may bear the torque for it
// (common practice, no source). A chain, a pad or a tyre bears none, so nobody is asked for it.
var bolted = map[Family]bool{
	"stem": true, "handlebar": true, "grip": true, "headset": true, "top-cap": true, "fork": true, "frame": true, "shock": true,
	"seatpost": true, "seat-clamp": true, "saddle": true,
	"crankset": true, "crank-arm": true, "cotter-pin": true, "bottom-bracket": true, "chainring": true, "chainring-bolt": true, "chain-guard": true, "pedal": true, "cleat": true,
	"cassette": true, "front-derailleur": true, "rear-derailleur": true, "hanger": true, "shifter": true, "hub-shifter": true,
	"brake-caliper": true, "brake-lever": true, "brake-adapter": true, "disc-rotor": true,
	"hub": true, "freehub-body": true, "axle": true, "axle-nut": true, "skewer": true, "thru-axle": true, "bolt": true,
	"rack": true, "child-seat": true, "mudguard": true, "basket": true, "kickstand": true, "stabiliser": true, "peg": true,
	"lamp": true, "dynamo": true, "bell": true, "bottle-cage": true, "frame-lock": true,
}

// Asked are the dimensions that a form asks for: all that the family has, but the torque only of what is bolted. A list
// or a person may give it of any, and then it is asked again, so that it can be put right: known is what is on record.
func (t *Table) Asked(known Spec) []string {
	names := t.DimensionNames()
	if _, has := known["torque_nm"]; has || bolted[t.Family] {
		return names
	}
	return slices.DeleteFunc(names, func(name string) bool { return name == "torque_nm" })
}

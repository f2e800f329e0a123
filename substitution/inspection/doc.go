// Package inspection turns what a mechanic reads off a bike into what to do, and that into parts to get.
//
// A Finding says what is to happen at a place: keep, clean, adjust or replace. Readings (a chain's wear in per cent, a
// rotor's thickness, how a bearing feels) propose a finding by published limits; the mechanic decides. A bearing with
// play that turns smoothly wants adjusting, a rotor out of true wants truing: nothing that only needs adjusting is
// sold as a part. What a proposal sees past its own place it says as places to look at: a worn chain has worn sprockets.
//
// Needs are the parts that findings call for, with quantities: one cassette, two pads, and for a cup-and-cone hub that
// is opened all its balls by size and count, because the balls of a race are changed as a set.
//
// The package is pure, as substitution is.
package inspection

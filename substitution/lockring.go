package substitution

import (
	"slices"

	"stead/substitution/standard"
)

// Lockrings hold a cassette, a centre-lock rotor or a fixed sprocket. The old one goes on again where it still suits;
// where there was none, or one of another kind, the choice brings one.

// cassetteLockring is asked of cassettes that are known to come with or without their ring.
var cassetteLockring = Rule{
	ID: "cassette.lockring", Severity: Function,
	Says: "a set that comes without a lockring takes the old one, or one made for its smallest sprocket",
	Test: Custom{
		Geometry: true,
		Of:       []Ref{mine("lockring"), mine("teeth_min"), mine("freehub")},
		Judge: func(s Scene, at Place) Judgement {
			ring, smallest, body := s.side(mine("lockring"), at), s.side(mine("teeth_min"), at), s.side(mine("freehub"), at)
			if !ring.changed || !ring.known {
				return Judgement{}
			}
			sameBody := !body.known || !body.wasKnown || body.now.Equal(body.was)
			switch {
			case ring.now.Equal(Yes(true)):
				return Judgement{Answer: Holds, Words: "the set comes with its lockring"}
			case !smallest.known:
				return untold(smallest)
			case smallest.wasKnown && smallest.now.Equal(smallest.was) && sameBody:
				return Judgement{Answer: Holds, Before: true, Words: "the old lockring goes on again: " + smallest.words() + " as before"}
			}
			b := small("cassette-lockring", "cassette lockring for a smallest sprocket of "+smallest.dimension().Show(smallest.now), 1)
			b.Spec = b.Spec.With("teeth_min", smallest.now, FromStandard)
			return Judgement{Answer: Holds, Words: "the set comes without a lockring", Brings: []Bring{b}}
		},
	},
	Source: Source{"a mechanics' forum (bikeforums.net, 2020): 11T in place of 12T wants a lockring suited to 11T; that sets come with theirs is common practice", Handbook},
}

var rotorLockring = Rule{
	ID: "disc-rotor.lockring", Severity: Function,
	Says: "a centre-lock rotor has a lockring that lets the axle through: notched inside up to 12 mm, outside for 15 and 20 mm",
	Test: Custom{
		Of:    []Ref{mine("rotor_mount"), theirs("~.hub", "rotor_mount"), theirs("~.hub", "axle")},
		Judge: lockringOfRotor, Geometry: true,
	},
	Source: Source{"brainybiker.com and cyclabo.com on centre-lock lockrings", Handbook},
}

// lockringOfRotor lets the old ring go on again, unless there was none or the new axle does not pass through it.
func lockringOfRotor(s Scene, at Place) Judgement {
	rotor, hub, axle := s.side(mine("rotor_mount"), at), s.side(theirs("~.hub", "rotor_mount"), at), s.side(theirs("~.hub", "axle"), at)
	splines := Text("centre-lock")
	if !rotor.known || !hub.known || !rotor.now.Equal(splines) || !hub.now.Equal(splines) || !rotor.changed && !hub.changed {
		return Judgement{}
	}
	_, rotorWas := s.Was[at]
	had := rotor.wasKnown && rotor.was.Equal(splines) && hub.wasKnown && hub.was.Equal(splines)
	switch {
	case had && !hub.changed:
		return Judgement{Answer: Holds, Before: true, Words: "the old lockring goes on again"}
	case rotorWas && !rotor.wasKnown && !hub.changed:
		return Judgement{Answer: Holds, Before: true, Words: "the old lockring goes on again, unless an adapter held the old rotor"}
	}
	notches, told := ringFor(axle.now)
	if !told {
		return untoldAxle(axle)
	}
	if old, _ := ringFor(axle.was); had && (notches == "inside" || old == "outside") {
		return Judgement{Answer: Holds, Before: true, Words: "the old lockring goes on again: it clears the new axle too"}
	}
	b := small("rotor-lockring", "centre-lock lockring notched "+notches+", unless the rotor comes with one", 1)
	b.Spec = b.Spec.With("notches", Text(notches), FromStandard)
	return Judgement{Answer: Holds, Wanted: "notched " + notches, Words: "a lockring for " + axle.words(), Brings: []Bring{b}}
}

// untoldAxle asks for an axle that is not known, or whose diameter cannot be read off its word.
func untoldAxle(axle side) Judgement {
	axle.known = false
	return untold(axle)
}

// ringFor is where the lockring for an axle has its notches. The tool for a ring notched inside passes round 12 mm at
// the most; a ring notched outside clears every axle.
func ringFor(axle Value) (notches string, told bool) {
	if openEnds(axle) {
		return "inside", true
	}
	thru, err := standard.ParseThruAxle(axle.word)
	switch {
	case err != nil:
		return "", false
	case thru.DiameterMM <= 12:
		return "inside", true
	}
	return "outside", true
}

// sprocketLockring is asked of screwed sprockets: without a pawl the rider brakes through the thread.
var sprocketLockring = Rule{
	ID: "sprocket.lockring", Severity: Safety,
	Says: "a fixed sprocket is held by a lockring on a left-hand thread of its own: back-pedalling unscrews what has none",
	Test: Custom{
		Of:    []Ref{mine("fixing"), theirs("rear.hub", "lockring_thread"), theirs("rear.hub", "freehub")},
		Judge: lockringOfSprocket, Geometry: true,
	},
	Source: Source{"an urban cycling magazine (urbanvelo.org, issue 25): a fixed sprocket without a reverse-threaded lockring comes loose; mtb-news.de has the threads", Handbook},
}

func lockringOfSprocket(s Scene, at Place) Judgement {
	sprocket, hub := s.side(mine("fixing"), at), s.side(theirs("rear.hub", "lockring_thread"), at)
	if body := s.side(theirs("rear.hub", "freehub"), at); body.known && body.now.word != "threaded" {
		return Judgement{} // nothing is screwed on there
	}
	if !sprocket.known || !slices.Contains(inchHubThreads, sprocket.now.word) || !sprocket.changed && !hub.changed {
		return Judgement{}
	}
	switch had := sprocket.wasKnown && slices.Contains(inchHubThreads, sprocket.was.word); {
	case hub.known && hub.now.word == "none":
		return Judgement{Answer: Breaks, Wanted: "a left-hand thread for a lockring", Found: "none", Words: "the hub has no thread for a lockring"}
	case had && !hub.changed:
		return Judgement{Answer: Holds, Before: true, Words: "the old lockring goes on again"}
	case !hub.known:
		return untold(hub)
	default:
		ring := Spec{"fixing": {Value: Text(hub.now.word + " left"), Origin: FromStandard}}
		return Judgement{Answer: Holds, Found: hub.now.word + " left", Words: "the hub has a left-hand thread for a lockring, " + hub.now.word,
			Brings: []Bring{{Family: "sprocket", Spec: ring, Quantity: 1, Words: "lockring for a fixed sprocket, " + hub.now.word + " left"}}}
	}
}

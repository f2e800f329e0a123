package substitution

// headsetPreload is what the top cap of a threadless headset pulls on. It stays in the steerer when the headset goes, so
// it is asked only where the fork's is recorded, as that of a new fork without one.
var headsetPreload = Rule{
	ID: "headset.preload", Severity: Safety,
	Says: "the top cap pulls on a star nut in a metal steerer, on an expander in a carbon one: the star's prongs score carbon, and it may crack",
	Test: Custom{
		Of:    []Ref{theirs("fork", "preload"), theirs("fork", "steerer_material"), theirs("fork", "steerer_mm")},
		Judge: preloadOfFork, Geometry: true,
	},
	Source: Source{"ISO 4210-2 warns of devices that damage the bore of alloy and composite steerers; brainybiker.com, roadbikerider.com and a bike maker's page on star nuts", Handbook},
}

func preloadOfFork(s Scene, _ Place) Judgement {
	preload, steerer := s.side(theirs("fork", "preload"), ""), s.side(theirs("fork", "steerer_material"), "")
	carbon := steerer.known && steerer.now.word == "carbon"
	switch {
	case !preload.known || preload.now.word == "threaded":
		return Judgement{}
	case preload.now.word == "star-nut" && carbon:
		preload.known = false
		j := untold(preload)
		j.Wanted, j.Found, j.Words = "an expander", "star-nut", "a star nut in a carbon steerer, which few forks are made for: the fork maker's word, and look for scores and cracks"
		return j
	case preload.now.word != "none":
		return Judgement{Answer: Holds, Found: preload.now.word, Words: "the " + preload.now.word + " stays in the steerer"}
	case !steerer.known:
		return untold(steerer)
	case carbon:
		return Judgement{Answer: Holds, Wanted: "an expander", Words: "a carbon steerer wants an expander, never a star nut", Brings: []Bring{inSteerer(s, "steerer-expander", "expander")}}
	}
	return Judgement{Answer: Holds, Wanted: "a star nut", Words: "a steerer of " + steerer.now.word + " takes a star nut", Brings: []Bring{inSteerer(s, "star-nut", "star nut")}}
}

// inSteerer is a star nut or an expander; they are named by the outside diameter of the steerer that they go into.
func inSteerer(s Scene, purpose, words string) Bring {
	d := s.side(theirs("fork", "steerer_mm"), "")
	if !d.known {
		return small(purpose, words+" for the steerer", 1)
	}
	b := small(purpose, words+" for a steerer of "+d.dimension().Show(d.now), 1)
	b.Spec = b.Spec.With("steerer_mm", d.now, FromStandard)
	return b
}

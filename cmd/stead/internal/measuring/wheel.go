package measuring

import (
	"stead/substitution/measure"
)

func spokes() *Subject {
	var w measure.WheelBuild
	crosses := 3
	m := newSubject("spokes", "Work out how long a wheel's spokes are, both sides",
		"  stead measure spokes --erd 540 --flange 45 --left 35 --right 19 --spokes 36\n"+
			"  stead measure spokes --erd 327 --flange 89 --oln 116 --left-nut 25 \\\n      --right-nut 35 --hole 3.1 --spokes 36 --crosses 2", nil)
	m.identify = func() (measure.Result, error) {
		for _, side := range []*int{&w.CrossLeft, &w.CrossRight} {
			if *side < 0 {
				*side = crosses
			}
		}
		return w.Identify()
	}
	m.length(&w.ERD, "erd", "rim diameter at the nipples' slots")
	m.length(&w.FlangeLeft, "flange", "circle through a flange's spoke holes, across")
	m.length(&w.FlangeRight, "flange-right", "that of the right flange, if it is another")
	m.length(&w.OffsetLeft, "left", "left flange to the middle of the hub")
	m.length(&w.OffsetRight, "right", "right flange to the middle of the hub")
	m.length(&w.OLN, "oln", "or the hub's width over the locknuts")
	m.length(&w.LeftNut, "left-nut", "with left locknut to left flange")
	m.length(&w.RightNut, "right-nut", "and right locknut to right flange")
	m.length(&w.Hole, "hole", "spoke hole in the flange (default 2.5)")
	m.Flags.Float64Var(&w.DeductMM, "deduct", 0, "take off so much for the hole, in place of half of it")
	m.Flags.Float64Var(&w.RimOffset, "rim-offset", 0, "nipple holes off the rim's middle, towards the right")
	m.Flags.IntVar(&w.Spokes, "spokes", 0, "spokes in the wheel")
	m.Flags.IntVar(&crosses, "crosses", 3, "how many others a spoke crosses")
	m.Flags.IntVar(&w.CrossLeft, "cross-left", -1, "on the left, if it is another number")
	m.Flags.IntVar(&w.CrossRight, "cross-right", -1, "on the right, if it is another number")
	return m
}

func freehub() *Subject {
	var f measure.Freehub
	m := newSubject("freehub", "Name a freehub body by its length, and the sets that go on it",
		"  stead measure freehub --length 34.9", func() (measure.Result, error) { return f.Identify() })
	m.length(&f.Length, "length", "splines, from the shoulder to the outer end")
	spline := Word[string]{&f.Freehub, measure.Splines()}
	m.Flags.Var(spline, "spline", "the spline, where it is known: "+spline.List())
	return m
}

func lever() *Subject {
	var l measure.Lever
	m := newSubject("lever", "Say what a brake lever is for by the cable that it pulls",
		"  stead measure lever --pull 15 --tool ruler", func() (measure.Result, error) { return l.Identify() })
	m.length(&l.Pull, "pull", "cable pulled from rest to the bar")
	return m
}

func cable() *Subject {
	var c measure.Cable
	m := newSubject("cable", "Say whether a cable or its housing is for gears or brakes",
		"  stead measure cable --wire 1.6 --housing 5", func() (measure.Result, error) { return c.Identify() })
	m.length(&c.Inner, "wire", "diameter of the inner wire")
	m.length(&c.Outer, "housing", "outside of the housing")
	return m
}

package substitution

import "stead/substitution/standard"

var _ = families(&headset)

var headset = Table{
	Family: "headset", Plural: "headsets",
	Sites: []Site{
		{Place: "headset", Words: "headset", Safety: true},
	},
	Readings: houseReadings,
	Work: []Work{
		{Replace, "fit headset", 45},
		{Adjust, "adjust headset", 15},
		{Clean, "strip, clean and grease headset", 40},
	},
	Dimensions: []Dimension{
		word("upper", "upper end", "the open headset code: type, bore of the head tube, steerer: EC34/28.6"),
		word("lower", "lower end", "the open headset code: type, bore of the head tube, crown race seat: EC34/30"),
		millimetres("steerer_mm", "steerer diameter", 20, 60, "caliper under the stem"),
		millimetres("crown_mm", "crown race seat diameter", 20, 70, "caliper on the seat, race removed"),
	},
	Rules: []Rule{
		headsetEnd("headset.upper", "upper"),
		headsetEnd("headset.lower", "lower"),
		{
			ID: "headset.steerer", Severity: Mating,
			Says:   "the upper end goes round the fork's steerer",
			Test:   Custom{Of: []Ref{mine("steerer_mm"), mine("upper"), theirs("fork", "steerer_mm")}, Judge: headsetSeat("steerer_mm", "upper")},
			Source: bySHIS,
		},
		{
			ID: "headset.crown", Severity: Mating,
			Says:   "the crown race is the fork's seat: 26.4 and 27.0 mm are two standards of one inch",
			Test:   Custom{Of: []Ref{mine("crown_mm"), mine("lower"), theirs("fork", "crown_mm")}, Judge: headsetSeat("crown_mm", "lower")},
			Source: Source{"overwheel.net on 1 inch Italian and JIS; a headset maker's identification guide", Handbook},
		},
		headsetPreload,
		finishRule("headset"),
	},
}

var bySHIS = Source{"the open headset code, as a headset maker's overview has it: upper bore and steerer, lower bore and crown race seat", Catalogue}

// headsetEnd asks that type and bore of one end be what sat in the head tube; the second figure has its own rule.
func headsetEnd(id, dimension string) Rule {
	return Rule{
		ID: id, Severity: Mating,
		Says: "the " + dimension + " end sits in the head tube as the old one did: external, zero stack or integrated, and its bore",
		Test: Custom{Of: []Ref{mine(dimension)}, Judge: func(s Scene, at Place) Judgement {
			d := s.side(mine(dimension), at)
			was, errWas := standard.ParseHeadsetEnd(d.was.word)
			now, errNow := standard.ParseHeadsetEnd(d.now.word)
			if !d.changed || errWas != nil || errNow != nil {
				return Match{Mine: dimension}.judge(s, at)
			}
			j := Judgement{Answer: Holds, Before: true, Wanted: d.was.word, Found: d.now.word, Words: d.words() + ", and " + d.was.word + " was there"}
			if was.Type != now.Type || was.BoreMM != now.BoreMM {
				j.Answer, j.Before = Breaks, false
			}
			return j
		}},
		Source: bySHIS,
	}
}

// headsetSeat compares a diameter, read off the end's code where it is not given, with the fork's.
func headsetSeat(dimension, end string) func(Scene, Place) Judgement {
	read := func(p *Part) *Part {
		_, given := p.Get(dimension)
		code, coded := p.Get(end)
		if e, err := standard.ParseHeadsetEnd(code.word); p != nil && !given && coded && err == nil {
			return &Part{Family: p.Family, Spec: p.Spec.With(dimension, Num(e.SeatMM), FromStandard)}
		}
		return p
	}
	return func(s Scene, at Place) Judgement {
		was, now := read(s.Was[at]), read(s.Now[at])
		if s.kept(at) {
			now = was
		}
		known := Scene{Was: s.Was.With(at, was), Now: s.Now.With(at, now), Open: s.Open}
		return Match{Mine: dimension, Theirs: []Ref{theirs("fork", dimension)}, Within: 0.15}.judge(known, at)
	}
}

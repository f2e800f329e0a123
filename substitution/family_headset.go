package substitution

import (
	"strings"

	"stead/substitution/standard"
)

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
		threading, stackMM,
	},
	Agrees: []Agreement{headsetCodes},
	Rules: []Rule{
		headsetEnd("headset.upper", "upper"),
		headsetEnd("headset.lower", "lower"),
		{
			ID: "headset.kind", Severity: Safety,
			Says:   "a threaded headset on a threaded steerer, a threadless one on a plain steerer: both come under the same code",
			Test:   Match{Mine: "kind", Theirs: []Ref{theirs("fork", "kind")}, Usual: "threadless", Optional: true, Why: "the one has nuts on a thread, the other none"},
			Source: Source{"a Japanese component site on headset standards: EC has two types, threaded and threadless", TradePage},
		},
		{
			ID: "headset.stack", Severity: Mating,
			Says:   "its stack leaves the steerer as much room as the old one's: with less, spacers make it up; with more, the locknut finds no thread or the stem no steerer",
			Test:   Limit{Sum: []Term{plus(mine("stack_mm"))}, AtMost: []Ref{old("stack_mm")}, Optional: true, Plus: 0.5, Doubt: 10, Ask: "measure the spacers over the old headset: they may go"},
			Source: byStack,
		},
		{
			ID: "headset.steerer-length", Severity: Mating,
			When: []When{{Of: []Ref{theirs("fork", "steerer_length_mm")}, Known: true}, {Of: []Ref{theirs("frame", "head_tube_mm")}, Known: true}, {Of: []Ref{theirs("stem", "stack_mm")}, Known: true}, given("stack_mm")},
			Says: "head tube, headset and stem find room on the steerer, which ends a few millimetres under the stem's top; spacers make up what is left",
			Test: Span{
				Sum: []Term{plus(theirs("fork", "steerer_length_mm")), minus(theirs("frame", "head_tube_mm")), minus(mine("stack_mm")), minus(theirs("stem", "stack_mm"))},
				Low: -4, High: 60, Why: "the steerer is too short, or so long that spacers would stand higher than any fork maker allows",
			},
			Source: byStack,
		},
		{
			ID: "headset.steerer", Severity: Mating,
			Says:   "the upper end goes round the fork's steerer",
			Test:   Match{Mine: "steerer_mm", Theirs: []Ref{theirs("fork", "steerer_mm")}, Within: 0.15},
			Source: bySHIS,
		},
		{
			ID: "headset.crown", Severity: Mating,
			Says:   "the crown race is the fork's seat: 26.4 and 27.0 mm are two standards of one inch, and the code writes whole millimetres",
			Test:   Custom{Of: []Ref{mine("crown_mm"), theirs("fork", "crown_mm")}, Judge: crownOnFork, Geometry: true},
			Source: Source{"overwheel.net on 1 inch Italian and JIS; a headset maker's identification guide; roadbikereview.com: the seat of the 1 1/4 inch code 33 is 33.06", Handbook},
		},
		headsetPreload,
		finishRule("headset"),
	},
}

var (
	bySHIS  = Source{"the open headset code, as a headset maker's overview has it: upper bore and steerer, lower bore and crown race seat", Catalogue}
	byStack = Source{"an encyclopedia's article on the headset: stack height is critical, because a headset with a greater stack does not fit", Handbook}
)

// headsetEnd asks that type and bore of one end be what sat in the head tube; the second figure has its own rule. Where the
// head tube's bore is known an end of that bore goes in, whatever stands out of it.
func headsetEnd(id, dimension string) Rule {
	bore := theirs("frame", "head_"+dimension+"_mm")
	return Rule{
		ID: id, Severity: Mating,
		Says: "the " + dimension + " end sits in the head tube as the old one did: external, zero stack or integrated, and its bore",
		Test: Custom{Of: []Ref{mine(dimension), bore}, Geometry: true, Judge: func(s Scene, at Place) Judgement {
			d, tube := s.side(mine(dimension), at), s.side(bore, at)
			was, errWas := standard.ParseHeadsetEnd(d.was.word)
			now, errNow := standard.ParseHeadsetEnd(d.now.word)
			if errNow == nil && tube.known {
				return endInTube(d, tube, now.BoreMM)
			}
			if !d.changed || errWas != nil || errNow != nil {
				return Match{Mine: dimension}.judge(s, at)
			}
			j := Judgement{Answer: Holds, Before: true, Wanted: d.was.word, Found: d.now.word, Words: d.words() + ", and " + d.was.word + " was there"}
			pressed := was.Type != "IS" && now.Type != "IS"
			switch {
			case was.Type == now.Type && was.BoreMM == now.BoreMM:
			case pressed && was.BoreMM == now.BoreMM:
				j.Answer, j.Before = CantTell, false
				j.Words += ": the bore is the same, and the cup stands out more or less: measure the stack"
				j.Missing = []Missing{{Place: at, Dimension: "stack_mm", Measure: stackMM.Measure}}
			default:
				j.Answer, j.Before = Breaks, false
			}
			return j
		}},
		Source: bySHIS,
	}
}

// How far a bore lies off the whole millimetres that the code writes: 34.1 is a 34, 41.2 a 41. A little further off it
// may be that code's all the same, and a bearing of 41.0 falls through a seat for 41.8.
const (
	boreWithin = 0.3
	boreDoubt  = 0.65
)

// endInTube compares an end's bore with the one that was measured: a cup's, or an integrated bearing's seat.
func endInTube(d, tube side, bore float64) Judgement {
	j := Judgement{Answer: Holds, Wanted: figure(tube.now.number) + " mm", Found: d.now.word, Words: d.words() + " in " + tube.words()}
	switch {
	case near(bore, tube.now.number, boreWithin):
	case near(bore, tube.now.number, boreDoubt):
		j.Answer, j.Missing = CantTell, []Missing{tube.missing()}
		j.Words += ": the code writes whole millimetres; read the code on the old cup or bearing"
	default:
		j.Answer = Breaks
	}
	return j
}

// headsetCodes: the code of an end names steerer and crown race seat, and a cup that hides in the head tube is threadless.
func headsetCodes(p *Part) []Follows {
	var out []Follows
	if code, known := p.Get("upper"); known {
		if end, err := standard.ParseHeadsetEnd(code.word); err == nil {
			out = append(out, Follows{Dimension: "steerer_mm", Value: Num(end.SeatMM), Within: 0.3, Because: "upper " + code.word})
			if !strings.HasPrefix(code.word, "EC") {
				out = append(out, Follows{Dimension: "kind", Value: Text("threadless"), Because: "upper " + code.word})
			}
		}
	}
	if code, known := p.Get("lower"); known {
		if end, err := standard.ParseHeadsetEnd(code.word); err == nil {
			seat := Follows{Dimension: "crown_mm", Value: Num(end.SeatMM), Within: 0.3, Because: "lower " + code.word}
			if had, given := p.Get("crown_mm"); given && standard.SameCrownSeat(had.number, end.SeatMM) {
				seat.Loose = true
			}
			out = append(out, seat)
		}
	}
	return out
}

// crownOnFork compares by the table of codes and seats, never by subtraction alone: 26 means 26.4, 27 is another seat.
func crownOnFork(s Scene, at Place) Judgement {
	return crownSeats(s.side(mine("crown_mm"), at), s.side(theirs("fork", "crown_mm"), at))
}

func crownAsOld(s Scene, at Place) Judgement {
	me := s.side(mine("crown_mm"), at)
	if !me.known && !me.wasKnown {
		return Judgement{}
	}
	return crownSeats(me, side{})
}

func crownSeats(me, you side) Judgement {
	if !me.known || !you.known {
		changed, ok := evidence(me, you)
		if !ok {
			if you.place == "" {
				return untoldOld(me)
			}
			return untold(me, you)
		}
		me, you = changed, changed
		you.now = changed.was
		you.old = true
	}
	j := Judgement{Answer: Holds, Wanted: you.now.String() + " mm", Found: me.now.String() + " mm", Words: me.words() + " on " + you.words(), Before: you.old}
	if !standard.SameCrownSeat(me.now.number, you.now.number) {
		j.Answer, j.Before = Breaks, false
	}
	return j
}

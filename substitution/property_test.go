package substitution

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// anyPart draws a part of a family with some of its dimensions, often sizes that others of the family share.
func anyPart(t *rapid.T, family Family, label string) *Part {
	table, err := TableOf(family)
	require.NoError(t, err)
	spec := Spec{}
	for _, name := range table.DimensionNames() {
		if !rapid.Bool().Draw(t, label+name) {
			continue
		}
		d, _ := table.Dimension(name)
		spec[name] = Fact{Value: anyValue(t, d, label+name), Origin: Measured}
	}
	return &Part{Family: family, Spec: spec}
}

func anyValue(t *rapid.T, d Dimension, label string) Value {
	step := rapid.IntRange(0, 3).Draw(t, label)
	size := float64(int(d.Low + float64(step)*(d.High-d.Low)/40 + 1))
	switch d.Form {
	case Number:
		return Num(size)
	case Int:
		return Count(int(size))
	case Flag:
		return Yes(step%2 == 0)
	case Ints:
		return List(7+step, 8+step/2)
	}
	if len(d.Words) > 0 {
		return Text(d.Words[step%min(3, len(d.Words))])
	}
	return Text([]string{"a", "b", "friction", "clamp"}[step])
}

// anyScene draws a bike, some of it recorded and some of it new.
func anyScene(t *rapid.T) Scene {
	s := Scene{Was: Build{}, Now: Build{}, Open: map[Place]bool{}}
	for _, site := range sites {
		label := string(site.Place)
		switch rapid.IntRange(0, 5).Draw(t, label) {
		case 0, 1: // not recorded
		case 2:
			s.Was[site.Place], s.Now[site.Place] = nil, nil
		case 3:
			s.Now[site.Place] = anyPart(t, site.Family, label+" new ")
			s.Was[site.Place] = anyPart(t, site.Family, label+" old ")
		default:
			kept := anyPart(t, site.Family, label)
			s.Was[site.Place], s.Now[site.Place] = kept, kept
		}
		if rapid.IntRange(0, 7).Draw(t, label+" open") == 0 {
			s.Open[site.Place] = true
		}
	}
	return s
}

// A part that the engine accepts is never dropped by the conditions that narrow the search for it.
func TestNarrowNeverDropsWhatFits(t *testing.T) {
	accepted := 0
	rapid.Check(t, func(t *rapid.T) {
		s := anyScene(t)
		for _, site := range sites { // every place: what is wrong is often wrong in one
			conditions := s.Narrow(site.Place)
			for i := range 2 {
				candidate := anyPart(t, site.Family, fmt.Sprint("candidate ", i, " ", site.Place))
				v := s.Choose(site.Place, candidate).Check(site.Place)
				if v.Fits != Holds {
					continue
				}
				accepted++
				for _, c := range conditions {
					require.True(t, c.Admits(candidate), "%s at %s fits and is dropped by %#v", candidate.Spec, site.Place, c)
				}
			}
		}
	})
	require.Positive(t, accepted, "no drawn part was accepted: the property was not put to the test")
}

// A rule holds on what is known and never on what is absent, unless the old part vouches. Custom rules say so by their
// cases; the kinds say so here.
func TestHoldsOnlyOnWhatIsKnown(t *testing.T) {
	held := 0
	rapid.Check(t, func(t *rapid.T) {
		s := anyScene(t)
		site := rapid.SampledFrom(sites).Draw(t, "place")
		for _, in := range Instances(site.Place) {
			j := s.Judge(in)
			require.Equal(t, j.Answer == 0, j.Words == "", "%s answers without words, or speaks without an answer", in.Rule().ID)
			if j.Answer != Holds || j.Before || s.byCrank(in) {
				continue
			}
			held++
			at := in.At()
			switch test := in.Rule().Test.(type) {
			case Match:
				me, you := s.side(mine(test.Mine), at).known, s.first(test.Theirs, at).known
				for _, ref := range test.Theirs {
					you = you || test.Any && s.side(ref, at).known
				}
				require.True(t, me && (you || test.Usual != "" || test.Each) || you && test.Usual != "", in.Rule().ID)
			case Share:
				require.True(t, s.side(mine(test.Mine), at).known && s.first(test.Theirs, at).known, in.Rule().ID)
			case Limit:
				require.True(t, test.weigh(s, at, "").leftKnown || test.Lowest > 0, in.Rule().ID)
			case Is:
				require.True(t, s.side(mine(test.Mine), at).known, in.Rule().ID)
			case Lookup:
				known := 0
				for _, ref := range test.Of {
					if s.side(ref, at).known {
						known++
					}
				}
				require.Positive(t, known, in.Rule().ID)
			}
		}
	})
	require.Positive(t, held, "nothing held: the property was not put to the test")
}

// byCrank tells whether a new crankset's rings stand in for what the scene records.
func (s Scene) byCrank(in Instance) bool {
	return !s.kept("crank") && slices.Contains(in.Places(), "crank")
}

// A part of which nothing is known is refused only where every part of its family is: a cable has no place in a hydraulic
// brake and a bolt none beside a rotor that a lockring holds, whatever it is. Where some part would do, the blank may be it.
func TestNothingKnownIsRefusedWhereAllAre(t *testing.T) {
	refused := 0
	rapid.Check(t, func(t *rapid.T) {
		s := anyScene(t)
		for _, site := range sites { // every place: few refuse a blank
			broken := breaks(s, site.Place, &Part{Family: site.Family, Spec: Spec{}})
			if len(broken) == 0 {
				continue
			}
			refused++
			for i := range 4 {
				other := anyPart(t, site.Family, fmt.Sprint("other ", i, " ", site.Place))
				for _, ring := range ringPlaces { // a crankset that names no rings is a bare one, and so is the blank
					delete(other.Spec, ring.teeth)
				}
				others := breaks(s, site.Place, other)
				for in, words := range broken {
					require.Contains(t, others, in, "%s at %s breaks %s (%s) when nothing is known of it, and not as %v", site.Family, site.Place, in.rule.ID, words, other.Spec)
				}
			}
		}
	})
	require.Positive(t, refused, "no blank was refused: the property was not put to the test")
}

// breaks are the mating and safety rules that a part breaks at a place, each with its words.
func breaks(s Scene, at Place, p *Part) map[brokenAt]string {
	out := map[brokenAt]string{}
	for _, f := range s.Choose(at, p).Check(at).Findings {
		if f.Answer == Breaks && f.Rule.Severity.Stops() {
			out[brokenAt{f.Rule, f.At}] = f.Words
		}
	}
	return out
}

type brokenAt struct {
	rule *Rule
	at   Place
}

func TestTogetherIsSymmetric(t *testing.T) {
	families := Families()
	rapid.Check(t, func(t *rapid.T) {
		a := anyPart(t, rapid.SampledFrom(families).Draw(t, "a"), "a ")
		b := anyPart(t, rapid.SampledFrom(families).Draw(t, "b"), "b ")
		ab, ba := Together(a, b), Together(b, a)
		require.Equal(t, ab.Fits, ba.Fits, "%s with %s: %v, turned round %v", a.Family, b.Family, ab.Findings, ba.Findings)
		require.Len(t, ba.Findings, len(ab.Findings))
	})
}

// A rule answers from what it says it reads, and from nothing else: the solver asks it once for all parts that are
// alike there.
func TestRulesReadWhatTheySay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyScene(t)
		site := rapid.SampledFrom(sites).Draw(t, "place")
		for _, in := range Instances(site.Place) {
			require.Equal(t, s.Judge(in).Answer, onlyRead(s, in.Reads()).Judge(in).Answer, "%s at %s", in.Rule().ID, in.At())
		}
	})
}

// onlyRead is a scene of which nothing is known but the dimensions that were named.
func onlyRead(s Scene, refs []Ref) Scene {
	cut := func(place Place, p *Part) *Part {
		if p == nil {
			return nil
		}
		spec := Spec{}
		for _, ref := range refs {
			for name, fact := range p.Spec {
				if ref.Place == place && (ref.Dimension == "" || ref.Dimension == name) {
					spec[name] = fact
				}
			}
		}
		return &Part{Family: p.Family, Spec: spec}
	}
	out := Scene{Was: Build{}, Now: Build{}, Open: s.Open}
	for place, part := range s.Was {
		out.Was[place] = cut(place, part)
	}
	for place, part := range s.Now {
		out.Now[place] = out.Was[place]
		if !s.kept(place) {
			out.Now[place] = cut(place, part)
		}
	}
	return out
}

// Check and Judge are one engine: what the one finds for all rules, the other finds for each.
func TestJudgeAgreesWithCheck(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyScene(t)
		site := rapid.SampledFrom(sites).Draw(t, "place")
		s = s.Choose(site.Place, anyPart(t, site.Family, "chosen "))
		var one []Finding
		for _, in := range Instances(site.Place) {
			if j := s.Judge(in); j.Answer != 0 {
				one = append(one, Finding{in.Rule(), in.At(), j})
			}
		}
		require.Equal(t, s.Check(site.Place).Findings, one)
	})
}

// The same part again breaks nothing that compares it with what was there.
func TestTheSameAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		site := rapid.SampledFrom(sites).Draw(t, "place")
		was := anyPart(t, site.Family, "part ")
		again := *was
		v := InsteadOn(nil, was, &again, site.Place)
		for _, f := range v.Findings {
			switch f.Rule.Test.(type) {
			case Match, Share, Limit, Lookup, Same:
				require.NotEqual(t, Breaks, f.Answer, "%s: %s", f.Rule.ID, f.Words)
			}
		}
		require.Equal(t, site.Safety && !likeForLike(was, &again), len(v.Cautions) == 1, "of an unknown part nobody knows that it is the same")
	})
}

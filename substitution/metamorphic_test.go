package substitution

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Properties that hold of every family, drawn from the tables themselves: a family or a rule that is added is held to them
// without another line.

// samples are values of the dimensions that are read and not listed.
var samples = map[string][]string{
	"thread": {"M10x1", "3/8x26", "1.37x24"}, "axle": {"qr", "solid", "12x142"}, "upper": {"EC34/28.6", "ZS44/28.6"}, "lower": {"EC34/30", "ZS56/40"},
	"fixing": {"1.37x24", "3-lug", "freehub"}, "mount": {"post", "flat", "57mm"}, "direct_mount": {"3-bolt", "8-bolt"},
	"designation": {"6902", "6001"},
}

// codes are samples of what only its maker's or the shop's code names.
var codes = []string{"A1", "B2", "F34-2021"}

// valuesOf are some values that a dimension can have, each different from the others.
func valuesOf(d Dimension) []Value {
	var out []Value
	switch d.Form {
	case Number, Int:
		parts := []float64{0.2, 0.3, 0.5}
		if d.High-d.Low < 5 {
			parts = append(parts, 1) // of few figures the last as well
		}
		for _, part := range parts {
			x := float64(int(d.Low + part*(d.High-d.Low)))
			if v, err := d.Check(Num(max(x, d.Low))); err == nil && !slices.ContainsFunc(out, v.Equal) {
				out = append(out, v)
			}
		}
	case Flag:
		return []Value{Yes(true), Yes(false)}
	case Ints:
		low, high := int(d.Low), int(d.High)
		if low < 8 && high > 10 {
			low, high = 8, 10
		}
		return []Value{List(low), List(high), List(low, low+1)}
	case Word:
		for _, w := range d.Words {
			out = append(out, Text(w))
		}
		texts := samples[d.Name]
		if len(out)+len(texts) == 0 {
			texts = codes
		}
		for _, text := range texts {
			if v, err := d.Check(Text(text)); err == nil && !slices.ContainsFunc(out, v.Equal) {
				out = append(out, v)
			}
		}
	}
	return out
}

// likely draws a part of a family that does not contradict itself; each of its own dimensions is known so often out of ten.
func likely(t *rapid.T, family Family, label string, often int) *Part {
	table, err := TableOf(family)
	require.NoError(t, err)
	part := Part{Family: family, Spec: Spec{}}
	for _, d := range table.Dimensions {
		if rapid.IntRange(1, 10).Draw(t, label+d.Name) > often {
			continue
		}
		with := Part{Family: family, Spec: part.Spec.With(d.Name, rapid.SampledFrom(valuesOf(d)).Draw(t, label+"="+d.Name), Measured)}
		if checked, err := with.Check(); err == nil {
			part = checked
		}
	}
	return &part
}

func anyFamily(t *rapid.T, label string) Family { return rapid.SampledFrom(Families()).Draw(t, label) }

func instead(t require.TestingT, was, now *Part) Verdict {
	v, err := Instead(was, now)
	require.NoError(t, err)
	return v
}

// The identical part fits in its own stead, and so does one that differs in looks alone.
func TestTheIdenticalPartFits(t *testing.T) {
	fitted := map[Family]int{}
	rapid.Check(t, func(t *rapid.T) {
		family := anyFamily(t, "family")
		part := likely(t, family, "", rapid.IntRange(1, 10).Draw(t, "known"))
		part.Name = "the part"
		again := *part
		again.Spec = part.Spec.With("pack", Count(2), Measured)
		delete(again.Spec, "pack")
		v := instead(t, part, &again)
		if len(part.Spec) > 0 {
			require.True(t, v.Acceptable(), "%s %s: %v", family, part.Spec, v.Stops())
			require.Empty(t, v.Deviations(), "%s %s", family, part.Spec)
			fitted[family]++
		}
		other := *part
		other.Spec = part.Spec.With("colour", Text("red"), Measured)
		require.NotEqual(t, Breaks, instead(t, part, &other).Fits, "%s %s in red", family, part.Spec)
	})
	t.Logf("%d families drawn", len(fitted))
}

// A part that is like the old one by all that decides fits, whatever its colour. What can't be told even so hangs on
// something of its own that neither says.
func TestLikeForLikeFits(t *testing.T) {
	for _, family := range Families() {
		rapid.Check(t, func(t *rapid.T) {
			part := likely(t, family, "", 10)
			other := *part
			other.Spec = part.Spec.With("colour", Text("red"), Measured)
			for _, f := range instead(t, part, &other).Stops() {
				unsaid := slices.ContainsFunc(f.Missing, func(m Missing) bool {
					site, err := SiteOf(m.Place)
					_, known := part.Get(m.Dimension)
					return err == nil && site.Family == family && !known
				})
				require.True(t, unsaid || byHand[f.Rule.ID] != "", "%s %s: %s: %s", family, part.Spec, f.Rule.ID, f.Words)
			}
		})
	}
}

// byHand are rules that no dimension settles: the new part is held against the old one.
var byHand = map[string]string{
	"hub-cone.track":            "the ball track is not among the dimensions, and numbers that differ are held together",
	"freehub-body.hub":          "the seat on the hub is not among the dimensions, and numbers that differ are held together",
	"fork.brake-mount":          "a hole for one bolt does not say how far down the rim is",
	"brake-caliper.mount-front": "one bolt does not say how far down the pads are",
	"brake-caliper.mount-rear":  "one bolt does not say how far down the pads are",
}

// Turned round, the question of two parts has the same answer, for the same reasons.
func TestPairTurnedRound(t *testing.T) {
	asked := 0
	rapid.Check(t, func(t *rapid.T) {
		a := likely(t, anyFamily(t, "a"), "a ", 8)
		b := likely(t, anyFamily(t, "b"), "b ", 8)
		ab, ba := Together(a, b), Together(b, a)
		require.Equal(t, ab.Fits, ba.Fits, "%s %s with %s %s", a.Family, a.Spec, b.Family, b.Spec)
		require.Equal(t, rulesOf(ab), rulesOf(ba))
		require.ElementsMatch(t, ab.Brings(), ba.Brings())
		asked += len(ab.Findings)
	})
	require.Positive(t, asked)
}

func rulesOf(v Verdict) []string {
	var ids []string
	for _, f := range v.Findings {
		ids = append(ids, f.Rule.ID)
	}
	return ids
}

// A pair, and the one part at its place beside the other, are one question: what the pair finds between the two is what
// the place finds, at the kindest of the places where they can be.
func TestPairAndPlaceAgree(t *testing.T) {
	compared := 0
	rapid.Check(t, func(t *rapid.T) {
		joined := rapid.SampledFrom(Instances(sites[rapid.IntRange(0, len(sites)-1).Draw(t, "site")].Place)).Draw(t, "rule")
		places := joined.Places()
		if len(places) < 2 {
			return
		}
		p, q := places[0], rapid.SampledFrom(places[1:]).Draw(t, "neighbour")
		one, _ := SiteOf(p)
		other, _ := SiteOf(q)
		a, b := likely(t, one.Family, "a ", 9), likely(t, other.Family, "b ", 9)
		if !slices.Contains(placesFor(a), p) || !slices.Contains(placesFor(b), q) {
			return
		}
		pair := map[string]Answer{}
		for _, f := range Together(a, b).Findings {
			pair[f.Rule.ID] = f.Answer
		}
		beside := Build{q: b}
		for _, f := range (Scene{Was: Build{}, Now: beside.With(p, a)}).Check(p).Findings {
			in := Instance{newInstance(f.Rule, f.At)}
			between := slices.Contains(in.Places(), p) && slices.Contains(in.Places(), q)
			third := slices.ContainsFunc(f.Missing, func(m Missing) bool { return m.Place != p && m.Place != q })
			if kindest, asked := pair[f.Rule.ID]; between && asked && !third {
				require.LessOrEqual(t, kindest, f.Answer, "%s: %s %s with %s %s", f.Rule.ID, a.Family, a.Spec, b.Family, b.Spec)
				compared++
			}
		}
	})
	require.Positive(t, compared)
}

// A stand-in that is asked of a bike and one asked without are one question where the bike tells nothing more.
func TestInsteadAndPlaceAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		family := anyFamily(t, "family")
		was, now := likely(t, family, "was ", 9), likely(t, family, "now ", 9)
		v := instead(t, was, now)
		worst := NoRule
		for _, at := range PossiblePlaces(was, now) {
			build := Build{at: was}.Complete()
			worst = max(worst, Scene{Was: build, Now: build, Open: map[Place]bool{at: true}}.Choose(at, now).Check(at).Fits)
		}
		if !alikeInAll(was, now) {
			require.Equal(t, worst, v.Fits, "%s %s in the stead of %s", family, now.Spec, was.Spec)
		}
	})
}

// silenceSays are dimensions whose silence says something, with what: where nobody names it the trade means the usual.
// Each is of one family: of another that has a dimension of that name silence says nothing.
var silenceSays = map[string]string{
	"suspension-oil.cst":         "the weight is asked where the viscosity is not on record",
	"brake-caliper.actuation":    "where it is not said what works the brake, cable and hose are judged at lever and caliper",
	"brake-caliper.fluid":        "two parts of one system hold the same fluid",
	"brake-caliper.hose":         "between two parts that do not both name it the rest is asked",
	"brake-caliper.system":       "between two parts that do not both name it the rest is asked",
	"brake-hose.hose":            "between two parts that do not both name it the rest is asked",
	"brake-hose.length_mm":       "hoses are sold longer than any bike needs and are cut",
	"brake-hose.system":          "between two parts that do not both name it the rest is asked",
	"brake-lever.actuation":      "where it is not said what works the brake, cable and hose are judged at lever and caliper",
	"brake-lever.bore_mm":        "grips and levers of 22.2 mm on bars that say nothing",
	"brake-lever.fluid":          "two parts of one system hold the same fluid",
	"brake-lever.shape":          "a bar of the old one's shape",
	"brake-lever.system":         "between two parts that do not both name it the rest is asked",
	"cable-inner.length_mm":      "cables are sold longer than any bike needs and are cut",
	"cable-inner.nipple":         "its use is asked, and the head where both name what it is for",
	"cable-outer.length_mm":      "housing is sold longer than any bike needs and is cut",
	"cassette.roller":            "standard rollers, unless the large ones are named",
	"cassette.teeth_max":         "between two parts that do not speak of it the speeds are asked",
	"chain-joiner.chain_width":   "follows from the speeds, and from the ring's position",
	"chain-joiner.roller":        "standard rollers, unless the large ones are named",
	"chain.chain_width":          "follows from the speeds, and from the ring's position",
	"chain.links":                "chains are sold longer than any bike needs and are cut",
	"chain.roller":               "standard rollers, unless the large ones are named",
	"chainring.bolt_pattern":     "bolts and circle are asked; pattern and spline where one of the two has them",
	"chainring.chain_width":      "follows from the speeds, and from the ring's position",
	"chainring.direct_mount":     "bolts and circle are asked; pattern and spline where one of the two has them",
	"chainring.roller":           "standard rollers, unless the large ones are named",
	"chainring.teeth":            "it says which ring of a set this may be, as its position does",
	"crankset.bolt_pattern":      "bolts and circle are asked; pattern and spline where one of the two has them",
	"crankset.direct_mount":      "bolts and circle are asked; pattern and spline where one of the two has them",
	"crankset.pedal_thread":      "9/16, unless the axle is of one piece with the arms",
	"crankset.roller":            "standard rollers, unless the large ones are named",
	"crankset.shell_max_mm":      "a maker that names one end of the range names the one that matters",
	"crankset.shell_min_mm":      "a maker that names one end of the range names the one that matters",
	"crankset.spindle_interface": "cranks with an axle of their own go by the shell's width, and one of one piece by its shell besides",
	"crankset.teeth_inner":       "the rings that a crankset names are those that it has",
	"crankset.teeth_middle":      "the rings that a crankset names are those that it has",
	"crankset.teeth_outer":       "the rings that a crankset names are those that it has",
	"dynamo.oln_mm":              "width and ends are asked where both name them; else which wheel it is for",
	"fork.axle":                  "the thread of its axle is asked",
	"fork.kind":                  "follows from what the top cap pulls on",
	"fork.oln_mm":                "width and ends are asked where both name them; else which wheel it is for",
	"fork.rotor_max_mm":          "the smallest rotors go under every limit",
	"fork.rotor_min_mm":          "mounts are made for the smallest rotor, unless a larger one is named",
	"fork.steerer_mm":            "the kind of fork is still asked",
	"frame.axle":                 "the thread of its axle is asked",
	"frame.oln_mm":               "width and ends are asked where both name them; else which wheel it is for",
	"frame.rotor_max_mm":         "the smallest rotors go under every limit",
	"frame.rotor_min_mm":         "mounts are made for the smallest rotor, unless a larger one is named",
	"freehub-body.body_mm":       "a spline's usual length",
	"freewheel.teeth_max":        "between two parts that do not speak of it the speeds are asked",
	"front-derailleur.mount":     "its clamp says how it is held",
	"grip.bore_mm":               "grips and levers of 22.2 mm on bars that say nothing",
	"handlebar.grip_mm":          "grips and levers of 22.2 mm on bars that say nothing",
	"hanger.derailleur_side":     "of two hangers the code of the shape says it",
	"headset.kind":               "threadless above 1 inch",
	"hub.body_mm":                "a spline's usual length",
	"hub.freehub":                "a thread for a sprocket says it",
	"hub.head":                   "bent spokes",
	"hub.oln_mm":                 "width and ends are asked where both name them; else which wheel it is for",
	"kickstand.length_mm":        "stands are cut or set to their length",
	"lamp-wire.length_mm":        "wire is sold longer than any bike needs and is cut",
	"rear-derailleur.capacity":   "between two parts the rings, of which nobody spoke, decide as well",
	"rear-derailleur.teeth_max":  "between two parts that do not speak of it the speeds are asked",
	"rim-pad.rim_material":       "rims of metal, unless the pad is for carbon",
	"rim-tape.bead_mm":           "tape from a roll goes on any rim",
	"rim-tape.tubeless":          "a strip of unknown kind is held to the rim's width",
	"rim.bead_mm":                "tape from a roll goes on any rim",
	"rim.depth_mm":               "the valve's hole and the bead seat are still asked",
	"rim.tubular":                "tyres with beads and rims for them, unless they are called tubular",
	"saddle.rails":               "round rails of 7 mm",
	"seal-kit.fluid":             "between two parts that do not both name it the rest is asked",
	"seal-kit.system":            "between two parts that do not both name it the rest is asked",
	"seat-clamp.length_mm":       "clamps are sold by their diameter; how high one is is asked where somebody names it",
	"seatpost.kind":              "a rigid post",
	"seatpost.rails":             "round rails of 7 mm",
	"skewer.oln_mm":              "skewers are of the usual length for their end, unless a width is named",
	"spoke.head":                 "bent spokes",
	"stem.kind":                  "follows from the steerer that it clamps or the quill that it has",
	"stem.quill_mm":              "the kind of stem is still asked",
	"tyre.tubular":               "tyres with beads and rims for them, unless they are called tubular",
}

// Taking a dimension away never makes a fit of what broke or could not be told.
func TestKnowingLessNeverFits(t *testing.T) {
	taken := 0
	rapid.Check(t, func(t *rapid.T) {
		a := likely(t, anyFamily(t, "a"), "a ", 8)
		b := likely(t, a.Family, "b ", 8)
		asked := Instead
		if rapid.Bool().Draw(t, "pair") {
			b = likely(t, anyFamily(t, "b"), "b ", 8)
			asked = func(a, b *Part) (Verdict, error) { return Together(a, b), nil }
		}
		before, err := asked(a, b)
		require.NoError(t, err)
		if before.Fits < CantTell {
			return
		}
		for _, whose := range []*Part{a, b} {
			for _, name := range whose.Spec.Names() {
				if slices.Contains(placing, name) || silenceSays[string(whose.Family)+"."+name] != "" {
					continue
				}
				less := *whose
				less.Spec = whose.Spec.With(name, Yes(true), Measured)
				delete(less.Spec, name)
				x, y := a, b
				if whose == a {
					x = &less
				} else {
					y = &less
				}
				after, err := asked(x, y)
				require.NoError(t, err)
				_, inA := a.Get(name)
				_, inB := b.Get(name)
				if alikeInAll(x, y) || a.Family == b.Family && !(inA && inB) {
					continue // one description is one part; and what neither of the two says is not held against the new one
				}
				require.NotEqual(t, Holds, after.Fits, "without %s of the %s: %s %s and %s %s was %s by %v", name, whose.Family, a.Family, a.Spec, b.Family, b.Spec, before.Fits, before.Stops())
				taken++
			}
		}
	})
	require.Positive(t, taken)
}

// Each exemption is of a dimension that its family has, which some rule reads, and has a reason.
func TestSilenceIsOfTheVocabulary(t *testing.T) {
	for key, why := range silenceSays {
		family, name, _ := strings.Cut(key, ".")
		table, err := TableOf(Family(family))
		require.NoError(t, err, key)
		_, known := table.Dimension(name)
		require.True(t, known, key)
		read := slices.ContainsFunc(Rules(), func(r *Rule) bool { return r.Decides(table.Family, name) })
		require.True(t, read || decidesNothing[key] != "", "no rule reads %s: strike it off", key)
		require.NotEmpty(t, why, key)
	}
}

// decidesNothing are dimensions that no rule reads, with why.
var decidesNothing = map[string]string{
	"grease.volume_ml": "how much is in it", "grease.mass_g": "how much is in it", "lubricant.volume_ml": "how much is in it", "lubricant.mass_g": "how much is in it",
	"cleaner.volume_ml": "how much is in it", "suspension-oil.volume_ml": "how much is in it", "cleaner.mass_g": "how much is in it",
	"lubricant.nlgi": "of greases", "lubricant.thickener": "of greases", "cleaner.nlgi": "of greases", "cleaner.thickener": "of greases",
	"rim-tape.by_wheel":             "it says how it is sold",
	"cartridge-bearing.designation": "it gives the sizes, the seal and the clearance, and those are asked",
	"headset-bearing.position":      "it says where it sits",
	"bolt.strength":                 "it gives the tensile strength, and that is asked",
	"crankset.roller":               "it is that of the rings it brings, and they are asked",
}

// Of a dimension that is swapped for another value of its vocabulary some rule speaks; or it decides nothing, and is
// said to.
func TestEveryDimensionIsAsked(t *testing.T) {
	for _, table := range tables {
		for _, d := range table.Dimensions {
			name := string(table.Family) + "." + d.Name
			read := slices.ContainsFunc(Rules(), func(r *Rule) bool { return r.Decides(table.Family, d.Name) })
			if why, declared := decidesNothing[name]; declared {
				require.NotEmpty(t, why)
				require.False(t, read, "%s is read by a rule: strike it off the list", name)
				continue
			}
			require.True(t, read, "no rule reads %s, and nobody says why", name)
		}
	}
	for _, table := range tables {
		if table.NeverSold {
			continue
		}
		for _, d := range table.Dimensions {
			name := string(table.Family) + "." + d.Name
			if decidesNothing[name] != "" || slices.Contains(placing, d.Name) {
				continue
			}
			require.True(t, spoken(table.Family, d) || besideOthers[name] != "", "%s is swapped for another value in the stead of the old one, and no rule ever speaks", name)
		}
	}
}

// spoken tells whether there is a part of the family of which some rule speaks when one dimension alone is another than it
// was. The parts drawn are the same every time.
func spoken(family Family, d Dimension) bool {
	draw := rapid.Custom(func(t *rapid.T) *Part { return likely(t, family, "", 10) })
	for seed := range 300 {
		was := draw.Example(seed)
		had, known := was.Get(d.Name)
		for _, v := range valuesOf(d) {
			now, err := Part{Family: family, Spec: was.Spec.With(d.Name, v, Measured)}.Check()
			if err != nil || !known || had.Equal(v) {
				continue
			}
			verdict, err := Instead(was, &now)
			if err == nil && slices.ContainsFunc(verdict.Findings, func(f Finding) bool { return f.Rule.Decides(family, d.Name) }) {
				return true
			}
		}
	}
	return false
}

// besideOthers are dimensions of which no rule speaks where the old part alone is known, with the neighbour that asks.
var besideOthers = map[string]string{
	"bolt.tensile_mpa":        "where a class is written, the strength follows from it and does not change alone",
	"chainring.bolt_pattern":  "the crankset's, on a circle that is made with both",
	"chainring.pairs_with":    "the ring beside it",
	"crankset.teeth_outer":    "the rings that it brings are judged with chain and derailleurs",
	"crankset.teeth_middle":   "the rings that it brings are judged with chain and derailleurs",
	"crankset.teeth_inner":    "the rings that it brings are judged with chain and derailleurs",
	"crankset.bolts":          "a kept ring",
	"crankset.bolt_pattern":   "a kept ring",
	"crankset.axle_mm":        "the frame's shell, of a hollow axle",
	"cable-inner.diameter_mm": "what it is for follows from it, and is asked",
	"cartridge-bearing.rows":  "where a number is written, the rows follow from it and do not change alone",
	"headset.lower":           "its seat follows from the code and does not change alone",
	"headset.steerer_mm":      "follows from the upper code and does not change alone",
	"headset.crown_mm":        "follows from the lower code and does not change alone",
	"brake-caliper.kind":      "follows from the mount and does not change alone",
	"tyre.pressure_max_bar":   "the rim's",
	"suspension-oil.weight":   "where the viscosity is on record that is asked",
	"tube.beads":              "the bead seat that it names is among them",
	"handlebar.end_bore_mm":   "the plug's",
	"shock.model":             "the service kit's",
	"stem.quill_mm":           "follows with the kind of stem, and is asked",
}

// What a search through the catalogue for a stand-in leaves out would not fit.
func TestNarrowInsteadNeverDropsWhatFits(t *testing.T) {
	accepted := 0
	rapid.Check(t, func(t *rapid.T) {
		family := anyFamily(t, "family")
		was := likely(t, family, "was ", 9)
		conditions := NarrowInstead(was)
		for i := range 4 {
			now := likely(t, family, string(rune('a'+i)), 9)
			if i == 0 {
				again := *was
				now = &again
			}
			if instead(t, was, now).Fits != Holds {
				continue
			}
			accepted++
			for _, c := range conditions {
				require.True(t, c.Admits(now), "%s %s fits in the stead of %s and is dropped by %#v", family, now.Spec, was.Spec, c)
			}
		}
	})
	require.Positive(t, accepted)
}

package substitution

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

func parts(t *testing.T, written map[Place]string) Build {
	t.Helper()
	b, err := buildOf(written)
	require.NoError(t, err)
	return b
}

func made(t *testing.T, family Family, text string) *Part {
	t.Helper()
	p, err := ParsePart(family, text)
	require.NoError(t, err)
	return &p
}

func TestStandIn(t *testing.T) {
	cases := []struct {
		name     string
		at       Place
		was, now string
		fits     Answer
	}{
		{"6902 for 61902", "rear.hub.bearing-left", "bore_mm=15 outer_mm=28 width_mm=7", "bore_mm=15 outer_mm=28 width_mm=7", Holds},
		{"17287 for 6902", "rear.hub.bearing-left", "bore_mm=15 outer_mm=28 width_mm=7", "bore_mm=17 outer_mm=28 width_mm=7", Breaks},
		{"a bearing without its width", "rear.hub.bearing-left", "bore_mm=15 outer_mm=28 width_mm=7", "bore_mm=15 outer_mm=28", CantTell},
		{"organic pads of one shape", "front.pads", "pad_shape=a1 compound=sintered", "pad_shape=a1 compound=organic", Holds},
		{"sintered pads want the rotor read", "front.pads", "pad_shape=a1 compound=organic", "pad_shape=a1 compound=sintered", CantTell},
		{"a wider range asks more of the derailleur", "rear.cassette", "freehub=hg speeds=9 teeth_min=11 teeth_max=28", "freehub=hg speeds=9 teeth_min=11 teeth_max=32", CantTell},
		{"a narrower range asks less", "rear.cassette", "freehub=hg speeds=9 teeth_min=11 teeth_max=32", "freehub=hg speeds=9 teeth_min=11 teeth_max=28", Holds},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			site, err := SiteOf(c.at)
			require.NoError(t, err)
			v := InsteadOn(nil, made(t, site.Family, c.was), made(t, site.Family, c.now), c.at)
			require.Equal(t, c.fits, v.Fits, "%v", v.Stops())
		})
	}
}

// The freehub body on record speaks for a hub of which nobody noted the spline; what is noted of the hub comes first. The
// spacers are those of published charts of freehub bodies (see rule cassette.freehub).
func TestABodySpeaksForItsHub(t *testing.T) {
	cases := []struct {
		name, was, now string
		bike           map[Place]string
		fits           Answer
		brings         string
	}{
		{"nine speeds on a longer body", "speeds=9 teeth_min=11 teeth_max=28", "speeds=9 teeth_min=11 teeth_max=28 freehub=hg", map[Place]string{"rear.freehub": "freehub=hg-l"}, Holds, "spacer"},
		{"a short driver's set on the longer one", "speeds=12 teeth_min=10 teeth_max=50", "speeds=12 teeth_min=10 teeth_max=50 freehub=xd", map[Place]string{"rear.freehub": "freehub=xdr"}, Holds, "spacer"},
		{"another spline", "speeds=12 teeth_min=10 teeth_max=50", "speeds=12 teeth_min=10 teeth_max=50 freehub=micro-spline", map[Place]string{"rear.freehub": "freehub=hg"}, Breaks, ""},
		{"the hub beside it knows its holes alone", "speeds=9 teeth_min=11 teeth_max=28", "speeds=9 teeth_min=11 teeth_max=28 freehub=hg", map[Place]string{"rear.freehub": "freehub=hg", "rear.hub": "holes=36"}, Holds, ""},
		{"the hub's own spline", "speeds=9 teeth_min=11 teeth_max=28", "speeds=9 teeth_min=11 teeth_max=28 freehub=hg", map[Place]string{"rear.freehub": "freehub=hg", "rear.hub": "freehub=micro-spline"}, Breaks, ""},
		{"a body of which nothing is known", "speeds=9 teeth_min=11 teeth_max=28", "speeds=9 teeth_min=11 teeth_max=28 freehub=hg", map[Place]string{"rear.freehub": "fixing=hollow-bolt"}, CantTell, ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			v := InsteadOn(parts(t, c.bike), made(t, "cassette", c.was), made(t, "cassette", c.now), "rear.cassette")
			require.Equal(t, c.fits, v.Fits, "%v", v.Stops())
			if c.brings != "" {
				require.Contains(t, v.Brings()[0].String(), c.brings)
			}
		})
	}
}

func TestTogether(t *testing.T) {
	cases := []struct {
		name         string
		family, with Family
		a, b         string
		fits         Answer
		rule         string
	}{
		{"a road eleven and the short body", "cassette", "hub", "freehub=hg-l speeds=11", "freehub=hg position=rear", Breaks, "cassette.freehub"},
		{"a nine-speed chain and nine sprockets", "chain", "cassette", "speeds=9", "speeds=9", Holds, "chain.speeds"},
		{"an eight-speed chain and nine sprockets", "chain", "cassette", "speeds=8", "speeds=9", Breaks, "chain.speeds"},
		{"a ring and its crankset", "chainring", "crankset", "bcd_mm=110 bolts=5 teeth=50 position=outer", "bcd_mm=110 bolts=5", Holds, "chainring.bcd"},
		{"a tyre and a rim a millimetre off", "tyre", "rim", "bead_mm=540", "bead_mm=541", Breaks, "tyre.bead"},
		{"JIS and ISO taper", "bottom-bracket", "crankset", "spindle_interface=jis-taper", "spindle_interface=iso-taper", CantTell, "bottom-bracket.spindle"},
		{"a bar and a stem 0.6 apart", "handlebar", "stem", "clamp_mm=26", "clamp_mm=25.4 steerer_mm=28.6", Breaks, "stem.clamp"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			v := Together(made(t, c.family, c.a), made(t, c.with, c.b))
			require.Equal(t, c.fits, v.Fits, "%v", v.Stops())
			var rules []string
			for _, f := range v.Findings {
				rules = append(rules, f.Rule.ID)
			}
			require.Contains(t, rules, c.rule)
		})
	}
	require.Empty(t, Together(made(t, "chain", "speeds=9"), made(t, "stem", "clamp_mm=26")).Findings)
}

func TestUsualPlace(t *testing.T) {
	for _, c := range []struct {
		family Family
		spec   string
		place  Place
	}{
		{"chainring", "position=inner", "crank.inner-ring"},
		{"chainring", "position=single", "crank.ring"},
		{"chainring", "teeth=50", "crank.outer-ring"},
		{"shifter", "side=left", "shifter.left"},
		{"hub", "position=rear", "rear.hub"},
	} {
		p := made(t, c.family, c.spec)
		require.Equal(t, c.place, PossiblePlaces(p, p)[0], c.spec)
	}
}

// A safety part that is not like for like carries a caution; the same part again does not, nor does any other part.
func TestCautions(t *testing.T) {
	cases := []struct {
		name     string
		place    Place
		was, now string
		caution  bool
	}{
		{"the same rotor", "front.rotor", "rotor_mm=160 rotor_mount=6-bolt", "rotor_mm=160 rotor_mount=6-bolt colour=black", false},
		{"a rotor with another mount", "front.rotor", "rotor_mm=160 rotor_mount=6-bolt", "rotor_mm=160 rotor_mount=centre-lock", true},
		{"a rotor of which less is known", "front.rotor", "rotor_mm=160 rotor_mount=6-bolt", "rotor_mm=160", true},
		{"a cassette", "rear.cassette", "speeds=9", "speeds=10", false},
		{"a carbon bar", "handlebar", "clamp_mm=31.8 material=alloy", "clamp_mm=31.8 material=carbon", true},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			was := parts(t, map[Place]string{c.place: c.was})
			now := parts(t, map[Place]string{c.place: c.now})
			cautions := Scene{Was: was, Now: now}.Check(c.place).Cautions
			require.Equal(t, c.caution, len(cautions) == 1, "%v", cautions)
			if c.caution {
				require.Contains(t, cautions[0], "maker's approval is not implied")
			}
		})
	}
}

// A new crankset brings its rings: the old ones leave with the old one, and derailleurs are asked about the new.
func TestCranksetBringsItsRings(t *testing.T) {
	was := parts(t, map[Place]string{
		"crank":            "bcd_mm=104 bcd_inner_mm=64 bolts=4",
		"crank.outer-ring": "teeth=44", "crank.middle-ring": "teeth=32", "crank.inner-ring": "teeth=22",
		"rear.cassette": "teeth_min=12 teeth_max=34 speeds=9", "rear.derailleur": "capacity=44", "front.derailleur": "capacity=22",
	})
	double := made(t, "crankset", "teeth_outer=50 teeth_inner=24 bcd_mm=110 bcd_inner_mm=74 bolts=5")
	v := Scene{Was: was, Now: was}.Choose("crank", double).Check("crank")
	answers := map[string]Answer{}
	for _, f := range v.Findings {
		require.NotEqual(t, Place("crank.middle-ring"), f.At, "the middle ring is gone")
		answers[f.Rule.ID] = f.Answer
	}
	require.Equal(t, Holds, answers["chainring.bcd"])
	require.Equal(t, Breaks, answers["rear-derailleur.capacity"], "26 and 22 are 48")
	require.Equal(t, Breaks, answers["front-derailleur.capacity"], "26 over 22")
	require.Equal(t, Breaks, answers["chainring.teeth"])

	spider := made(t, "crankset", "bcd_mm=110 bolts=5 arm_mm=170")
	v = Scene{Was: was, Now: was}.Choose("crank", spider).Check("crank")
	for _, f := range v.Findings {
		require.NotEqual(t, "chainring.teeth", f.Rule.ID, "without rings of its own the old ones stay")
	}
}

// What rests on memory is never a confident verdict, whatever its test says.
func TestMemoryIsNeverConfident(t *testing.T) {
	rule := &Rule{ID: "chain.memory", Severity: Mating, Test: Share{Mine: "speeds", Theirs: sprockets("speeds")}, Source: Source{"", Memory}}
	s := Scene{Now: parts(t, map[Place]string{"chain": "speeds=9", "rear.cassette": "speeds=9"})}
	require.Equal(t, CantTell, newInstance(rule, "chain").judge(s).Answer)
	require.Contains(t, newInstance(rule, "chain").judge(s).Words, "memory")
	s.Was = parts(t, map[Place]string{"chain": "speeds=9"})
	s.Now["rear.cassette"] = nil
	require.Equal(t, Holds, newInstance(rule, "chain").judge(s).Answer, "what was there is evidence of its own")
}

func TestGearing(t *testing.T) {
	g, known := gearingOf(parts(t, map[Place]string{
		"crank.outer-ring": "teeth=50", "crank.inner-ring": "teeth=34", "rear.cassette": "teeth_min=11 teeth_max=28", "rear.tyre": "width_mm=25 bead_mm=622",
	}))
	require.True(t, known)
	require.InDelta(t, 50./11, g.Top(), 1e-9)
	require.InDelta(t, 374.3, 100*g.Top()/g.Low(), 0.05, "the range in per cent")
	metres, ok := g.Metres(g.Top())
	require.True(t, ok)
	require.InDelta(t, 9.667, metres, 0.001, "π × 677 mm (ISO 5775-1 for 25-622) × 50/11")
	_, known = gearingOf(parts(t, map[Place]string{"crank.outer-ring": "teeth=50"}))
	require.False(t, known)
}

func TestRulesByName(t *testing.T) {
	r, err := RuleByID("chainring.bcd")
	require.NoError(t, err)
	require.Equal(t, Family("chainring"), r.Family())
	_, err = RuleByID("chainring.bolt")
	require.ErrorContains(t, err, "that family has ")
	_, err = RuleByID("armchair.rail")
	require.EqualError(t, err, `there is no rule "armchair.rail"`)
}

func TestReadCasesRefusesUnknownKeys(t *testing.T) {
	_, err := readCases([]byte(`[{"name": "x", "anwser": "holds"}]`))
	require.ErrorContains(t, err, "anwser")
}

func TestParsePart(t *testing.T) {
	p, err := ParsePart("chainring", "teeth=50 bcd_mm=110 speeds=9,10 colour=black")
	require.NoError(t, err)
	require.Equal(t, "bcd_mm 110, colour black, speeds 9/10, teeth 50", p.Spec.String())
	for text, says := range map[string]string{
		"teeth":          "write it as bcd_mm=110",
		"tooth=50":       `a chainring has no dimension "tooth"`,
		"teeth=fifty":    `teeth is a whole number, not "fifty"`,
		"teeth=500":      "teeth of 500 cannot be meant",
		"bcd_mm=-110":    "cannot be meant",
		"bolt_pattern=x": "bolt_pattern is one of even, asymmetric",
	} {
		_, err := ParsePart("chainring", text)
		require.ErrorContains(t, err, says)
	}
}

// A single-speed bike has no derailleur, and is not asked about one that nobody recorded.
func TestSingleSpeedHasNoDerailleur(t *testing.T) {
	was := parts(t, map[Place]string{"rear.freewheel": "speeds=1 teeth_min=16 teeth_max=16 thread=1.37x24", "rear.hub": "freehub=threaded thread=1.37x24"})
	larger := made(t, "freewheel", "speeds=1 teeth_min=18 teeth_max=18 thread=1.37x24")
	v := Scene{Was: was, Now: was}.Choose("rear.freewheel", larger).Check("rear.freewheel")
	for _, f := range v.Findings {
		require.NotEqual(t, Family("rear-derailleur"), f.Rule.Family(), f.Words)
	}
}

func FuzzParsePart(f *testing.F) {
	for _, seed := range []string{"teeth=50 bcd_mm=110", "speeds=9,10", "teeth==", "= =", "bcd_mm=NaN", "bcd_mm=1e999", "colour=\x00"} {
		f.Add("chainring", seed)
	}
	f.Fuzz(func(t *testing.T, family, text string) {
		p, err := ParsePart(Family(family), text)
		if err != nil {
			return
		}
		again, err := p.Check()
		require.NoError(t, err)
		require.Equal(t, p, again, "a part that was read is in its own forms already")
	})
}

func TestBringsAsJSON(t *testing.T) {
	was := parts(t, map[Place]string{"rear.hub": "freehub=hg-l"})
	v := Scene{Was: was, Now: was}.Choose("rear.cassette", made(t, "cassette", "freehub=hg speeds=9")).Check("rear.cassette")
	text, err := json.Marshal(v)
	require.NoError(t, err)
	require.Contains(t, string(text), `"brings":[{"family":"consumable","spec":{"purpose":"freehub-spacer","width_mm":1.85},"quantity":1,`)
}

func TestCaseInWords(t *testing.T) {
	c := Case{Bike: map[Place]string{"crank": "bcd_mm=110 bolts=5"}, New: map[Place]string{"crank.outer-ring": "bcd_mm=130"}, Answer: "breaks"}
	require.Equal(t, "crankset bcd_mm=110 bolts=5; new outer chainring bcd_mm=130: breaks", c.String())
	rule, err := RuleByID("chainring.bolts")
	require.NoError(t, err)
	require.Contains(t, rule.Reads(), Ref{Place: "crank", Dimension: "bolts"})
}

func TestComplete(t *testing.T) {
	b := parts(t, map[Place]string{"crank": "teeth_outer=50 teeth_inner=34 bcd_mm=110", "crank.inner-ring": "teeth=36"}).Complete()
	outer, _ := b["crank.outer-ring"].Get("teeth")
	inner, _ := b["crank.inner-ring"].Get("teeth")
	require.Equal(t, Count(50), outer)
	require.Equal(t, Count(36), inner, "what is recorded is never changed")
	require.NotContains(t, b, Place("crank.ring"))

	single := parts(t, map[Place]string{"crank": "teeth_outer=42"}).Complete()
	require.Contains(t, single, Place("crank.ring"))
	require.NotContains(t, single, Place("crank.outer-ring"))

	written := parts(t, map[Place]string{"crank": "teeth_outer=42", "crank.outer-ring": "teeth=40"}).Complete()
	require.NotContains(t, written, Place("crank.ring"))
}

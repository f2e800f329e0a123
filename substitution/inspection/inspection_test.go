package inspection

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/substitution"
)

func part(family substitution.Family, facts map[string]substitution.Value) *substitution.Part {
	return &substitution.Part{Family: family, Spec: substitution.MakeSpec(facts, nil, nil)}
}

func speeds(n int) *substitution.Part {
	return part("cassette", map[string]substitution.Value{"speeds": substitution.List(n)})
}

func TestPropose(t *testing.T) {
	num, yes, text := substitution.Num, substitution.Yes(true), substitution.Text
	nineSpeed := substitution.Build{"rear.cassette": speeds(9), "chain": nil, "crank.outer-ring": nil}
	elevenSpeed := substitution.Build{"rear.cassette": speeds(11), "chain": nil}
	looseHub := substitution.Build{"rear.hub": nil, "rear.hub.balls-left": nil, "rear.hub.balls-right": nil}
	const wear = "citycyclingtips.com, which cites a tool maker: 0.5 % for 11 to 13 speeds, 0.75 % for 5 to 10, 1 % for one"
	const none = "common practice, no source"
	cases := []struct {
		name     string
		build    substitution.Build
		place    substitution.Place
		readings Readings
		action   Action
		lookAt   []substitution.Place
		source   string
	}{
		{"a nine-speed chain at 0.75 goes", nineSpeed, "chain", Readings{"wear_percent": num(0.75)}, Replace, []substitution.Place{"rear.cassette", "crank.outer-ring"}, wear},
		{"a nine-speed chain at 0.74 stays", nineSpeed, "chain", Readings{"wear_percent": num(0.74)}, Keep, nil, wear},
		{"an eleven-speed chain at 0.5 goes", elevenSpeed, "chain", Readings{"wear_percent": num(0.5)}, Replace, []substitution.Place{"rear.cassette"}, wear},
		{"speeds not known, 0.6 decides nothing", substitution.Build{"chain": nil}, "chain", Readings{"wear_percent": num(0.6)}, "", nil, wear},
		{"speeds not known, 1.0 goes for any", substitution.Build{"chain": nil}, "chain", Readings{"wear_percent": num(1)}, Replace, nil, wear},
		{"a rotor at 1.49 is scrap", nil, "rear.rotor", Readings{"thickness_mm": num(1.49)}, Replace, nil, "a rotor page, one maker's limit of 1.5 mm"},
		{"a rotor at 1.51 is in use", nil, "rear.rotor", Readings{"thickness_mm": num(1.51)}, Keep, nil, "a rotor page, one maker's limit of 1.5 mm"},
		{"the rotor's own mark wins", nil, "rear.rotor", Readings{"thickness_mm": num(1.55), "marked_minimum_mm": num(1.6)}, Replace, nil, "a rotor page: the mark on the rotor wins"},
		{"a bent rotor is trued, not sold", nil, "rear.rotor", Readings{"thickness_mm": num(1.8), "runs_out": yes}, Adjust, nil, none},
		{"a pad at half a millimetre goes", substitution.Build{"front.rotor": nil}, "front.pads", Readings{"lining_mm": num(0.5)}, Replace, []substitution.Place{"front.rotor"}, "a brake maker's manual as quoted: 0.5 mm"},
		{"a pad with lining stays", nil, "front.pads", Readings{"lining_mm": num(0.6)}, Keep, nil, "a brake maker's manual as quoted: 0.5 mm"},
		{"oil in a pad", nil, "front.pads", Readings{"lining_mm": num(3), "contaminated": yes}, Replace, nil, none},
		{"play that turns smoothly is adjusted", looseHub, "rear.hub", Readings{"feel": text("smooth"), "play": text("marked")}, Adjust, nil, none},
		{"a rough hub is opened", looseHub, "rear.hub", Readings{"feel": text("rough")}, Clean, []substitution.Place{"rear.hub.balls-left", "rear.hub.balls-right"}, none},
		{"a rough closed bottom bracket goes", nil, "bottom-bracket", Readings{"feel": text("rough")}, Replace, nil, none},
		{"a notchy headset bearing goes", nil, "headset.lower-bearing", Readings{"feel": text("notchy")}, Replace, nil, none},
		{"headset play is preload", nil, "headset.upper-bearing", Readings{"play": text("slight")}, Adjust, nil, none},
		{"a derailleur that misses is adjusted", nil, "rear.derailleur", Readings{"shifting": text("misses")}, Adjust, nil, none},
		{"a sprocket that skips under load goes", nineSpeed, "rear.cassette", Readings{"skips_under_load": yes}, Replace, []substitution.Place{"chain"}, none},
		{"pitted balls go", nil, "front.hub.balls-left", Readings{"pitted": yes}, Replace, nil, "Sheldon Brown on mixed balls"},
		{"a headset with play is adjusted", substitution.Build{"headset": nil}, "headset", Readings{"play": text("marked"), "feel": text("smooth")}, Adjust, nil, none},
		{"a frayed cable goes", nil, "rear.gear-cable", Readings{"frayed": yes}, Replace, nil, none},
		{"a stiff cable is drawn and greased", nil, "rear.gear-cable", Readings{"stiff": yes}, Clean, nil, none},
		{"no readings, no proposal", nil, "chain", nil, "", nil, none},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			p, err := Propose(c.build, c.place, c.readings)
			require.NoError(t, err)
			require.Equal(t, c.action, p.Action, "%s (%s)", p.Words, c.source)
			if len(c.lookAt) > 0 {
				require.Equal(t, c.lookAt, p.LookAt)
			}
			if len(c.readings) > 0 {
				require.NotEmpty(t, p.Words)
				require.NotEmpty(t, p.Source)
			}
		})
	}
}

func TestProposeRefuses(t *testing.T) {
	cases := []struct {
		name     string
		place    substitution.Place
		readings Readings
		says     string
	}{
		{"no such place", "rear.flange", nil, `a bike has no place "rear.flange"`},
		{"another part's reading", "chain", Readings{"lining_mm": substitution.Num(1)}, `a chain has no reading "lining_mm": it has wear_percent`},
		{"absurd", "rear.rotor", Readings{"thickness_mm": substitution.Num(18)}, "thickness_mm of 18 cannot be meant"},
		{"negative", "chain", Readings{"wear_percent": substitution.Num(-0.5)}, "cannot be meant"},
		{"text for a number", "chain", Readings{"wear_percent": substitution.Text("long")}, `wear_percent is a number, not "long"`},
		{"a word of its own", "rear.hub", Readings{"feel": substitution.Text("crunchy")}, "feel is one of smooth, notchy, rough"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := Propose(nil, c.place, c.readings)
			require.ErrorContains(t, err, c.says)
		})
	}
}

func TestNeeds(t *testing.T) {
	balls := func(mm float64) *substitution.Part {
		return part("loose-balls", map[string]substitution.Value{"ball_mm": substitution.Num(mm)})
	}
	build := substitution.Build{
		"headset": nil, "headset.lower-balls": balls(3.96875),
		"rear.cassette": speeds(9), "front.pads": nil,
		"rear.hub": nil, "rear.hub.balls-left": balls(6.35), "rear.hub.balls-right": balls(6.35),
		"rear.freehub.balls-inner": balls(3.175), "rear.freehub.balls-outer": balls(3.175),
		"front.hub": nil, "front.hub.balls-left": balls(4.7625), "front.hub.balls-right": balls(4.7625),
		"headset.upper-bearing": part("headset-bearing", map[string]substitution.Value{"outer_mm": substitution.Num(41)}),
		"headset.lower-bearing": part("headset-bearing", map[string]substitution.Value{"outer_mm": substitution.Num(52)}),
	}
	type line struct {
		place    substitution.Place
		quantity int
		unit     string
	}
	cases := []struct {
		name     string
		findings []Finding
		want     []line
		source   string
	}{
		{"one cassette", []Finding{{Place: "rear.cassette", Action: Replace}}, []line{{"rear.cassette", 1, "pieces"}}, ""},
		{"two pads a caliper", []Finding{{Place: "front.pads", Action: Replace}}, []line{{"front.pads", 2, "pieces"}}, ""},
		{"adjusting sells nothing", []Finding{{Place: "rear.hub", Action: Adjust}, {Place: "chain", Action: Keep}}, nil, ""},
		{
			"a rear hub with a freehub holds 68 balls", []Finding{{Place: "rear.hub", Action: Clean}},
			[]line{{"rear.hub.balls-left", 9, "pieces"}, {"rear.hub.balls-right", 9, "pieces"}, {"rear.freehub.balls-inner", 25, "pieces"}, {"rear.freehub.balls-outer", 25, "pieces"}, {"bench.grease", 1, "smears"}},
			"9 × 1/4 a side: Sheldon Brown; 25 × 1/8 a race: common practice, no source",
		},
		{
			"a front hub holds 20", []Finding{{Place: "front.hub", Action: Clean}},
			[]line{{"front.hub.balls-left", 10, "pieces"}, {"front.hub.balls-right", 10, "pieces"}, {"bench.grease", 1, "smears"}},
			"10 × 3/16 a side: Sheldon Brown",
		},
		{
			"what came out counts", []Finding{{Place: "front.hub", Action: Clean}, {Place: "front.hub.balls-left", Action: Keep, Readings: Readings{"balls": substitution.Count(9)}}},
			[]line{{"front.hub.balls-left", 9, "pieces"}, {"front.hub.balls-right", 10, "pieces"}, {"bench.grease", 1, "smears"}}, "",
		},
		{
			"two hubs, two smears, each ball once", []Finding{{Place: "front.hub", Action: Clean}, {Place: "front.hub.balls-left", Action: Replace}},
			[]line{{"front.hub.balls-left", 10, "pieces"}, {"front.hub.balls-right", 10, "pieces"}, {"bench.grease", 2, "smears"}}, "",
		},
		{
			"a headset's balls are counted by their size until they are out", []Finding{{Place: "headset", Action: Clean}},
			[]line{{"headset.lower-balls", 25, "pieces"}, {"bench.grease", 1, "smears"}},
			"Sutherland's Handbook, one model: 25 × 5/32",
		},
		{
			"upper and lower headset bearing are two needs", []Finding{{Place: "headset.upper-bearing", Action: Replace}, {Place: "headset.lower-bearing", Action: Replace}},
			[]line{{"headset.upper-bearing", 1, "pieces"}, {"headset.lower-bearing", 1, "pieces"}, {"bench.grease", 2, "smears"}}, "",
		},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var got []line
			for _, n := range Needs(build, c.findings) {
				got = append(got, line{n.Place, n.Quantity, n.Unit})
				require.Equal(t, build[n.Place], n.Was)
				require.NotEmpty(t, n.Why)
			}
			require.ElementsMatch(t, c.want, got)
		})
	}
}

func TestReadingsAsJSON(t *testing.T) {
	var r Readings
	require.NoError(t, json.Unmarshal([]byte(`{"feel":"rough","play":"slight"}`), &r))
	p, err := Propose(substitution.Build{}, "headset.upper-bearing", r)
	require.NoError(t, err)
	require.Equal(t, Replace, p.Action)
}

// Readings never panic, and a bearing that turns smoothly is never sold.
func TestSmoothIsNeverSold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		site := rapid.SampledFrom(substitution.Sites()).Draw(t, "place")
		r := Readings{}
		for _, d := range ReadingsOf(site.Family) {
			if !rapid.Bool().Draw(t, d.Name) {
				continue
			}
			switch d.Form {
			case substitution.Flag:
				r[d.Name] = substitution.Yes(rapid.Bool().Draw(t, "yes"))
			case substitution.Word:
				r[d.Name] = substitution.Text(rapid.SampledFrom(d.Words).Draw(t, "word"))
			case substitution.Int:
				r[d.Name] = substitution.Count(rapid.IntRange(int(d.Low), int(d.High)).Draw(t, "count"))
			default:
				r[d.Name] = substitution.Num(rapid.Float64Range(d.Low, d.High).Draw(t, "number"))
			}
		}
		p, err := Propose(substitution.Build{site.Place: nil}, site.Place, r)
		require.NoError(t, err)
		feel, felt := r["feel"]
		if felt && feel.Word() == "smooth" && !r["hooked_teeth"].Equal(substitution.Yes(true)) {
			require.NotEqual(t, Replace, p.Action, p.Words)
		}
	})
}

func TestWhatCanBeReadIsJudged(t *testing.T) {
	for family := range readings {
		require.Contains(t, judges, family)
		require.Contains(t, substitution.Families(), family)
	}
	for family := range judges {
		require.NotEmpty(t, ReadingsOf(family), family)
	}
}

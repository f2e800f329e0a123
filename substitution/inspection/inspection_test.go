package inspection

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/substitution"
	_ "stead/testdata/drawn" // the same values in every run
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
	cartridges := substitution.Build{"rear.hub": nil, "rear.hub.bearing-left": nil, "rear.hub.bearing-right": nil}
	const rotors = "published limits of five brake makers: 1.4 (one of them, 140 and 160 mm), 1.5, 1.52, 1.55, 1.8 mm"
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
		{"1.70 without a mark is not decided", nil, "rear.rotor", Readings{"thickness_mm": num(1.70)}, "", nil, rotors},
		{"1.70 marked 1.8 goes", nil, "rear.rotor", Readings{"thickness_mm": num(1.70), "marked_minimum_mm": num(1.8)}, Replace, nil, rotors},
		{"1.52 marked 1.55 goes", nil, "rear.rotor", Readings{"thickness_mm": num(1.52), "marked_minimum_mm": num(1.55)}, Replace, nil, rotors},
		{"1.45 marked 1.4 stays", nil, "rear.rotor", Readings{"thickness_mm": num(1.45), "marked_minimum_mm": num(1.4)}, Keep, nil, rotors},
		{"1.35 without a mark goes", nil, "rear.rotor", Readings{"thickness_mm": num(1.35)}, Replace, nil, rotors},
		{"1.4 without a mark goes", nil, "rear.rotor", Readings{"thickness_mm": num(1.4)}, Replace, nil, rotors},
		{"1.8 without a mark is not decided", nil, "rear.rotor", Readings{"thickness_mm": num(1.8)}, "", nil, rotors},
		{"1.85 without a mark stays", nil, "rear.rotor", Readings{"thickness_mm": num(1.85)}, Keep, nil, rotors},
		{"the rotor's own mark wins", nil, "rear.rotor", Readings{"thickness_mm": num(1.55), "marked_minimum_mm": num(1.6)}, Replace, nil, rotors},
		{"a bent rotor is trued, not sold", nil, "rear.rotor", Readings{"thickness_mm": num(1.9), "runs_out": yes}, Adjust, nil, none},
		{"a bent and thin rotor goes", substitution.Build{"rear.pads": nil}, "rear.rotor", Readings{"thickness_mm": num(1.4), "runs_out": yes}, Replace, []substitution.Place{"rear.pads"}, rotors},
		{"a bent rotor that only its mark decides is not trued before", nil, "rear.rotor", Readings{"thickness_mm": num(1.6), "runs_out": yes}, "", nil, rotors},
		{"a pad at half a millimetre goes", substitution.Build{"front.rotor": nil}, "front.pads", Readings{"lining_mm": num(0.5)}, Replace, []substitution.Place{"front.rotor"}, "a brake maker's manual as quoted: 0.5 mm"},
		{"a pad with lining stays", nil, "front.pads", Readings{"lining_mm": num(0.6)}, Keep, nil, "a brake maker's manual as quoted: 0.5 mm"},
		{"oil in a pad points to the leak", substitution.Build{"front.caliper": nil, "front.rotor": nil}, "front.pads", Readings{"lining_mm": num(3), "contaminated": yes}, Replace, []substitution.Place{"front.caliper", "front.rotor"}, "a published page on hydraulic brakes: top up or bleed"},
		{"a worn chain on a hub gear is judged", substitution.Build{"rear.sprocket": nil, "chain": nil}, "chain", Readings{"wear_percent": num(1.2)}, Replace, []substitution.Place{"rear.sprocket"}, wear},
		{"a chain on a single sprocket at 0.8 stays", substitution.Build{"rear.sprocket": nil, "chain": nil}, "chain", Readings{"wear_percent": num(0.8)}, Keep, nil, wear},
		{"an eighth-inch chain runs on one sprocket", substitution.Build{"chain": part("chain", map[string]substitution.Value{"chain_width": text("1/8")})}, "chain", Readings{"wear_percent": num(0.8)}, Keep, nil, wear},
		{"play that turns smoothly is adjusted", looseHub, "rear.hub", Readings{"feel": text("smooth"), "play": text("marked")}, Adjust, nil, none},
		{"a rough hub is opened", looseHub, "rear.hub", Readings{"feel": text("rough")}, Clean, []substitution.Place{"rear.hub.balls-left", "rear.hub.balls-right"}, none},
		{"a rough closed bottom bracket goes", nil, "bottom-bracket", Readings{"feel": text("rough"), "inside": text("closed")}, Replace, nil, none},
		{"a closed unit with play is not adjusted", nil, "bottom-bracket", Readings{"play": text("slight"), "inside": text("closed")}, Replace, nil, none},
		{"a bottom bracket of unknown kind is asked for", nil, "bottom-bracket", Readings{"play": text("slight")}, "", nil, none},
		{"a hub of unknown kind is asked for", substitution.Build{"rear.hub": nil}, "rear.hub", Readings{"feel": text("rough")}, "", nil, none},
		{"a rough hub with cartridges stays, its bearings go", cartridges, "rear.hub", Readings{"feel": text("rough")}, Keep, []substitution.Place{"rear.hub.bearing-left", "rear.hub.bearing-right"}, none},
		{"a hub with cartridges and play is not adjusted", cartridges, "rear.hub", Readings{"play": text("slight")}, Keep, []substitution.Place{"rear.hub.bearing-left", "rear.hub.bearing-right"}, none},
		{"a freehub's cartridges are not its hub's", substitution.Build{"rear.hub": nil, "rear.freehub.bearing-inner": nil}, "rear.hub", Readings{"play": text("slight")}, "", nil, none},
		{"a cartridge with play goes", nil, "rear.hub.bearing-left", Readings{"play": text("marked"), "feel": text("smooth")}, Replace, nil, none},
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
				got = append(got, line{n.Place, n.Quantity, string(n.Unit)})
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

// Readings never panic, and a bearing that can be adjusted and turns smoothly is never sold, unless somebody wants one.
func TestSmoothIsNeverSold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		site := rapid.SampledFrom(substitution.Sites()).Draw(t, "place")
		r := drawReadings(t, site.Family)
		p, err := Propose(substitution.Build{site.Place: nil}, site.Place, r)
		require.NoError(t, err)
		feel, felt := r["feel"]
		loose := r["inside"].Word() == "loose-balls" || r["play"].Word() == "" || r["play"].Word() == "none"
		_, wanted := r["wanted"]
		if felt && feel.Word() == "smooth" && loose && !wanted && !r["hooked_teeth"].Equal(substitution.Yes(true)) {
			require.NotEqual(t, Replace, p.Action, p.Words)
		}
	})
}

func drawReadings(t *rapid.T, family substitution.Family) Readings {
	r := Readings{}
	for _, d := range ReadingsOf(family) {
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
	return r
}

// TestAReadingSaysOnlyWhatWasRead: a part of which one fault was looked for, and not seen, is not called sound for it.
func TestAReadingSaysOnlyWhatWasRead(t *testing.T) {
	no, text := substitution.Yes(false), substitution.Text
	for _, c := range []struct {
		place    substitution.Place
		readings Readings
		says     string
	}{
		{"rear.cassette", Readings{"hooked_teeth": no}, "teeth not hooked"},
		{"rear.cassette", Readings{"skips_under_load": no}, "does not skip under load"},
		{"rear.tyre", Readings{"damaged": no}, "no damage seen"},
		{"rear.tyre", Readings{"worn_to_mark": no, "damaged": no}, "no damage seen; not worn to its mark"},
		{"rear.rim-pads", Readings{"contaminated": no}, "no oil on it"},
		{"rear.gear-cable", Readings{"frayed": no}, "not frayed"},
		{"rear.derailleur", Readings{"damaged": no}, "no damage seen"},
		{"rear.hub", Readings{"feel": text("smooth")}, "turns smoothly"},
		{"rear.hub", Readings{"play": text("none")}, "no play"},
		{"headset", Readings{"play": text("slight")}, "slight play: the preload takes it out"},
		{"headset.upper-bearing", Readings{"play": text("slight")}, "slight play: take it out by the preload first"},
		{"rear.derailleur.upper-jockey", Readings{"feel": text("smooth")}, "turns smoothly"},
	} {
		p, err := Propose(substitution.Build{}, c.place, c.readings)
		require.NoError(t, err)
		require.Equal(t, c.says, p.Words, "%s %v", c.place, c.readings)
	}
}

// TestWithinAGaugesStep: what stands within a caliper's twentieth of a limit is measured again, and once it is, no more
// asked.
func TestWithinAGaugesStep(t *testing.T) {
	again := func(taken ...Taken) bool {
		f, err := Findings(substitution.Build{"rear.cassette": speeds(9)}, taken)
		require.NoError(t, err)
		return strings.Contains(f[0].Proposal.Words, "measure again")
	}
	read := func(place substitution.Place, name string, mm, mark float64) Taken {
		r := Readings{name: substitution.Num(mm)}
		if mark > 0 {
			r["marked_minimum_mm"] = substitution.Num(mark)
		}
		return Taken{Place: place, Readings: r}
	}
	require.True(t, again(read("rear.rotor", "thickness_mm", 1.52, 1.5)))
	require.True(t, again(read("rear.rotor", "thickness_mm", 1.49, 1.5)))
	require.False(t, again(read("rear.rotor", "thickness_mm", 1.6, 1.5)))
	require.True(t, again(read("chain", "wear_percent", 0.72, 0)))
	require.False(t, again(read("chain", "wear_percent", 0.6, 0)))
	require.True(t, again(read("front.pads", "lining_mm", 0.53, 0)))
	require.False(t, again(read("chain", "wear_percent", 0.72, 0), read("chain", "wear_percent", 0.74, 0)), "it was measured again")
}

func TestFindings(t *testing.T) {
	num, text, yes, no := substitution.Num, substitution.Text, substitution.Yes(true), substitution.Yes(false)
	cartridges := substitution.Build{"rear.hub": nil, "rear.hub.bearing-left": nil, "rear.hub.bearing-right": nil}
	at := func(p substitution.Place, r Readings) Taken { return Taken{Place: p, Readings: r} }
	corrects := func(p substitution.Place, r Readings) Taken { return Taken{Place: p, Readings: r, Correct: true} }
	worked := func(p substitution.Place, r Readings) Taken { return Taken{Place: p, Readings: r, After: true} }
	decides := func(p substitution.Place, a Action, r Readings) Taken { return Taken{Place: p, Action: a, Readings: r} }
	for _, c := range []struct {
		name  string
		build substitution.Build
		taken []Taken
		want  map[substitution.Place]Action
		says  string // in the contradictions
		asks  string
	}{
		{"a later reading wipes nothing", nil, []Taken{at("front.rotor", Readings{"thickness_mm": num(1.4)}), at("front.rotor", Readings{"runs_out": yes})},
			map[substitution.Place]Action{"front.rotor": Replace}, "", ""},
		{"read again after the work it contradicts nothing, and the work stays", nil, []Taken{at("rear.hanger", Readings{"alignment": text("slightly out")}), worked("rear.hanger", Readings{"alignment": text("true")})},
			map[substitution.Place]Action{"rear.hanger": Adjust}, "", ""},
		{"after the work it asks for more", nil, []Taken{at("rear.hanger", Readings{"alignment": text("slightly out")}), worked("rear.hanger", Readings{"alignment": text("bent")})},
			map[substitution.Place]Action{"rear.hanger": Replace}, "", ""},
		{"what was never read before is read as ever", nil, []Taken{at("rear.hanger", Readings{"alignment": text("true")}), worked("rear.hanger", Readings{"damaged": yes})},
			map[substitution.Place]Action{"rear.hanger": Replace}, "", ""},
		{"what is read of the new part does not speak of the old one", nil, []Taken{at("rear.rim", Readings{"wall_mm": num(0.9)}), worked("rear.rim", Readings{"run_out_mm": num(0.2)})},
			map[substitution.Place]Action{"rear.rim": Replace}, "", ""},
		{"how many are wanted is so whenever it is said", nil, []Taken{decides("rear.spokes-left", Replace, nil), worked("rear.spokes-left", Readings{"wanted": substitution.Count(2)})},
			map[substitution.Place]Action{"rear.spokes-left": Replace}, "", ""},
		{"read twice before the work it contradicts itself", nil, []Taken{at("rear.hanger", Readings{"alignment": text("slightly out")}), at("rear.hanger", Readings{"alignment": text("true")})},
			map[substitution.Place]Action{"rear.hanger": Adjust}, "alignment was read as", ""},
		{"two readings decide what one could not", nil, []Taken{at("front.rotor", Readings{"thickness_mm": num(1.7)}), at("front.rotor", Readings{"marked_minimum_mm": num(1.8)})},
			map[substitution.Place]Action{"front.rotor": Replace}, "", ""},
		{"of two thicknesses the thinner counts", nil, []Taken{at("front.rotor", Readings{"thickness_mm": num(1.4)}), at("front.rotor", Readings{"thickness_mm": num(1.9)})},
			map[substitution.Place]Action{"front.rotor": Replace}, "thickness was read as 1.4 mm and as 1.9 mm: 1.4 mm counts, until one is said to be a correction", ""},
		{"wear is told in per cent", nil, []Taken{at("chain", Readings{"wear_percent": num(0.4)}), at("chain", Readings{"wear_percent": num(0.9)})},
			map[substitution.Place]Action{"chain": ""}, "wear was read as 0.4 % and as 0.9 %: 0.9 % counts", "speeds"},
		{"a correction says that it is one", nil, []Taken{at("front.rotor", Readings{"thickness_mm": num(1.4)}), corrects("front.rotor", Readings{"thickness_mm": num(1.9)})},
			map[substitution.Place]Action{"front.rotor": Keep}, "", ""},
		{"a correction of one reading leaves the other", nil, []Taken{at("front.rotor", Readings{"thickness_mm": num(1.9), "runs_out": yes}), corrects("front.rotor", Readings{"runs_out": no})},
			map[substitution.Place]Action{"front.rotor": Keep}, "", ""},
		{"yes counts over no", nil, []Taken{at("front.tyre", Readings{"damaged": yes}), at("front.tyre", Readings{"damaged": no})},
			map[substitution.Place]Action{"front.tyre": Replace}, "damaged was read as yes and as no: yes counts", ""},
		{"two kinds of inside are none", nil, []Taken{at("bottom-bracket", Readings{"play": text("slight"), "inside": text("closed")}), at("bottom-bracket", Readings{"inside": text("loose-balls")})},
			map[substitution.Place]Action{"bottom-bracket": ""}, "neither counts", "look what turns in it"},
		{"the mechanic's word stands over what lay before it", nil, []Taken{at("front.tyre", Readings{"damaged": yes}), decides("front.tyre", Keep, nil)},
			map[substitution.Place]Action{"front.tyre": Keep}, "", ""},
		{"what is read after the mechanic's word is not passed over", nil, []Taken{decides("front.rotor", Keep, nil), at("front.rotor", Readings{"thickness_mm": num(1.2)})},
			map[substitution.Place]Action{"front.rotor": Replace}, "", ""},
		{"what asks for less leaves the mechanic's word", nil, []Taken{decides("chain", Replace, nil), at("chain", Readings{"wear_percent": num(0.1)})},
			map[substitution.Place]Action{"chain": Replace}, "", ""},
		{"what is taken back was never read", nil, []Taken{at("front.tyre", Readings{"damaged": yes}), {Place: "front.tyre", TakeBack: []string{"damaged"}}},
			map[substitution.Place]Action{}, "", ""},
		{"a rough hub gets its cartridges", cartridges, []Taken{at("rear.hub", Readings{"feel": text("rough")})},
			map[substitution.Place]Action{"rear.hub": Keep, "rear.hub.bearing-left": Replace, "rear.hub.bearing-right": Replace}, "", ""},
		{"but not one that was found smooth itself", cartridges, []Taken{at("rear.hub", Readings{"feel": text("rough")}), at("rear.hub.bearing-left", Readings{"feel": text("smooth"), "play": text("none")})},
			map[substitution.Place]Action{"rear.hub": Keep, "rear.hub.bearing-left": Keep, "rear.hub.bearing-right": Replace}, "", ""},
		{"nor any where the mechanic says what becomes of the hub", cartridges, []Taken{at("rear.hub", Readings{"feel": text("rough")}), decides("rear.hub", Replace, nil)},
			map[substitution.Place]Action{"rear.hub": Replace}, "", ""},
		{"spokes ask how many", nil, []Taken{decides("rear.spokes-left", Replace, nil)},
			map[substitution.Place]Action{"rear.spokes-left": Replace}, "", "how many"},
		{"and are told", nil, []Taken{decides("rear.spokes-left", Replace, Readings{"wanted": substitution.Count(2)})},
			map[substitution.Place]Action{"rear.spokes-left": Replace}, "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			found, err := Findings(c.build, c.taken)
			require.NoError(t, err)
			got := map[substitution.Place]Action{}
			var said, asks []string
			for _, f := range found {
				got[f.Place] = f.Action
				for _, x := range f.Contradictions {
					said = append(said, x.Words)
				}
				asks = append(asks, f.Asks...)
			}
			require.Equal(t, c.want, got)
			for text, list := range map[string][]string{c.says: said, c.asks: asks} {
				if text == "" {
					continue
				}
				require.Contains(t, strings.Join(list, "\n"), text)
			}
			require.Equal(t, c.says == "", len(said) == 0, said)
			require.Equal(t, c.asks == "", len(asks) == 0, asks)
		})
	}
}

func TestTakenRefused(t *testing.T) {
	before := []Taken{{Place: "front.tyre", Readings: Readings{"damaged": substitution.Yes(true)}}}
	for _, c := range []struct {
		name  string
		taken Taken
		says  string
	}{
		{"nothing", Taken{Place: "front.tyre"}, "nothing was read at the front tyre"},
		{"a correction of nothing", Taken{Place: "rear.tyre", Correct: true, Readings: Readings{"damaged": substitution.Yes(false)}}, "no damaged was read at the rear tyre before: there is nothing to correct"},
		{"a correction without a reading", Taken{Place: "front.tyre", Correct: true, Action: Keep}, "a correction says what is corrected"},
		{"taking back what was not read", Taken{Place: "front.tyre", TakeBack: []string{"worn_to_mark"}}, "no worn_to_mark was read at the front tyre"},
		{"both", Taken{Place: "front.tyre", TakeBack: []string{"damaged"}, Readings: Readings{"damaged": substitution.Yes(false)}}, "taken back and read at once"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := c.taken.Check(before)
			require.ErrorContains(t, err, c.says)
		})
	}
}

// TestTheWorseStands: whatever else is read at a place, in whatever order, no later reading makes the finding milder.
func TestTheWorseStands(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		site := rapid.SampledFrom(substitution.Sites()).Draw(t, "place")
		if len(ReadingsOf(site.Family)) == 0 {
			return
		}
		var taken []Taken
		for range rapid.IntRange(1, 4).Draw(t, "visits") {
			if r := drawReadings(t, site.Family); len(r) > 0 {
				taken = append(taken, Taken{Place: site.Place, Readings: r})
			}
		}
		found, err := Findings(nil, taken)
		require.NoError(t, err)
		for _, visit := range taken {
			alone, err := Propose(nil, site.Place, visit.Readings)
			require.NoError(t, err)
			if alone.Action == Replace && !alone.reopens(visit) {
				require.Equal(t, Replace, at(found, site.Place).Action, "%v", taken)
			}
		}
	})
}

// reopens reports whether a verdict hangs on a reading that a later one may rightly turn: what is inside a house, or the
// mark on a rotor that decides between the limits.
func (p Proposal) reopens(t Taken) bool {
	_, inside := t.Readings["inside"]
	_, thickness := t.Readings["thickness_mm"]
	_, marked := t.Readings["marked_minimum_mm"]
	return inside || thickness && !marked
}

func at(found []Finding, p substitution.Place) Finding {
	for _, f := range found {
		if f.Place == p {
			return f
		}
	}
	return Finding{}
}

// TestAFamilyKnowsWhatIsReadOfIt names what a family lacks: a part that sits at a place of the bike, and is sold, can be
// read, every answer to a reading says something with a source, and what is done to it has words and minutes.
func TestAFamilyKnowsWhatIsReadOfIt(t *testing.T) {
	for _, family := range substitution.Families() {
		table, err := substitution.TableOf(family)
		require.NoError(t, err)
		onBench := func(p substitution.Place) bool { return strings.HasPrefix(string(p), "bench.") }
		if table.NeverSold || !slices.ContainsFunc(substitution.PlacesOf(family), func(p substitution.Place) bool { return !onBench(p) }) {
			continue
		}
		require.NotEmpty(t, table.Readings, "the table of %s lacks Readings: what is read of it where it sits", family)
		_, ok := substitution.WorkOn(family, Replace)
		require.True(t, ok, "the table of %s lacks Work: what is charged for replacing it", family)
		for _, r := range table.Readings {
			answers := map[substitution.Form][]substitution.Value{substitution.Flag: {substitution.Yes(true), substitution.Yes(false)}}[r.Form]
			for _, w := range r.Words {
				answers = append(answers, substitution.Text(w))
			}
			if r.Form == substitution.Number {
				answers = append(answers, substitution.Num(r.Low), substitution.Num(r.High))
			}
			if r.Says == nil && r.Judge == nil {
				answers = nil // it stands beside another reading, or counts
			}
			for _, v := range answers {
				a := r.Advise(substitution.Look{Place: substitution.PlacesOf(family)[0], Read: Readings{r.Name: v}})
				require.NotEmpty(t, a.Words, "%s: the reading %s says nothing of %s", family, r.Name, v)
				require.NotZero(t, a.Source, "%s: %s has no source", family, r.Name)
				require.True(t, a.Action != "" || a.Asks != "", "%s: %s %s neither proposes nor asks", family, r.Name, v)
			}
		}
		for _, w := range table.Work {
			require.NotEmpty(t, w.Words)
			require.Positive(t, w.Minutes)
			require.NotEqual(t, Keep, w.Action)
		}
	}
}

// What is read after the work is told by itself: how the new wheel runs says nothing of the old walls, and a joint that
// was put on too tight is said even where the part was replaced.
func TestCameOut(t *testing.T) {
	num := substitution.Num
	for _, c := range []struct {
		name          string
		before, after Taken
		action        Action
		says          string
	}{
		{"a true wheel", Taken{Place: "rear.rim", Readings: Readings{"wall_mm": num(0.9)}}, Taken{Place: "rear.rim", After: true, Readings: Readings{"run_out_mm": num(0.2)}}, Keep, "0.2 mm in a turn"},
		{"a wheel that is not", Taken{Place: "rear.rim", Readings: Readings{"wall_mm": num(0.9)}}, Taken{Place: "rear.rim", After: true, Readings: Readings{"run_out_mm": num(1.2)}}, Adjust, "1.2 mm in a turn"},
		{"a saddle by torque", Taken{Place: "saddle", Action: Replace}, Taken{Place: "saddle", After: true, Readings: Readings{"tightened_nm": num(60)}}, Adjust, "put on with 60 N·m"},
	} {
		t.Run(c.name, func(t *testing.T) {
			found, err := Findings(nil, []Taken{c.before, c.after})
			require.NoError(t, err)
			require.Len(t, found, 1)
			require.Equal(t, Replace, found[0].Action)
			require.Equal(t, c.action, found[0].CameOut.Action)
			require.Contains(t, found[0].CameOut.Words, c.says)
			require.NotContains(t, found[0].Proposal.Words, c.says)
		})
	}
}

package describe_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist/describe"
	"stead/substitution"
)

// Lines in the manner of wholesalers, with what decides fit and no figure's label tells.
func TestNewerDimensions(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"CHAIN 12SPD 114L LARGE ROLLER":                      "links 114, roller large, speeds 12",
		"CASS 11-32 11SPD HG W/O L/RING":                     "freehub hg, speeds 11, teeth_max 32, teeth_min 11",
		"CASSETTE 9SPD 11-32 C/W LOCKRING":                   "lockring yes, speeds 9, teeth_max 32, teeth_min 11",
		"RIM 622X19C 32H DISC SPECIFIC BLK":                  "bead_mm 622, brake_track no, colour black, holes 32, inner_width_mm 19",
		"Rim 622x17, 36 holes, machined sidewall":            "bead_mm 622, brake_track yes, holes 36, inner_width_mm 17",
		"RIM 622X21C 28H DEPTH 45MM CARBON":                  "bead_mm 622, depth_mm 45, holes 28, inner_width_mm 21, material carbon",
		"RIM 559X19 32H VALVE HOLE 8.5MM":                    "bead_mm 559, holes 32, inner_width_mm 19, valve_hole_mm 8.5",
		"SPOKE 14G 264MM STRAIGHT PULL BLK":                  "colour black, gauge_mm 2, head straight, length_mm 264",
		"SPOKE 2.0 264MM J-BEND STAINLESS":                   "gauge_mm 2, head bend, length_mm 264, material stainless",
		"HUB RR 32H STRAIGHT PULL 12X142 C/LOCK":             "axle 12x142, head straight, holes 32, oln_mm 142, position rear, rotor_mount centre-lock",
		"HEADSET 1\" THREADED STEEL CHROME":                  "kind threaded, material steel, steerer_mm 25.4, treatment chromed",
		"HEADSET A/HEAD 1 1/8 BLK":                           "colour black, kind threadless, steerer_mm 28.6",
		"STEM QUILL 22.2 26.0 80MM SIL":                      "clamp_mm 26, colour silver, kind quill, length_mm 80, quill_mm 22.2",
		"STEM A/HEAD 31.8X90 1-1/8 6DEG BLK":                 "angle_deg 6, clamp_mm 31.8, colour black, kind clamp, length_mm 90, steerer_mm 28.6",
		"DROP BARS 31.8 420MM REACH 80 DROP 125":             "clamp_mm 31.8, drop_mm 125, reach_mm 80, shape drop, width_mm 420",
		"RISER BAR 31.8 X 720 RISE 20MM BLK":                 "clamp_mm 31.8, colour black, rise_mm 20, shape riser, width_mm 720",
		"BARS FLAT 25.4 600MM":                               "clamp_mm 25.4, shape flat, width_mm 600",
		"SEATPOST 27.2X350 SETBACK 25MM BLK":                 "colour black, diameter_mm 27.2, length_mm 350, setback_mm 25",
		"DROPPER POST 31.6 X 440":                            "diameter_mm 31.6, kind dropper, length_mm 440",
		"FLAT PEDALS 9/16 ALLOY BLK PR":                      "cleat none, colour black, material alloy, pack 2, thread 9/16x20",
		"BRAKE LEVER LH HYDRAULIC MINERAL OIL FLAT BAR BLK":  "actuation hydraulic, colour black, fluid mineral-oil, shape flat, side left",
		"BRK LEVERS PR LONG PULL":                            "pack 2, pull long, side pair",
		"DISC CALIPER HYDRAULIC 2 PISTON POST MOUNT DOT 5.1": "actuation hydraulic, fluid dot, kind disc, mount post, pistons 2",
		"ROTOR 160MM 6-BOLT RESIN PADS ONLY":                 "pads organic-only, rotor_mm 160, rotor_mount 6-bolt",
		"F/MECH 31.8 FRONT PULL 11SPD":                       "cable_pull side, clamp_mm 31.8, speeds 11",
		"AXLE RR SOLID M10X1 175MM":                          "kind solid, length_mm 175, position rear, thread M10x1",
		"BOLT M5X16 GRADE 12.9":                              "length_mm 16, strength 12.9, thread M5x0.8",
		"BRG 3802 DOUBLE ROW 2RS":                            "bore_mm 15, designation 3802, outer_mm 24, rows 2, seal 2rs, width_mm 7",
		"BRAKE FLUID DOT 4 100ML":                            "fluid dot, purpose brake-fluid",
		"C/RING 42T 110PCD OFFSET 3MM":                       "bcd_mm 110, offset_mm 3, teeth 42",
	} {
		t.Run(text, func(t *testing.T) {
			t.Parallel()
			got := describe.Read(text)
			require.Equal(t, want, got.Spec.String())
		})
	}
}

// A shop can teach every dimension of every family, and nothing that no family has.
func TestEveryDimensionCanBeTaught(t *testing.T) {
	t.Parallel()
	taught := 0
	for _, f := range substitution.Families() {
		table, err := substitution.TableOf(f)
		require.NoError(t, err)
		if table.NeverSold {
			continue
		}
		for _, name := range table.DimensionNames() {
			d, _ := table.Dimension(name)
			if d.Form == substitution.Word && len(d.Words) == 0 {
				continue // its values are another reader's: threads, axles, shells
			}
			r, err := describe.NewReader(describe.Words{"zog": "family " + string(f), "krunk": name + "=" + valueFor(d)})
			require.NoError(t, err, "%s %s", f, name)
			got := r.Read("ZOG KRUNK")
			require.Equal(t, f, got.Family, name)
			if name == "pack" {
				continue
			}
			require.Contains(t, got.Spec, name, "%s: %s", f, name)
			taught++
		}
	}
	require.Greater(t, taught, 200)
	_, err := describe.NewReader(describe.Words{"krunk": "brake_track=perhaps"})
	require.ErrorContains(t, err, "brake_track")
	_, err = describe.NewReader(describe.Words{"krunk": "head=bananas"})
	require.ErrorContains(t, err, "head")
}

// valueFor is some value that can be meant.
func valueFor(d substitution.Dimension) string {
	switch d.Form {
	case substitution.Word:
		return d.Words[0]
	case substitution.Flag:
		return "true"
	case substitution.Ints:
		return substitution.List(int(max(d.Low, 1))).String()
	case substitution.Int:
		return substitution.Count(int(d.Low + 1)).String()
	}
	return substitution.Num((d.Low + d.High) / 2).String()
}

package describe_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist/describe"
)

// An article's number and a model's name say nothing of sizes, packs or of what comes with a part.
func TestNumbersOfArticlesAndModels(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"BX-7733 SPOKE 2.0 284MM BLK":                    "colour black, gauge_mm 2, length_mm 284",
		"W/60772 Bottle cage alloy, white":               "colour white, material alloy",
		"88-3051 CHAIN 9SPD 116L":                        "links 116, speeds 9",
		"0031.66 AXLE NUT 14MM X 1":                      "thread M14x1",
		"LQ/9094 HEADSET BEARING 41.8 45/45":             "inner_angle_deg 45, outer_angle_deg 45, outer_mm 41.8",
		"BAG/1000 BALLS 1/4":                             "ball_mm 6.35, pack 1000",
		"Saddle S-270 gel black":                         "colour black, cover gel",
		"Attacco manubrio A100 31,8 mm 80 mm":            "clamp_mm 31.8, length_mm 80",
		"Axle A-175 rear M10x1 solid":                    "kind solid, position rear, thread M10x1",
		"Tyre X28 37-622 black":                          "bead_mm 622, colour black, width_mm 37",
		"Comfort Plus saddle gel":                        "cover gel",
		"Sealed bearing 6902-2RS 15 x 28 x 7 ea":         "bore_mm 15, designation 6902, outer_mm 28, seal 2rs, width_mm 7",
		"guidon 31,8 x 620 mm en aluminium EN 14766":     "clamp_mm 31.8, material alloy, width_mm 620",
		"Ringslot met insteekketting zwart":              "colour black",
		"Frame lock with black chain":                    "",
		"Speiche nicht konifiziert 264 mm":               "butted no, length_mm 264",
		"Stainless bolt M5 x 0.8 x 16mm cap head, A2-70": "length_mm 16, material stainless, strength A2-70, thread M5x0.8",
		"Bottle cage black with stainless bolts":         "colour black",
		"DERAGLIATORE ANT 9V A SALDARE":                  "mount braze-on, speeds 9",
		"Schlauch 28/47-622 SV60":                        "bead_mm 622, valve presta, valve_mm 60, width_max_mm 47, width_min_mm 28",
		"Tube 700x28-47 SV 60mm":                         "bead_mm 622, valve_mm 60, width_max_mm 47, width_min_mm 28",
		"Rear rack 55 lb / 25 kg max":                    "load_kg 25, position rear",
	} {
		got := describe.Read(text)
		require.NotEmpty(t, got.Family, text)
		require.Equal(t, want, got.Spec.String(), text)
	}
}

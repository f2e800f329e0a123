package desk

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/pricing"
)

func TestChecksTogether(t *testing.T) {
	require.Equal(t, []string{
		"upper headset bearing bore 30.2 mm, outside diameter 41.8 mm, width 7 mm, as on the old part",
		"lower headset bearing bore 40 mm, width 7 mm, as on the old part",
		"9-speed chain with 10-speed cassette: common practice",
		"chain width 5/64, as on the old part",
	}, together([]string{
		"upper headset bearing bore 30.2 mm, as on the old part", "upper headset bearing outside diameter 41.8 mm, as on the old part",
		"upper headset bearing width 7 mm, as on the old part", "lower headset bearing bore 40 mm, as on the old part",
		"lower headset bearing width 7 mm, as on the old part", "9-speed chain with 10-speed cassette: common practice",
		"chain width 5/64, as on the old part"}))
}

func TestMightFitIsSaidOnce(t *testing.T) {
	part := func(name string, asks ...pricing.Ask) pricing.UnsurePart {
		return pricing.UnsurePart{Place: "headset.upper-bearing", Name: name, Asks: asks, Measure: []string{"how"}}
	}
	bore := pricing.Ask{Place: "headset.upper-bearing", Dimension: "bore_mm", Words: "bore"}
	width := pricing.Ask{Place: "headset.upper-bearing", Dimension: "width_mm", Words: "width"}
	own := pricing.Ask{Place: "headset.upper-bearing", PartID: 7, Dimension: "width_mm", Words: "width"}
	require.Equal(t, []string{
		"A, B as upper headset bearing: bore, width of the upper headset bearing on the bike",
		"C as upper headset bearing: bore of the upper headset bearing on the bike, width of the part",
		"D as upper headset bearing: how",
	}, MightFit([]pricing.UnsurePart{part("A", bore, width), part("B", bore, width), part("C", bore, own), part("D", bore)}))
}

func TestOneCaution(t *testing.T) {
	require.Equal(t, []string{"mind the rim", "the front hub balls, left; the rim and the hub are safety parts: see to it", "the post is a safety part: never shim it"},
		oneCaution([]string{"mind the rim", "the front hub balls, left is a safety part: see to it", "the post is a safety part: never shim it",
			"the rim is a safety part: see to it", "the hub is a safety part: see to it"}))
	require.Equal(t, []string{"the hub is a safety part: see to it"}, oneCaution([]string{"the hub is a safety part: see to it"}))
}

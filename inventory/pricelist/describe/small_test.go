package describe_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist/describe"
	"stead/substitution"
)

// sold is how an invented wholesaler describes each thing that the worked examples of the rules say must be brought.
var sold = map[string]string{
	"1 mm spacer behind the largest sprocket, unless the set's maker says it needs none": "CASS SPACER 1.0MM ALY",
	"1.85 mm spacer behind the largest sprocket":                                         "Freehub spacer 1,85 mm",
	"4.5 mm spacer behind the largest sprocket":                                          "Spacer; cassette; thickness: 4.5 mm",
	"adapter for a six-bolt rotor on a centre-lock hub":                                  "ADAPTOR C/LOCK TO 6 BOLT BLK",
	"cable end cap": "INNER CABLE END CAPS SIL BOX 500",
	"cassette lockring for a smallest sprocket of 11T":                      "LOCKRING CASSETTE 11T BLK",
	"centre-lock lockring notched inside, unless the rotor comes with one":  "LOCKRING C/LOCK INT NOTCH",
	"centre-lock lockring notched outside, unless the rotor comes with one": "Lockring, centre lock, external, for 15 mm axles",
	"crush washers for a banjo":                                             "COPPER CRUSH WASHERS BANJO PK10",
	"expander for a steerer of 28.6 mm":                                     "Expander plug for carbon steerers, 1 1/8\"",
	"ferrules":                                                              "FERRULES GEAR 4MM BAG 100",
	"joining link for 2 more chain links":                                   "CONN LINK 9SPD",
	"lockring for a fixed sprocket, 1.29x24 left":                           "LOCKRING TRACK 1.29\" LH",
	"lockring for a fixed sprocket, 1.32x24 left":                           "Fixed lockring 1.32 x 24 tpi left hand",
	"olive":                                 "BRAKE HOSE OLIVE BRASS",
	"insert for the hose":                   "HOSE INSERT STL PK10",
	"shim for the front derailleur's clamp": "F/MECH SHIM 31.8-28.6",
	"reducing sleeve for the seat post":     "SEATPOST SHIM 27.2-31.6",
	"shim for the bar":                      "HANDLEBAR SHIM 25.4-31.8",
	"adapter that raises the caliper for the larger rotor": "CALIPER ADAPTER PM +20",
	"front adapter from tabs to posts for 180 mm":          "BRAKE ADAPTER IS>PM 180 FRONT",
	"rear adapter from tabs to posts for 160 mm":           "BRAKE ADAPTER IS>PM 160 REAR",
	"clamp with a tab for the front derailleur":            "BRAZE-ON CLAMP 31.8",
	"star nut for a steerer of 28.6 mm":                    "STAR FANGLED NUT 1 1/8",
	"tubeless rim tape 23 to 28 mm wide":                   "RIM TAPE TUBELESS 23MM 10M",
	"glue or tape for tubulars":                            "TUB CEMENT 30G TUBE",
	"tubeless valve":                                       "TUBELESS VALVE PRESTA 44MM",
	"tyre sealant":                                         "TYRE SEALANT 500ML",
	"valve hole reducer":                                   "Valve hole reducer, schrader to presta",
}

// What a rule says a choice must bring is found in the catalogue by its exact words and figures, so that a description
// must be read to just those.
func TestReadsWhatRulesBring(t *testing.T) {
	t.Parallel()
	all, err := substitution.Cases()
	require.NoError(t, err)
	brought := 0
	for _, cases := range all {
		for _, c := range cases {
			finding, err := c.Try()
			require.NoError(t, err)
			for _, b := range finding.Brings {
				text, known := sold[b.Words]
				require.True(t, known, "no description of %q, which %s brings", b.Words, c.Rule)
				got := describe.Read(text)
				require.Equal(t, b.Family, got.Family, text)
				for dim, want := range b.Spec.Values() {
					require.True(t, want.Equal(got.Spec[dim].Value), "%s: %s is %s and not %s", text, dim, got.Spec[dim].Value, want)
				}
				brought++
			}
		}
	}
	require.NotZero(t, brought)
}

// Many things go by a small part's name, and it may be made for several sizes.
func TestSmallPartsInDoubt(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, text string
		family     substitution.Family
		absent     []string
	}{
		{"what a hub has for it", "TRACK HUB LOCKRING THREAD 1.29X24", "hub", nil},
		{"spacers in a cassette", "CASSETTE STEEL ALLOY SPACERS", "cassette", nil},
		{"a spacer on a bolt", "CALIPER BOLT SPACER", "", nil},
		{"a spacer under a lockring", "CASS LOCKRING SPACER", "consumable", []string{"teeth_min"}},
		{"a hub's spacer", "HUB SPACER CASSETTE SIDE 5MM", "", nil},
		{"a seatpost's expander", "SEATPOST EXPANDER", "", nil},
		{"a tool for it", "CASS LOCKRING REMOVAL TOOL", "", nil},
		{"a star nut's driver", "STAR NUT SETTER 1 1/8", "", nil},
		{"a lockring of nobody knows what", "LOCKRING SIL", "", nil},
		{"a bottom bracket's lockring", "BB LOCKRING STEEL", "", nil},
		{"a headset's spacer", "SPACER HEADSET 28.6 10MM", "headset-spacer", nil},
		{"a spacer of nobody knows what", "SPACER 10MM BLK", "", nil},
		{"a bottle cage's shim", "SHIM BOTTLE CAGE", "", nil},
		{"a caliper's adapter, and which way is not said", "DISC ADAPTER IS/PM 180", "brake-adapter", []string{"mount_from", "mount_to"}},
		{"the adapter that goes the other way", "ADAPTER CENTRE LOCK ROTOR ON 6 BOLT HUB", "", nil},
		{"a colour", "BAR TAPE OLIVE", "bar-tape", nil},
		{"a colour of something else", "SHORTS OLIVE XL", "", nil},
		{"a plain washer", "WASHERS M6 STAINLESS", "consumable", []string{"purpose"}},
		{"a kit", "OLIVE & BARB KIT", "consumable", []string{"purpose"}},
		{"a ring for both", "LOCKRING CASSETTE / CENTRE LOCK", "consumable", []string{"purpose"}},
		{"two smallest sprockets", "LOCKRING CASS 11/12T", "consumable", []string{"teeth_min"}},
		{"three smallest sprockets", "Cassette lockring for 11, 12, 13T", "consumable", []string{"teeth_min"}},
		{"two notches", "LOCKRING C/LOCK INT/EXT", "consumable", []string{"notches"}},
		{"two widths", "CASS SPACERS 1.0/1.85", "consumable", []string{"width_mm"}},
		{"two steerers", "STAR NUT 1\" & 1 1/8\"", "consumable", []string{"steerer_mm"}},
		{"one inch or the bore of more", "STAR NUT 25.4MM", "consumable", []string{"steerer_mm"}},
		{"the steerer's material", "EXPANDER PLUG CARBON 1 1/8", "consumable", []string{"material"}},
		{"a cap as thick as housing", "CABLE END CAPS 5MM", "consumable", []string{"purpose"}},
		{"a right-hand lockring", "TRACK LOCKRING 1.29X24 RH", "sprocket", []string{"fixing"}},
		{"what comes with it", "CASSETTE 9SPD 11-32 C/W LOCKRING", "cassette", nil},
		{"a bolt for a quill", "EXPANDER BOLT FOR QUILL 22.2MM", "bolt", []string{"length_mm"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			got := describe.Read(c.text)
			require.Equal(t, c.family, got.Family)
			for _, dim := range c.absent {
				require.NotContains(t, got.Spec, dim)
			}
		})
	}
}

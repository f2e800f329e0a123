package describe_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist/describe"
)

// Much that a wholesaler sells carries the name of a part and is none: what takes it off, cleans it, holds or covers
// it, a kit of small pieces of it, and what has the name of something else. It is said which words tell so.
func TestWhatOnlyLooksLikeAPart(t *testing.T) {
	t.Parallel()
	for _, text := range []string{
		"BRAKE SHOES DRUM 90MM", "BRAKE SHOES FOR DRUM BRAKE", "DRUM BRAKE SHOES PAIR", "ROLLER BRAKE SHOES",
		"CHAIN TOOL 1-12 SPEED", "CHAIN TOOL PIN SPARE", "CHAIN BREAKER", "CHAIN RIVET EXTRACTOR 5-11SPD", "CHAIN SPLITTER", "CHAIN HOOK", "CHAIN WHIP 11T",
		"CHAIN CLEANING BRUSH", "CHAIN LINK PLIERS", "CHAIN GAUGE", "WORKSHOP CHAIN GAUGE", "CHAIN T-SHIRT", "CHAINRING BOLT PEG SPANNER", "CHAINRING EARRINGS",
		"CASSETTE BRUSH", "CHAINSET REMOVAL TOOL", "ROTOR TRUING TOOL", "ROTOR CENTRELOCK TOOL", "ROTOR BAG", "CONE SPANNERS SET", "HUB SPARES KIT AXLE CONES",
		"HUB SERVICE KIT", "CHAIN CASE CLIPS", "HOSE CUTTER", "SADDLE COVER", "RACK STRAPS", "MUDGUARD STAYS", "DYNAMO BRACKET", "SHOCK PUMP", "CALIPER SERVICE KIT PISTONS SEALS", "CALIPER SPARES KIT", "REAR MECH SPARES KIT", "PEDAL AXLE REBUILD KIT", "FREEHUB BODY SERVICE KIT",
		"FREEHUB SPARE PAWLS", "DISC PAD SPREADER", "DISC PAD SPRING", "DISC PAD PIN BOLT", "CRANK PRESERVER", "RIM JACK", "STEM RAISER",
		"SEATPOST BAG", "SEATPOST QR SKEWER", "SPOKE BEADS", "SHIFTER HOODS", "OIL SEAL", "CABLE ADJUSTER M5", "TOOL KIT CHAIN CASSETTE",
	} {
		got := describe.Read(text)
		require.Empty(t, got.Family, text)
		require.NotEmpty(t, got.Other, text)
	}
	for text, family := range map[string]string{
		"TOGGLE CHAIN 3SPD": "indicator-chain", "CHAIN CASE": "chain-guard", "DISC BRAKE BLEED KIT": "bleed-kit", "STEM CAP": "top-cap", "HANDLEBAR PLUGS": "bar-plug",
		"CHN JOINER 9SPD": "chain-joiner", "SNAP LINK 1/8": "chain-joiner", "CHAIN CONNECTING PIN 11SPD": "chain-joiner", "CHN 9SPD 116L": "chain",
		"CARBON PASTE GRIP": "grease", "CARBON GRIP PASTE 50G": "grease", "LOCK ON GRIPS TOOL FREE": "grip", "CHAIN 9SPD C/W TOOL": "chain",
		"HUB DRUM BRAKE FRONT 36H": "hub", "HUB RR 32H 3 PAWL": "hub", "BRAKE CALIPER 4 PISTON POST MOUNT": "brake-caliper", "CASSETTE SPACER KIT": "consumable",
	} {
		require.Equal(t, family, string(describe.Read(text).Family), text)
	}
}

// A bearing of a cup and cone is balls, and a kit of seals is of whatever is named beside it: a name that is one thing by
// itself gives way to the word that says which. Invented lines; what they mean is common practice, no source.
func TestNeighbourSaysWhich(t *testing.T) {
	t.Parallel()
	for text, family := range map[string]string{
		`Bottom bracket bearings caged 11 balls 1/4"`: "ball-cage", "HEADSET BEARINGS CAGED 5/32 X 20": "ball-cage", "BB BEARINGS IN RETAINER 1/4 X 11": "ball-cage",
		"Ball bearings caged 1/4": "ball-cage", "Innenlager Kugellager im Käfig 1/4 x 11": "ball-cage", "Roulement pédalier en cage 1/4 x 11": "ball-cage",
		"Cuscinetti in gabbia 1/4 x 11": "ball-cage", "Kogellager in kooi 1/4 x 11": "ball-cage",
		"HUB BEARINGS LOOSE 1/4": "loose-balls", "Hub bearing 15x28x7 loose": "cartridge-bearing",
		"Cartridge bearing 6902 2RS steel caged": "cartridge-bearing", "Headset threadless caged bearings 1 1/8": "headset",
		"Fork wiper seal kit": "fork-seal", "SEAL KIT FORK 32MM": "fork-seal", "Dichtungssatz Federgabel 32mm": "fork-seal", "Kit joints de fourche": "fork-seal",
		"Kit guarnizioni forcella 34": "fork-seal", "Afdichtingsset voorvork 32": "fork-seal",
		"Shock seal kit": "service-kit", "Rear shock air can seal kit": "service-kit", "Dichtungssatz Dämpfer": "service-kit", "Shock with seal kit 200x57": "shock",
		"Caliper seal kit 22mm piston": "seal-kit", "Brake lever seal kit": "seal-kit", "Seal kit for 4 piston caliper": "seal-kit",
		"Dropper post seal kit": "", "Seal kit dropper": "",
	} {
		require.Equal(t, family, string(describe.Read(text).Family), text)
	}
}

// A letter behind "shape" is nearly a pad's code, and a list's own number is none of ours.
func TestNearlyACodeIsAsked(t *testing.T) {
	t.Parallel()
	for text, unread := range map[string][]string{
		"Disc brake pads shape D resin": {"D"}, "Bremsbeläge Form D organisch": {"D"}, "Pads type V brake": nil,
		"Kette 9-fach Artikelnr 1234": nil, "Kette 9-fach Bestellnr. 99 Bestellware": nil,
	} {
		require.Equal(t, unread, describe.Read(text).Unread, text)
	}
}

// A name with nothing that fits it, before a word that nobody knows, may be half of another name: it is asked about.
func TestHalfANameIsAsked(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"HANDLEBAR WIDGETS", "Zupfel de pédalier 170mm", "Kette-Zupfler 9-fach", "REAR MECH PIVOT BOLT", "RIM KWARTEL", "TYRE ZOG SET"} {
		got := describe.Read(text)
		require.Empty(t, got.Family, text)
		require.NotEmpty(t, got.Unread, text)
	}
	for _, text := range []string{"RIM KWARTEL 622X19C", "KWARTEL TYRE", "GRIPS KWARTEL BLACK", "BAR TAPE ZOG"} {
		require.NotEmpty(t, describe.Read(text).Family, text)
	}
	r, err := describe.NewReader(describe.Words{"zog": "family chain"})
	require.NoError(t, err)
	require.Equal(t, "chain", string(r.Read("ZOG KRUNK").Family), "a person has said what it is")
}

// A compound's own words say what it is for, and not what it is made of.
func TestAPasteIsOfNoMaterial(t *testing.T) {
	t.Parallel()
	require.NotContains(t, describe.Read("ASSEMBLY PASTE CARBON GRIP 30ML").Spec, "material")
}

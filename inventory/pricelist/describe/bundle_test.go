package describe_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist/describe"
)

// What several of our parts make together, or were made into, is none of them: a kit, a wheel, a whole brake.
func TestSeveralPartsAreNone(t *testing.T) {
	t.Parallel()
	for _, text := range []string{
		"Chain & cassette bundle 9sp 11-32T 116L", "Antriebsset 10-fach: Kette 116 Gl. + Kassette 11-36", "Ensemble chaîne + cassette 9v 11-32",
		"Kit câbles et gaines freins complet noir", "Serie cavi e guaine cambio completa, nera", "Brake Cable & Housing Kit, Road, Black", "Tyre and tube set 26 x 1.95", "Gear cable outer and inner set, black",
		"REAR WHEEL 700C 36H S/ON SILVER", "Hinterrad 28\" 36L Schraubkranz silber", "ACHTERWIEL 28\" 36G RVS SPAKEN ZWART", "Roue avant 26\" 36 rayons inox", "RUOTA ANT. 26\" 36F PERNO PIENO ARGENTO",
		"Hydraulic disc brake set, front + rear, 160mm rotors", "Scheibenbremse hydraulisch vorn 160 mm", "Schijfremset hydraulisch voor+achter 180 mm", "Frein à disque hydraulique complet AV+AR 160 mm",
		"Impianto freno idraulico completo ant.+post. 180 mm",
	} {
		got := describe.Read(text)
		require.Empty(t, got.Family, text)
		require.NotEmpty(t, got.Other, text)
	}
}

// What comes with a part, or says where it goes, makes no bundle of it.
func TestPartsThatComeAlong(t *testing.T) {
	t.Parallel()
	for text, family := range map[string]string{
		"Bar tape gel white with plugs": "bar-tape", "Hinterrad-Nabe 36L schwarz": "hub", "Schnellspanner Hinterrad 135 mm": "skewer", "Rear wheel hub 36h": "hub",
		"Hub and skewer front 36h 100mm": "hub", "Pastiglie freno a disco organiche": "disc-pad", "Plaquettes frein à disque organiques": "disc-pad",
		"Pedals and cleats pair": "pedal", "Front & rear skewers": "skewer", "Chainring 34T inner 5-bolt, set": "chainring",
	} {
		require.Equal(t, family, string(describe.Read(text).Family), text)
	}
}

// One name that several families share is settled by what else is said.
func TestSharedNames(t *testing.T) {
	t.Parallel()
	for text, family := range map[string]string{
		"Twist shifter for 3 spd hub gear": "hub-shifter", "Twist shifter 8 spd": "shifter", "BRACKET PF30 VOOR 30MM AS ZWART": "bottom-bracket", "Bracket alloy black": "",
		"IS to post adaptor, 160mm, rear": "brake-adapter", "Adaptor black": "", "Spacers 1 1/8 x 5mm alloy": "headset-spacer", "Mineralöl für Scheibenbremsen 500 ml": "consumable",
		"Mineral oil 1 litre": "lubricant", "Gear hub dust cap, left": "hub-spare", "Dust caps, bag 50": "consumable", "SKEWERS ALLEN BOLT FIXING F+R BLK": "skewer", "Derailleur, rear, 10-speed": "rear-derailleur", "Cambio 9v gabbia media": "rear-derailleur", "Derailleur, front, 2x": "front-derailleur", "Derailleur 9-speed": "",
		"VR-Nabe Vollachse 36 Loch": "hub",
	} {
		require.Equal(t, family, string(describe.Read(text).Family), text)
	}
}

// The colour of a box is not its content's, unless the box holds so many of that colour.
func TestColourOfTheBox(t *testing.T) {
	t.Parallel()
	for text, colour := range map[string]string{
		"Cassette 9 spd 11-34T HG, brown box OEM": "", "Kassette 7-fach 12-28 Zähne im braunen Karton": "", "CASSETTE 8V 12/28 (CARTON BRUN)": "",
		"Ruota libera 6 velocità 14/28 marrone, scatola bianca": "brown", "SPOKES 284MM SIL BOX 500": "silver", "Half link 1/8 black bag of 5": "black",
	} {
		got := describe.Read(text)
		require.NotEmpty(t, got.Family, text)
		require.Equal(t, colour, got.Spec["colour"].Value.Word(), text)
	}
}

// What comes with a part ends at the figure behind its name: the finish after that is the part's own.
func TestWhatComesWithItEndsAtItsFigure(t *testing.T) {
	t.Parallel()
	require.Equal(t, "black", describe.Read("Capuchon de direction avec vis 1\"1/8 noir").Spec["colour"].Value.Word())
	require.NotContains(t, describe.Read("Front hub 36h with silver nuts").Spec, "colour")
}

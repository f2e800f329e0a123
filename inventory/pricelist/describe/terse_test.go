package describe_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist/describe"
)

// What terse lists leave to the eye: which figure a letter names, whose a colour at the end is, which end of an adapter is
// which.
func TestWhatTerseListsLeaveToTheEye(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct{ text, family, spec string }{
		"a letter names the figure behind it, Italian": {"Viti corona M8x0,75 L 6,5 mm", "chainring-bolt", "length_mm 6.5, thread M8x0.75"},
		"a letter names the figure behind it, French":  {"POTENCE 25,4 L.80 ALU", "stem", "clamp_mm 25.4, length_mm 80, material alloy"},
		"a letter names the figure behind it, Dutch":   {"INBUSBOUT M5X0,8 L=16 RVS", "bolt", "length_mm 16, material stainless, thread M5x0.8"},
		"a letter names the figure behind it, German":  {"Schutzblech 622 B=56mm", "mudguard", "bead_mm 622, width_mm 56"},
		"two labels share the figures between them":    {"DROP BAR 31.8 440MM 125 DROP 75 REACH", "handlebar", "clamp_mm 31.8, drop_mm 125, reach_mm 75, shape drop, width_mm 440"},
		"the other ring of the pair":                   {"C/RING 34T 110BCD INNER FOR 50T", "chainring", "bcd_mm 110, pairs_with 50, position inner, teeth 34"},
		"the other ring of the pair, Italian":          {"CORONA 34D INT. BCD110 PER 50", "chainring", "bcd_mm 110, pairs_with 50, position inner, teeth 34"},
		"speeds are no ring":                           {"C/RING 34T 110BCD FOR 9 SPEED", "chainring", "bcd_mm 110, speeds 9, teeth 34"},
		"a colour behind what it is for":               {"Kassette 12-fach 10-51 für Micro-Spline-Freilauf schwarz", "cassette", "colour black, freehub micro-spline, speeds 12, teeth_max 51, teeth_min 10"},
		"a colour of what it is for":                   {"Bottle cage alloy for black frames", "bottle-cage", "material alloy"},
		"an Italian roll is not red in German":         {"GUAINA FRENO 5MM NERA ROT. 30M", "cable-outer", "colour black, diameter_mm 5, length_mm 30000, use brake"},
		"a thru-axle's length is no hub's width":       {"THRU AXLE RR 12X172 M12X1.5", "thru-axle", "diameter_mm 12, length_mm 172, position rear, thread M12x1.5"},
		"a hub's width is no thru-axle's length":       {"THRU AXLE RR 12X142", "thru-axle", "diameter_mm 12, position rear"},
		"angles by name":                               {"CUSC. STERZO 30,5X41,8X8 INT 45° EST 45°", "headset-bearing", "bore_mm 30.5, inner_angle_deg 45, outer_angle_deg 45, outer_mm 41.8, width_mm 8"},
		"an end of a headset named before its code":    {"Serie sterzo sup. EC34/28.6 inf. EC34/30", "headset", "crown_mm 30, lower EC34/30, steerer_mm 28.6, upper EC34/28.6"},
		"an end of a headset named behind its code":    {"HEADSET EC34/28.6 TOP EC34/30 BOTTOM", "headset", "crown_mm 30, lower EC34/30, steerer_mm 28.6, upper EC34/28.6"},
		"caliper and fork of an adapter":               {"Brake adaptor, post mount calliper on IS fork, front, 180mm", "brake-adapter", "mount_from is, mount_to post, position front, rotor_mm 180"},
		"frame and caliper of an adapter":              {"ADAPTOR IS FRAME TO P/M CALIPER REAR 160", "brake-adapter", "mount_from is, mount_to post, position rear, rotor_mm 160"},
		"a dash from tabs to posts":                    {"ADATT. DISCO IS-PM ANT. 180MM", "brake-adapter", "mount_from is, mount_to post, position front, rotor_mm 180"},
		"an effective diameter is no bead seat":        {"RIM 29\" 32H 30MM ID ERD 599", "rim", "bead_mm 622, erd_mm 599, holes 32, inner_width_mm 30"},
		"holes are no speeds":                          {"MOZZO POST. 32F HG", "hub", "freehub hg, holes 32, position rear"},
		"a cut word of one phrase in another":          {"NASTRO MANUB. SUGHERO BIANCO", "bar-tape", "colour white, material cork"},
		"a wheel's bead wire is not tubeless":          {"PNEU 700X28C TR.RIGIDE BLANC", "tyre", "bead_mm 622, colour white, width_mm 28"},
		"a pair behind a colour":                       {"Pattini freno 72 mm filettati neri cp", "rim-pad", "colour black, length_mm 72, pack 2, pad_fixing threaded"},
		"a pair, and not chromed":                      {"Gommini pattino corsa a cartuccia 50 mm cp.", "rim-pad", "length_mm 50, pack 2, pad_fixing cartridge-insert"},
		"chromed, and no pair":                         {"GRIPS 130MM CP", "grip", "length_mm 130, treatment chromed"},
		"a letter behind decimals, French":             {"Potence alu 31,8 L. 100 mm", "stem", "clamp_mm 31.8, length_mm 100, material alloy"},
		"speeds behind a dash":                         {"CASSETTE 10-V 11-36T", "cassette", "speeds 10, teeth_max 36, teeth_min 11"},
		"a shock's two lengths":                        {"Rear shock, eye to eye 210 mm, stroke 55 mm", "shock", "eye_to_eye_mm 210, stroke_mm 55"},
		"what a shoe is for, cut short, German":        {"BREMSSCHUH V-BR. 70MM GEWINDE F. ALUFELGE", "rim-pad", "length_mm 70, pad_fixing threaded, rim_material alloy"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			got := describe.Read(c.text)
			require.Equal(t, c.family, string(got.Family))
			require.Equal(t, c.spec, got.Spec.String())
		})
	}
}

// A name at the beginning of a line may be cut short without a stop, or be the beginnings of the two words of a compound; a
// word that only looks so names nothing.
func TestNamesCutShortWithoutAStop(t *testing.T) {
	t.Parallel()
	for text, family := range map[string]string{
		"SPATB 622 B=56MM": "mudguard", "REMSCH 160MM 6G": "disc-rotor", "SATST 27,2X350 ALU": "seatpost", "VELGB 16MM": "rim-tape", "LENKB 31,8X640": "handlebar",
		"STARK 27,2X350": "", "BADGE 31.8X640": "", "REGAL 622X19C 36L": "", "TANK 700X28C": "", "POSTER 27.2X350": "",
	} {
		require.Equal(t, family, string(describe.Read(text).Family), text)
	}
}

// The words of a name that are cut at stops, each for itself, in every language; and what begins like several names is none.
func TestNamesOfWordsCutAtStops(t *testing.T) {
	t.Parallel()
	for text, family := range map[string]string{
		"Coll.reggis. 31,8 allum.": "seat-clamp", "Corp. r.lib. XD": "freehub-body", "Rot.cambio 11D": "jockey-wheel", // Italian
		"Rond. anti-rot. G": "non-turn-washer", "Kit entr. fourche 200h": "service-kit", "Cône moy. AR M10x1": "hub-cone", // French
		"Br.leitg. hydr. 5,0mm 2000mm": "brake-hose", "Stsz.-Lager 30,15x41x6,5": "headset-bearing", // German
		"Kett.beschermer tot 42T": "chain-guard", // Dutch
		"Brk cal. hyd post mnt":   "brake-caliper",
		"R. d. 31,8":              "", "K. f. 12": "", "Estratt. perno 15 mm": "", "Taglia. guaina": "", // an extractor, a cutter
	} {
		require.Equal(t, family, string(describe.Read(text).Family), text)
	}
}

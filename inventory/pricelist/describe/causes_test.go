package describe_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist/describe"
)

// TestCauses reads lines of each cause for which something was once read wrongly or not at all. The sizes that a bearing's
// number gives are ISO 15's; the rest is what the line says.
func TestCauses(t *testing.T) {
	t.Parallel()
	for cause, lines := range map[string]map[string]string{
		"a wheel's name before its valve": {
			"Schlauch 28 AV":                "tube valve=schrader",
			"Tube 26 presta":                "tube valve=presta",
			"Inner tube 29 presta valve":    "tube valve=presta",
			"Tube 700x28-35 presta 60":      "tube bead_mm=622 valve=presta valve_mm=60 width_max_mm=35 width_min_mm=28",
			"Camera 28 valvola schrader 48": "tube valve=schrader valve_mm=48",
		},
		"a kind of valve labels its length": {
			"Chambre à air 700x35/43 valve Schrader 48": "tube bead_mm=622 valve=schrader valve_mm=48 width_max_mm=43 width_min_mm=35",
			"Schlauch 40/62-559 Prestaventil 42":        "tube bead_mm=559 valve=presta valve_mm=42 width_max_mm=62 width_min_mm=40",
		},
		"a German ring that goes with another": {
			"Kettenblatt 52Z LK130 für 39er":                    "chainring bcd_mm=130 pairs_with=39 teeth=52",
			"Kettenblatt 48 Zähne LK 110 5-Loch für 36er innen": "chainring bcd_mm=110 bolts=5 pairs_with=36 teeth=48",
			"Kettenblatt 38Z LK104 24er Pack":                   "chainring bcd_mm=104 pack=24 teeth=38",
		},
		"rubber seals, and how many": {
			"Brg 25x37x6 dbl rubber sealed": "cartridge-bearing bore_mm=25 outer_mm=37 seal=2rs width_mm=6",
		},
		"red before pieces": {
			"Kettenblattschrauben M8x0,75 6,5 mm Alu rot 4 Stk": "chainring-bolt colour=red length_mm=6.5 material=alloy pack=4 thread=M8x0.75",
			"Griffe Schaum rot 2 Stk":                           "grip colour=red material=foam pack=2",
			"Guaina freno 5 mm nera rot. 30 m":                  "cable-outer colour=black diameter_mm=5 length_mm=30000 use=brake",
		},
		"a letter before a bearing's number that says another bearing": { // bearing makers' tables of prefixes, which differ
			"F688ZZ bearing":               "cartridge-bearing seal=zz",
			"Lager F 688 ZZ":               "cartridge-bearing seal=zz",
			"F688ZZ 8x16x5":                "cartridge-bearing bore_mm=8 outer_mm=16 seal=zz", // by its sizes it would be a plain one
			"F-688 ZZ":                     "cartridge-bearing seal=zz",
			"SF688ZZ stainless":            "cartridge-bearing material=stainless seal=zz",
			"6902-2RS NR":                  "cartridge-bearing bore_mm=15 designation=6902 outer_mm=28 outer_ring=grooved seal=2rs width_mm=7",
			"6902 NR 2RS bearing 15x28x7":  "cartridge-bearing bore_mm=15 designation=6902 outer_mm=28 outer_ring=grooved seal=2rs width_mm=7",
			"6902N-2RS":                    "cartridge-bearing bore_mm=15 designation=6902 outer_mm=28 outer_ring=grooved seal=2rs width_mm=7",
			"FL688ZZ":                      "cartridge-bearing bore_mm=8 outer_mm=16 outer_ring=flanged seal=zz width_mm=5",
			"688ZZ flanged bearing":        "cartridge-bearing bore_mm=8 designation=688 outer_mm=16 outer_ring=flanged seal=zz width_mm=5",
			"Kugellager 688ZZ mit Flansch": "cartridge-bearing bore_mm=8 designation=688 outer_mm=16 outer_ring=flanged seal=zz width_mm=5",
			"W688ZZ":                       "cartridge-bearing bore_mm=8 outer_mm=16 seal=zz",
			"W6902-2RS":                    "cartridge-bearing bore_mm=15 outer_mm=28 seal=2rs width_mm=7",
			"S688ZZ":                       "cartridge-bearing bore_mm=8 designation=688 outer_mm=16 seal=zz width_mm=5",
			"Hub bearing w 6902":           "cartridge-bearing bore_mm=15 designation=6902 outer_mm=28 width_mm=7",
		},
		"a stem's two clamps": { // common practice: no quill is 28.6 mm, which is the steerer of 1 1/8 in
			"Stem 28.6/31.8 100mm +/-6 blk":         "stem angle_deg=6 clamp_mm=31.8 colour=black length_mm=100 steerer_mm=28.6",
			"Vorbau 28,6 x 26,0 80 mm":              "stem clamp_mm=26 length_mm=80 steerer_mm=28.6",
			"Stem 31.8/28.6 100mm":                  "stem clamp_mm=31.8 length_mm=100 steerer_mm=28.6",
			"Stem a/head 25.4/31.8 90mm":            "stem clamp_mm=31.8 kind=clamp length_mm=90 steerer_mm=25.4",
			"Stem 25.4/31.8 90mm":                   "stem clamp_mm=31.8 length_mm=90",
			"Stem quill 22.2/25.4 80mm":             "stem clamp_mm=25.4 kind=quill length_mm=80 quill_mm=22.2",
			"Stem quill 28.6/25.4 100mm":            "stem clamp_mm=25.4 kind=quill length_mm=100 quill_mm=28.6", // the bore of a 1 1/4 in threaded steerer
			"Stem quill 25.4/26.0 80mm":             "stem clamp_mm=26 kind=quill length_mm=80 quill_mm=25.4",
			"Stem 28.6/26.0 80mm w/ 28.6-25.4 shim": "stem clamp_mm=26 length_mm=80 steerer_mm=28.6",
		},
		"or is gold in French, and joins two things in English": {
			"Crankset 50/34 11s 24mm axle for 68 BSA or 86.5 press fit 172.5": "crankset arm_mm=172.5 speeds=11 spindle_interface=24mm teeth_inner=34 teeth_outer=50",
			"Chainring bolts black or silver M8x0.75":                         "chainring-bolt thread=M8x0.75",
			"Pedals flat or SPD alloy":                                        "pedal cleat=none material=alloy",
			"Vis de plateau M8x0,75 alu or 5 pcs":                             "chainring-bolt colour=gold material=alloy pack=5 thread=M8x0.75",
			"Chaîne 11v 118 maillons or":                                      "chain colour=gold links=118 speeds=11",
			"Chaîne 11v or, 118 maillons":                                     "chain colour=gold links=118 speeds=11",
		},
		"a nipple by the wire that it is for": { // DIN 79012: a nipple for 2.0 mm, 14 gauge, is FG 2.3, for 1.8 mm, 15 gauge, FG 2
			"Nipples 15G (1.8) brass 12 mm 144 pcs":  "nipple length_mm=12 material=brass pack=144 thread=FG 2",
			"Nipple brass 2.0 x 12mm silver bag 100": "nipple colour=silver length_mm=12 material=brass pack=100 thread=FG 2.3",
			"14g brass nipples 12 mm silver":         "nipple colour=silver length_mm=12 material=brass thread=FG 2.3",
			"Nipples 2.0/1.8 x 12":                   "nipple length_mm=12",
			"Nipple 2.3 x 12 brass":                  "nipple length_mm=12 material=brass",
			"Speichennippel FG 2.3 12 mm":            "nipple length_mm=12 thread=FG 2.3",
		},
		"a pitch apart from its diameter": {
			"Thru axle 12x142 L163 M12 P1.5 flat head black": "thru-axle colour=black diameter_mm=12 head=flat length_mm=163 thread=M12x1.5",
			"Thru-axle 12x142 L172 P1.0":                     "thru-axle diameter_mm=12 length_mm=172 thread=M12x1",
			"Thru axle 12x142 M12x1.75 L 163":                "thru-axle diameter_mm=12 length_mm=163 thread=M12x1.75",
			"Thru axle 15x100 L125 M14 P1.5":                 "thru-axle diameter_mm=15 length_mm=125 thread=M14x1.5",
			"Thru axle 15x110 L148 M15 P1.5":                 "thru-axle diameter_mm=15 length_mm=148 thread=M15x1.5",
		},
		"a headset's height": {
			"Headset 1\" threaded stack 42mm":               "headset kind=threaded stack_mm=42 steerer_mm=25.4",
			"Headset EC34/28.6 EC34/30 stack height: 27 mm": "headset crown_mm=30 lower=EC34/30 stack_mm=27 steerer_mm=28.6 upper=EC34/28.6",
		},
		"a cable pull by its ratio": { // jitetan.com: 2.8 mm a click by 1.7; 1.1 and 1.4 are each two makers'
			"RD road 10s medium cage cap 33 max 28, ratio 1.7":    "rear-derailleur cage=medium capacity=33 pull_family=R1.7 speeds=10 teeth_max=28",
			"Shifter RH 9s for 1.7 ratio mechs 2.5mm/click black": "shifter colour=black pull_family=R1.7 side=right speeds=9",
			"Shifter RH 9s 1.1 ratio":                             "shifter side=right speeds=9",
		},
		"what is said of an adapter or a shim that comes with the part": {
			"Rotor 160 6-bolt with centre-lock adapter and ring, 1.8mm":      "disc-rotor rotor_mm=160 rotor_mount=6-bolt thickness_mm=1.8",
			"Rotor 180 6-bolt 1.8 + post mount adapter +20":                  "disc-rotor rotor_mm=180 rotor_mount=6-bolt thickness_mm=1.8",
			"FD double 10s bottom pull 34.9 clamp w/ 31.8 shim, 50T, cap 16": "front-derailleur cable_pull=bottom capacity=16 clamp_mm=34.9 speeds=10 teeth_outer=50",
			"Rotor 160 centre-lock with lockring":                            "disc-rotor rotor_mm=160 rotor_mount=centre-lock",
		},
		"a part by its code, and what it is bolted on by": {
			"RD 7/8s long cage max 34T cap. 43T hanger bolt M10x1, shift ratio 1.7 black": "rear-derailleur cage=long capacity=43 colour=black pull_family=R1.7 speeds=7/8 teeth_max=34",
			"Road RD 10s ratio 1.7 max 32": "rear-derailleur pull_family=R1.7 speeds=10 teeth_max=32",
			"RD 8s pivot bolt M4":          "bolt thread=M4x0.7",
			"RD hanger bolt M10x1":         "bolt thread=M10x1",
		},
		"a part by its figures alone": {
			"32T 102 BCD 4b mtb":                       "chainring bcd_mm=102 bolts=4 teeth=32",
			"38T 104 bcd narrow-wide single ring":      "chainring bcd_mm=104 position=single teeth=38",
			"104 BCD spider":                           "",
			"KWARTEL 34T 110PCD 5-BOLT INNER BLK":      "",
			"BSA 68x122.5 JIS":                         "bottom-bracket shell=bsa shell_mm=68 spindle_interface=jis-taper spindle_mm=122.5",
			"BSA 68-113 JIS cartridge, left cup resin": "bottom-bracket shell=bsa shell_mm=68 spindle_interface=jis-taper spindle_mm=113",
			"Adjustable cup BSC 1.370x24":              "",
			"Connector 9s 6.6mm gold pair":             "chain-joiner colour=gold pack=2 speeds=9",
			"Connector for lamp":                       "",
			"PF41 BB 86.5 for 24mm spindle":            "bottom-bracket shell=bb86 shell_mm=86.5 spindle_interface=24mm",
			"PF41 BB 92 24mm spindle":                  "bottom-bracket shell=bb92 shell_mm=92 spindle_interface=24mm",
			"Mid BB 41mm / 19 mm spindle red":          "bottom-bracket colour=red shell=mid spindle_interface=19mm",
		},
		"the wider of two lists of a chain's speeds": { // Wikibooks: up to 8 speeds share one chain
			"chain 8-speed 7.1mm 116 links, for 5-8 speed": "chain links=116 speeds=5/6/7/8",
			"Chain 9 speed 10 speed":                       "chain",
		},
		"rim brakes by their names": { // bike.bikegremlin.com 1402: caliper brakes and short-armed linear ones want short pull
			"Brake caliper dual pivot 47-57 recessed front silver": "brake-caliper colour=silver kind=rim mount=57mm pull=short",
			"Brake caliper dual pivot 2-57 silver":                 "brake-caliper colour=silver kind=rim pull=short",
			"Mini V-brake 85 mm set":                               "brake-caliper kind=rim pull=short",
			"Lever RH for V-brake black":                           "brake-lever colour=black pull=long side=right",
			"Side pull caliper M6x50-62":                           "brake-caliper kind=rim pull=short",
			"V shoes 72 mm threaded, pair":                         "rim-pad length_mm=72 pack=2 pad_fixing=threaded",
		},
		"words that lists use and the tables lacked": {
			"Rim 700C 622x17 36 hole ERD 605 black CSW":        "rim bead_mm=622 brake_track=yes colour=black erd_mm=605 holes=36 inner_width_mm=17",
			"35-622 folding tyre, for use with tube only":      "tyre bead_mm=622 tubeless=no width_mm=35",
			"Brake inner universal pear/barrel 1.5x1800 galv.": "cable-inner diameter_mm=1.5 length_mm=1800 nipple=both treatment=zinc-plated use=brake",
			"Grips rubber 22.2 x 130 slip-on black pr":         "grip bore_mm=22.2 colour=black length_mm=130 material=rubber pack=2",
			"Grips foam 30 x 130":                              "grip length_mm=130 material=foam",
			"Casette 8-sp 11-32T HG spline":                    "cassette freehub=hg speeds=8 teeth_max=32 teeth_min=11",
		},
		"where a shifter sits": {
			"Trigger shifter RH 8 speed":       "shifter kind=trigger side=right speeds=8",
			"Bar end shifters 9 speed pair":    "shifter kind=bar-end pack=2 side=pair speeds=9",
			"Brake/shift levers 10 speed pair": "shifter kind=drop-lever pack=2 side=pair speeds=10",
		},
		"a bore behind a stroke": {
			"Kugellager 60/22 2RS": "cartridge-bearing bore_mm=22 designation=60/22 outer_mm=44 seal=2rs width_mm=12",
			"Bearing 62/22-2RS C3": "cartridge-bearing bore_mm=22 clearance=c3 designation=62/22 outer_mm=50 seal=2rs width_mm=14",
			"Bearing 6902 15x28x7": "cartridge-bearing bore_mm=15 designation=6902 outer_mm=28 width_mm=7",
		},
		"the largest ring of a front derailleur": {
			"Umwerfer 3x8 Schelle 31,8 48Z Top Pull":     "front-derailleur cable_pull=top clamp_mm=31.8 mount=clamp speeds=8 teeth_outer=48",
			"Front derailleur 22T capacity 31.8":         "front-derailleur capacity=22 clamp_mm=31.8",
			"Front derailleur max 48T capacity 22T 31.8": "front-derailleur capacity=22 clamp_mm=31.8 teeth_outer=48",
			"Front mech 50-34T 34.9 clamp":               "front-derailleur clamp_mm=34.9",
		},
		"a wheel's size is not how many there are": {
			"Mudguard set 26 pair black": "mudguard colour=black pack=2",
			"Spatborden 28 paar":         "mudguard pack=2",
			"Guardabarros 29 par":        "mudguard pack=2",
			"Brake blocks 10 pairs":      "rim-pad pack=20",
		},
		"each is the price of one": {
			"Gear inner wire SS 1.2 x 2100 ea": "cable-inner diameter_mm=1.2 length_mm=2100 material=stainless use=gear",
			"Spoke SS 14g 264 ea":              "spoke gauge_mm=2 length_mm=264 material=stainless",
			"Seat post 27.2 x 350 ea":          "seatpost diameter_mm=27.2 length_mm=350",
		},
		"a bolt circle cut short": {
			"Corona 44d int. 104 4 fori": "chainring bcd_mm=104 bolts=4 teeth=44",
			"Corona 39d interna 130":     "chainring bcd_mm=130 position=inner teeth=39",
			"Corona 26d int. 4 fori":     "chainring bolts=4 position=inner teeth=26",
		},
		"cut words of six countries": {
			"Qk lnk 9spd":                    "chain-joiner speeds=9",
			"Jky whl 12T":                    "jockey-wheel teeth=12",
			"Bubu 32-622":                    "tyre bead_mm=622 width_mm=32",
			"Bibu 32/40-622 FV":              "tube bead_mm=622 valve=presta width_max_mm=40 width_min_mm=32",
			"Trethebelsatz 175 mm 48Z":       "crankset arm_mm=175 teeth_outer=48",
			"Schaltungszug Niro 1,2x2200":    "cable-inner diameter_mm=1.2 length_mm=2200 material=stainless use=gear",
			"Chaîne 11v 114 mll.":            "chain links=114 speeds=11",
			"Chambre à air 26x1.5/2.1 VF 48": "tube bead_mm=559 valve=presta valve_mm=48 width_max_mm=53 width_min_mm=38",
			"Cad. 8v 114 esl.":               "chain links=114 speeds=8",
			"Cub. 47-622 negra":              "tyre bead_mm=622 colour=black width_mm=47",
		},
		"words that were missing": {
			"Kettingblad 44T BCD 104 4 bouten zwart": "chainring bcd_mm=104 bolts=4 colour=black teeth=44",
			"KB 38 Z. LK 104 4-Arm Stahl mittel":     "chainring bcd_mm=104 bolts=4 material=steel position=middle teeth=38",
			`Balhoofdstel 1" draad 27,0 kroonring`:   "headset crown_mm=27 kind=threaded steerer_mm=25.4",
			"F/wheel single 18T 1.37x24 chr":         "freewheel speeds=1 teeth_max=18 teeth_min=18 thread=1.37x24 treatment=chromed",
		},
	} {
		t.Run(cause, func(t *testing.T) {
			for text, want := range lines {
				require.Equal(t, want, saying(describe.Read(text)), text)
			}
		})
	}
}

// saying is a reading as "FAMILY DIMENSION=VALUE …".
func saying(r describe.Reading) string {
	text := string(r.Family)
	for _, name := range r.Spec.Names() {
		text += " " + name + "=" + r.Spec[name].Value.String()
	}
	return text
}

// TestSpanish holds the words of the sixth language to lines of whoever wrote them down: the commoner families, tools and
// wheels. It is no judge of lists that nobody has seen.
func TestSpanish(t *testing.T) {
	t.Parallel()
	s := scoreFile(t, "../../../testdata/pricelist/spanish.jsonl", true, nil)
	require.GreaterOrEqual(t, s.lines, 50)
	require.Zero(t, s.wrong)
	require.Zero(t, s.missed)
	require.Zero(t, s.takenFor)
	require.Equal(t, s.lines, s.rightFamily)
}

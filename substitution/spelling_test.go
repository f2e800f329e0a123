package substitution

import (
	"maps"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// What people type for a dimension, and what it is. One spelling is checked against the vocabulary's own conventions
// (gauges, inch fractions, valves, bead seats) and the designations that the standards' readers know.
func TestDimensionsAreReadAsTheyAreTyped(t *testing.T) {
	for _, test := range []struct {
		family    Family
		dimension string
		typed     []string
		want      string
	}{
		{"hub", "axle", []string{"qr", "QR", "Q/R", "quick release", "Quick-Release", "qr 5mm", "QR axle"}, "qr"},
		{"hub", "axle", []string{"solid", "Solid", "nutted", "nuts", "bolt-on"}, "solid"},
		{"hub", "axle", []string{"12x142", "12 x 142", "12X142", "12×142 mm", "12x142mm", "12 x 142 thru axle", "thru-axle 12x142"}, "12x142"},
		{"frame", "axle", []string{"12 x 148", "12x148 boost"}, "12x148"},
		{"frame", "shell", []string{"bsa", "BSA", "BSC", "English"}, "bsa"},
		{"bottom-bracket", "shell", []string{"Italian", "ITA"}, "italian"},
		{"bottom-bracket", "shell", []string{"PF30", "pf 30", "PressFit 30"}, "pf30"},
		{"bottom-bracket", "shell", []string{"T47", "t-47"}, "t47"},
		{"bottom-bracket", "spindle_interface", []string{"24mm", "24 mm", "24"}, "24mm"},
		{"bottom-bracket", "spindle_interface", []string{"JIS", "jis taper", "square taper JIS"}, "jis-taper"},
		{"freewheel", "thread", []string{"1.37x24", "1.370x24", "1.370 x 24", `1.37" x 24 tpi`, "1.37 × 24"}, "1.37x24"},
		{"freewheel", "thread", []string{"M34.7x1", "34.7x1", "34.7 x 1 mm"}, "M34.7x1"},
		{"bolt", "thread", []string{"M5", "M5x0.8", "m5 x 0,8"}, "M5x0.8"},
		{"axle", "thread", []string{"3/8x26", "3/8 x 26", `3/8" x 26 tpi`, "BC 3/8"}, "3/8x26"},
		{"pedal", "thread", []string{"9/16x20", "9/16", `9/16" x 20 TPI`}, "9/16x20"},
		{"sprocket", "fixing", []string{"3-lug", "3 lug", "three lug", "3lug"}, "3-lug"},
		{"sprocket", "fixing", []string{"1.37 x 24", "1.370x24"}, "1.37x24"},
		{"disc-rotor", "rotor_mount", []string{"6-bolt", "6 bolt", "6bolt", "6-Bolt", "six bolt"}, "6-bolt"},
		{"disc-rotor", "rotor_mount", []string{"centre-lock", "Center Lock", "centerlock", "centrelock", "CL"}, "centre-lock"},
		{"tube", "valve", []string{"presta", "FV", "fv", "SV", "French"}, "presta"},
		{"tube", "valve", []string{"schrader", "AV", "car"}, "schrader"},
		{"tube", "valve", []string{"dunlop", "DV", "Woods"}, "dunlop"},
		{"headset", "upper", []string{"EC34/28.6", "ec34/28.6", "EC 34 / 28,6"}, "EC34/28.6"},
		{"chain", "chain_width", []string{"3/32", `3/32"`, "3/32 in", "2.38mm"}, "3/32"},
		{"chain", "speeds", []string{"6-8", "6/7/8", "6,7,8", "6 7 8", "6/7/8-speed", "6-8 spd", "6–8"}, "6/7/8"},
		{"chain", "speeds", []string{"9", "9-speed", "9spd", "9 speed"}, "9"},
		{"chain", "speeds", []string{"1", "single", "single speed"}, "1"},
		{"cassette", "teeth_min", []string{"11", "11T", "11-32", "11/32"}, "11"},
		{"cassette", "teeth_max", []string{"32", "32t", "11-32T", "11-32"}, "32"},
		{"chainring", "teeth", []string{"44", "44T", "44 teeth"}, "44"},
		{"chainring", "bcd_mm", []string{"110", "110mm", "110 mm", "110,0"}, "110"},
		{"chainring", "bolts", []string{"5", "5-bolt", "5 bolts", "5 arm"}, "5"},
		{"seatpost", "diameter_mm", []string{"27.2", "27,2", "27.2mm", "27.2 MM", "2.72cm", "27.20"}, "27.2"},
		{"cable-outer", "length_mm", []string{"1524", "5 ft", "5ft", "5 feet", "1.524 m"}, "1524"}, // a foot is 304.8 mm exactly
		{"stem", "steerer_mm", []string{"28.6", "1 1/8", `1-1/8"`, "1⅛", "1 1/8 in"}, "28.6"},
		{"stem", "clamp_mm", []string{"31.8", "31,8mm"}, "31.8"},
		{"stem", "angle_deg", []string{"-6", "-6°", "-6 deg", "−6°"}, "-6"},
		{"loose-balls", "ball_mm", []string{"3.96875", "5/32", `5/32"`, "5/32 in"}, "3.96875"},
		{"spoke", "gauge_mm", []string{"2", "2.0", "14g", "14", "2.0mm", "14 gauge", "DB 2.0/1.8"}, "2"},
		{"tyre", "bead_mm", []string{"622", "622mm", "28-622", "700C", "29in"}, "622"},
		{"tyre", "width_mm", []string{"28", "28mm", "28c", "28-622", "700x28C"}, "28"},
		{"rim", "bead_mm", []string{"559", "559 mm", "559x19C"}, "559"},
		{"rim", "inner_width_mm", []string{"19", "19c", "622x19C", "19 mm"}, "19"},
		{"hub", "holes", []string{"32", "32h", "32 holes", "32-hole"}, "32"},
		{"loose-balls", "grade", []string{"25", "G25", "grade 25"}, "25"},
		{"loose-balls", "pack", []string{"144", "gross"}, "144"},
		{"crankset", "arm_mm", []string{"172.5", "172,5", "172.5 mm", "17.25cm"}, "172.5"},
		{"rim", "hookless", []string{"yes", "true", "hookless", "Y"}, "yes"},
		{"rim", "hookless", []string{"no", "hooked", "false", "non-hookless"}, "no"},
		{"spoke", "butted", []string{"yes", "DB", "butted", "double butted"}, "yes"},
		{"chain", "material", []string{"steel", "Chrome Steel", "CrMo"}, "steel"},
		{"chain", "material", []string{"alloy", "Aluminium", "7075", "6061-T6"}, "alloy"},
		{"chain", "colour", []string{"grey", "gray", "Grey"}, "grey"},
		{"chain", "colour", []string{"black/red", "BLK/red", "black / red"}, "black/red"},
		{"cartridge-bearing", "seal", []string{"2rs", "2RS1", "LLU", "DDU", "2-RS"}, "2rs"},
		{"cartridge-bearing", "seal", []string{"zz", "2Z", "ZZ"}, "zz"},
		{"cartridge-bearing", "designation", []string{"6902-2RS", "6902-2rs"}, "6902-2RS"},
		{"disc-pad", "pad_shape", []string{"B05", "b05", "B 05", "b-05"}, "B05"},
		{"brake-caliper", "mount", []string{"57mm", "57", "57 mm reach"}, "57mm"},
		{"brake-caliper", "mount", []string{"flat", "Flat Mount", "FM"}, "flat"},
		{"rear-derailleur", "pull_family", []string{"R1.7", "r1.7", "R 1,7"}, "R1.7"},
		{"bottom-bracket", "shell", []string{"iso", "1.375x24", "1.375\" x 24 tpi"}, "iso"}, // ISO 6696
		{"bottom-bracket", "shell", []string{"bsa", "1.37x24", "1.370 x 24"}, "bsa"},
		{"chainring-bolt", "thread", []string{"M8x0.75", "M8"}, "M8x0.75"}, // a tool maker's list of bicycle threads: no other M8 holds rings
		{"spoke", "head", []string{"bend", "J-bend", "j bend", "bent"}, "bend"},
		{"spoke", "head", []string{"straight", "straight-pull", "Straight Pull"}, "straight"},
		{"chain", "roller", []string{"large", "flat-top", "flat top"}, "large"},
		{"rim", "brake_track", []string{"no", "disc", "disc only"}, "no"},
		{"pedal", "cleat", []string{"two-bolt", "2-bolt", "2 bolt"}, "two-bolt"},
		{"grease", "nlgi", []string{"2", "NLGI 2", "grade 2"}, "2"},
		{"grease", "volume_ml", []string{"1000", "1l", "1 litre", "100cl"}, "1000"},
		{"grease", "mass_g", []string{"1000", "1kg", "1000 g"}, "1000"},
	} {
		table, err := TableOf(test.family)
		require.NoError(t, err)
		d, ok := table.Dimension(test.dimension)
		require.True(t, ok, test.dimension)
		for _, typed := range test.typed {
			t.Run(test.dimension+"="+typed, func(t *testing.T) {
				v, err := d.Parse(typed)
				require.NoError(t, err)
				require.Equal(t, test.want, v.String())
				again, err := d.Check(Text(typed))
				require.NoError(t, err, "as a list or a question in JSON holds it")
				require.Equal(t, v, again)
			})
		}
	}
}

// What is meant otherwise, or by nobody, is refused in a sentence that names the field and what was expected.
func TestWhatCannotBeMeantIsRefused(t *testing.T) {
	for _, test := range []struct {
		name      string
		family    Family
		dimension string
		typed     string
		problem   string
	}{
		{"no word of the trade", "hub", "axle", "banana", "axle"},
		{"no thread", "freewheel", "thread", "banana", "1.37x24"},
		{"a thread without its pitch", "axle", "thread", "M10", "the pitch is missing"},
		{"another pedal thread", "pedal", "thread", "9/16x24", "9/16x20, 1/2x20, M14x1.25"},
		{"a word of another dimension", "tube", "valve", "6-bolt", "presta, schrader, dunlop"},
		{"a taper that could be two", "bottom-bracket", "spindle_interface", "square taper", "jis-taper, iso-taper"},
		{"a code without its second number", "headset", "lower", "EC34", "the second number is missing"},
		{"kilograms for a diameter", "seatpost", "diameter_mm", "27.2 kg", "the figure in mm"},
		{"millimetres for teeth", "chainring", "teeth", "44 mm", "a whole number"},
		{"inches that are far too many", "seatpost", "diameter_mm", "27.2 in", "lies between"},
		{"half a tooth", "chainring", "teeth", "44.5", "a whole number"},
		{"two rings for one", "chainring", "teeth", "50/34", "not a list or a range"},
		{"a range for one diameter", "seatpost", "diameter_mm", "27.0-27.4", "not a list or a range"},
		{"a list for one width", "tyre", "width_mm", "28, 32", "not a list or a range"},
		{"ten times too much", "seatpost", "diameter_mm", "272", "lies between"},
		{"below nothing", "chainring", "bcd_mm", "-110", "lies between"},
		{"no figure", "chainring", "bcd_mm", "large", "bcd_mm=105"},
		{"not a number", "chainring", "bcd_mm", "NaN", "a number"},
		{"endless", "chainring", "bcd_mm", "Inf", "a number"},
		{"a wheel by its inches", "tyre", "bead_mm", "26in", "could be"},
		{"a wheel that could be several", "tyre", "bead_mm", "24 x 1", "could be"},
		{"twenty speeds", "chain", "speeds", "20", "lies between"},
		{"a range turned round", "chain", "speeds", "8-6", "speeds=8,9"},
		{"perhaps", "tyre", "tubeless", "perhaps", "yes or no"},
		{"nothing", "hub", "axle", " ", "axle"},
	} {
		t.Run(test.name, func(t *testing.T) {
			table, err := TableOf(test.family)
			require.NoError(t, err)
			d, ok := table.Dimension(test.dimension)
			require.True(t, ok)
			_, err = d.Parse(test.typed)
			require.ErrorContains(t, err, test.problem)
			require.ErrorContains(t, err, test.dimension)
			require.NotContains(t, err.Error(), "\n")
		})
	}
}

// No text dimension of any family takes whatever is written, and each says what it takes.
func TestEveryTextHasItsWords(t *testing.T) {
	for _, table := range tables {
		for _, name := range table.DimensionNames() {
			d, _ := table.Dimension(name)
			if d.Form != Word {
				continue
			}
			require.True(t, len(d.Words) > 0 || d.reader() != nil, "%s of a %s takes any word", name, table.Family)
			_, err := d.Parse("banana")
			require.ErrorContains(t, err, name, table.Family)
			_, err = d.Parse("b4n4n4 split")
			if d.reader() == nil {
				require.Error(t, err, "%s of a %s", name, table.Family)
			}
			for _, w := range d.Words {
				v, err := d.Parse(w)
				require.NoError(t, err, "%s of a %s", name, table.Family)
				require.Equal(t, w, v.Word(), "a word of the list is itself")
			}
		}
	}
}

// Synonyms lead to words that a family has; one that leads nowhere is a slip.
func TestSynonymsLeadToWords(t *testing.T) {
	for key, words := range synonyms {
		meant := map[string]bool{}
		for _, table := range tables {
			for _, d := range append(table.Dimensions, shared...) {
				if d.Name != key && string(table.Family)+"."+d.Name != key {
					continue
				}
				for _, w := range d.Words {
					meant[w] = true
				}
				for _, w := range slices.Collect(maps.Values(words)) {
					read, err := Dimension{Name: d.Name, Form: Word, of: d.of}.Check(Text(w))
					meant[w] = meant[w] || d.reader() != nil && err == nil && read.Word() == w
				}
			}
		}
		for said, w := range words {
			require.True(t, meant[w], "%s: %q stands for %q, which no family has", key, said, w)
			require.Equal(t, said, spelling(said), "%s: it would never be found", key)
		}
	}
}

// However a value is spelled, reading what was read changes nothing more.
func TestReadingIsSettledAtOnce(t *testing.T) {
	read := 0
	rapid.Check(t, func(t *rapid.T) {
		table := rapid.SampledFrom(tables).Draw(t, "family")
		d, _ := table.Dimension(rapid.SampledFrom(table.DimensionNames()).Draw(t, "dimension"))
		text := rapid.OneOf(
			rapid.StringMatching(`[0-9]{1,3}([.,/x -][0-9]{1,3}){0,2} ?(mm|cm|in|t|h|g|°|ml|kg|")?`),
			rapid.StringMatching(`[A-Za-z]{2}[0-9]{2}/[0-9]{2}`),
			rapid.SampledFrom([]string{"QR", "M10x1", "9/16 x 20", "BSA", "6 bolt", "FV", "yes", "single", "28-622", "black/red"}),
		).Draw(t, "text")
		v, err := d.Parse(text)
		if err != nil {
			require.ErrorContains(t, err, d.Name)
			return
		}
		read++
		again, err := d.Parse(v.String())
		require.NoError(t, err, "%s read %q as %s", d.Name, text, v)
		require.Equal(t, v, again)
	})
	require.Positive(t, read)
}

func FuzzDimension(f *testing.F) {
	for _, text := range []string{"27.2mm", "1 1/8", "12 x 142", "6-8", "EC34/28.6", "1.370x24", "14g", "banana", "28-622"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, table := range tables {
			for _, d := range table.Dimensions {
				v, err := d.Parse(text)
				if err != nil {
					require.NotEmpty(t, err.Error())
					continue
				}
				again, err := d.Check(v)
				require.NoError(t, err)
				require.Equal(t, v, again, "%s of a %s", d.Name, table.Family)
			}
		}
	})
}

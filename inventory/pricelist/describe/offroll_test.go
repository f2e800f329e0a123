package describe_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist/describe"
	"stead/substitution"
)

// What comes off a roll is sold by the metre in each language's words, whatever it is; how lists say so: common practice, no
// source.
func TestOffARoll(t *testing.T) {
	t.Parallel()
	names := map[substitution.Family][]string{
		"cable-outer": {"GEAR OUTER 4MM", "Schaltaußenhülle 4 mm", "gaine dérailleur 4 mm", "guaina cambio 4 mm", "schakelbuitenkabel 4 mm"},
		"brake-hose":  {"hydraulic brake hose 5 mm", "Bremsleitung 5 mm", "durite frein hydraulique 5 mm", "tubo freno idraulico 5 mm", "hydraulische remleiding 5 mm"},
		"rim-tape":    {"RIM TAPE CLOTH 16MM", "Felgenband Gewebe 17 mm", "fond de jante 18 mm", "nastro cerchio 18 mm", "velglint 16 mm"},
	}
	sold := [][]string{
		{"per metre", "BY THE METER", "/m", "/ mtr", "per m"},
		{"Meterware", "pro Meter", "lfm", "je m", "/ Meter"},
		{"au mètre", "AU METRE", "le mètre", "au m", "au ml"},
		{"al metro", "a metraggio", "al m", "al mt", "metro lineare"},
		{"per meter", "per strekkende meter", "per m", "/meter"},
	}
	for family, names := range names {
		for language, name := range names {
			plain := describe.Read(name)
			require.Equal(t, family, plain.Family, name)
			require.Empty(t, plain.Per, name)
			for _, words := range sold[language] {
				r := describe.Read(name + " " + words)
				require.Equal(t, family, r.Family, r.Text)
				require.Equal(t, describe.PerMetre, r.Per, r.Text)
				require.Equal(t, plain.Unread, r.Unread, r.Text)
				require.Equal(t, family != "rim-tape", r.Spec["by_metre"].Value.Equal(substitution.Yes(true)), "%s: tape is no part by the metre", r.Text)
			}
			for _, words := range []string{"by the foot", "PER FT", "/ft"} {
				r := describe.Read(name + " " + words)
				require.Equal(t, describe.PerFoot, r.Per, r.Text)
				require.NotContains(t, r.Spec, "by_metre", r.Text)
			}
		}
	}
}

func TestRollsOfTape(t *testing.T) {
	t.Parallel()
	for text, metres := range map[string]float64{
		"TUBELESS RIM TAPE 25MM X 10M":       10,
		"Felgenband Gewebe 17 mm Rolle 50 m": 50,
		"Felgenband 21mm Rolle 9,14 m":       9.14,
		"fond de jante 18 mm, 25 mètres":     25,
		"nastro cerchio 18 mm 10 metri":      10,
		"velglint tubeless 25 mm 10 meter":   10,
		"RIM TAPE CLOTH 16MM 25FT":           7.62, // a foot is 0.3048 m, as agreed in 1959
		"RIM TAPE 16MM 622":                  0,
		"RIM TAPE 25MM 10M, 50M":             0, // one of the two
		"RIM TAPE CLOTH 16MM PER METRE":      0,
	} {
		r := describe.Read(text)
		require.Equal(t, substitution.Family("rim-tape"), r.Family, text)
		require.InDelta(t, metres, r.Roll, 1e-9, text)
	}
}

// A letter that is another thing's is no metre, and what comes off no roll is not sold by it.
func TestNoMetre(t *testing.T) {
	t.Parallel()
	for _, text := range []string{
		"HYDRAULIC BRAKE HOSE KIT 5 MM PER M6 FITTING", "Bremsleitung 5 mm, je M8 Anschluss", "tubo freno idraulico 5 mm al M8",
		"gaine dérailleur 4 mm au M5", "GEAR OUTER 4MM S/M/L", "CHAIN 9SPD PER METRE",
	} {
		r := describe.Read(text)
		require.Empty(t, r.Per, text)
		require.NotContains(t, r.Spec, "by_metre", text)
	}
}

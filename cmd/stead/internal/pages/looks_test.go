package pages

import (
	"html/template"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/desk"
	"stead/pricing"
	"stead/substitution"
	"stead/substitution/inspection"
)

// A page's file may not take away a template that every page has; what is its own it gives.
func TestAPageTakesNoTemplateFromAll(t *testing.T) {
	base, err := template.New("").Funcs(helpers).Parse(`{{define "said"}}{{end}}{{define "thumb"}}{{end}}`)
	require.NoError(t, err)
	require.NoError(t, own(base, "templates/quote.html"), "it gives its own lines and the thumb's act")
	base, err = base.Parse(`{{define "quote-said"}}{{end}}`)
	require.NoError(t, err)
	require.ErrorContains(t, own(base, "templates/quote.html"), "quote-said")
}

// A disc brake of which only the rotor was looked at is drawn by its rotor, not as the rim brake that it is not.
func TestARotorStandsForItsBrake(t *testing.T) {
	for _, end := range []substitution.Place{"front", "rear"} {
		job := desk.Job{Job: pricing.Job{Findings: []inspection.Finding{{Place: end + ".rotor"}}}}
		var places []substitution.Place
		for _, h := range draw(job, "", func(substitution.Place) string { return "" }).Halves {
			for _, p := range h.Places {
				places = append(places, p.Place)
			}
		}
		require.Contains(t, places, end+".rotor")
		require.NotContains(t, places, end+".rim-pads")
	}
}

// What is next with a bill stands at the thumb, and leads to what it asks.
func TestWhatIsNextWithABill(t *testing.T) {
	sent, unsent := mailForm{Row: "bill-7", What: "bill 7"}, mailForm{Row: "bill-8", What: "bill 8", Next: true}
	for want, p := range map[string]billPage{
		"#write": {Make: true, Take: true}, "#money": {Due: true, Take: true, Mails: []mailForm{unsent}}, "#mail-bill-8": {Take: true, Mails: []mailForm{sent, unsent}},
	} {
		require.Equal(t, want, p.Act().Path)
	}
	require.Nil(t, billPage{Take: true, Mails: []mailForm{sent}}.Act())
}

// What is counted goes by one at a tap, and what is read to a tenth by a tenth, from the first tap on.
func TestATapIsOneStep(t *testing.T) {
	steps := map[string]string{}
	for _, family := range []substitution.Family{"chain", "disc-rotor", "spoke"} {
		for _, r := range substitution.ReadingsOf(family) {
			if r.Form == substitution.Number || r.Form == substitution.Int {
				steps[string(family)+"."+r.Name] = inspectPage{}.Reading(&Form{}, r).Step
			}
		}
	}
	require.Equal(t, map[string]string{"chain.wear_percent": "0.1", "disc-rotor.marked_minimum_mm": "0.1", "disc-rotor.thickness_mm": "0.1",
		"disc-rotor.tightened_nm": "1", "spoke.broken": "1", "spoke.wanted": "1"}, steps)
}

// A bike with a flat bar is drawn with one, and all else is the same bike.
func TestBikeIsDrawnWithItsBar(t *testing.T) {
	l, err := newLooks()
	require.NoError(t, err)
	drawn := map[string]string{}
	for _, bar := range []string{"drop", "flat"} {
		var out strings.Builder
		require.NoError(t, l.pages["inspect"].ExecuteTemplate(&out, "bike", drawing{Lines: bar}))
		drawn[bar] = out.String()
	}
	require.Contains(t, drawn["flat"], `class="grip"`)
	require.NotContains(t, drawn["drop"], `class="grip"`)
	require.Equal(t, strings.Count(drawn["drop"], "<circle"), strings.Count(drawn["flat"], "<circle"))
}

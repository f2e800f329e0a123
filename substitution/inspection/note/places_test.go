package note_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution"
	"stead/substitution/inspection"
	"stead/substitution/inspection/note"
)

// asRead is how each reading is said of a part, its value beside it; "%" is the part. A torque, a count of what
// is wanted or broken, and hours of use are said in so many words only: by itself the figure is of something else.
var asRead = map[string][]struct{ says, value string }{
	"wear_percent":      {{"% at point eight", "0.8"}, {"% is 0.75", "0.75"}},
	"stiff":             {{"% is stiff", "yes"}, {"% isn't stiff", "no"}},
	"skips_under_load":  {{"% skips under load", "yes"}},
	"hooked_teeth":      {{"% is hooked", "yes"}, {"% not hooked", "no"}},
	"damaged":           {{"% is cracked", "yes"}, {"% isn't damaged", "no"}, {"no damage to the %", "no"}, {"snapped %", "yes"}},
	"cracked":           {{"% is cracked", "yes"}, {"no cracks in the %", "no"}},
	"feel":              {{"% rough", "rough"}, {"% feels notchy", "notchy"}, {"% is smooth", "smooth"}},
	"play":              {{"% has a bit of play", "slight"}, {"no play in the %", "none"}, {"marked play in the %", "marked"}},
	"shifting":          {{"% shifts well", "good"}, {"% shifts slowly", "slow"}, {"% misses shifts", "misses"}},
	"frayed":            {{"% is frayed", "yes"}, {"% isn't frayed", "no"}},
	"pitted":            {{"% pitted", "yes"}, {"% not pitted", "no"}},
	"balls":             {{"% nine", "9"}},
	"worn_to_mark":      {{"% worn to the line", "yes"}},
	"contaminated":      {{"% oily", "yes"}, {"% contaminated", "yes"}},
	"lining_mm":         {{"% at one point one", "1.1"}, {"% 0.8 mm", "0.8"}},
	"thickness_mm":      {{"% one point seven", "1.7"}},
	"marked_minimum_mm": {{"% stamped one point five", "1.5"}},
	"runs_out":          {{"% is bent", "yes"}, {"% runs true", "no"}},
	"alignment":         {{"% is bent", "bent"}},
	"leaking":           {{"% is leaking", "yes"}, {"% isn't leaking", "no"}},
	"lever_feel":        {{"% spongy", "spongy"}, {"% is firm", "firm"}, {"% comes to the bar", "to the bar"}},
	"fluid_colour":      {{"% fluid dark", "dark"}},
	"lit":               {{"% works", "bright"}, {"% is dim", "dim"}, {"% dead", "dark"}},
	"tension":           {{"% slack", "slack"}, {"% even tension", "even"}},
	"gears_hold":        {{"% hold all gears", "all hold"}},
	"wall_mm":           {{"% wall one point one", "1.1"}},
	"gap_mm":            {{"% five mil over the tyre", "5"}, {"% has a gap of 6 mm", "6"}},
	"run_out_mm":        {{"% two mil out", "2"}, {"% runs out by 1.5 mm", "1.5"}},
	"broken":            {{"%, how many broken: three", "3"}},
	"hours":             {{"% eighty hours since its last service", "80"}, {"% has done 120 hours of riding", "120"}},
	"months":            {{"% eighteen months since its last service", "18"}, {"% two years since it was last serviced", "24"}},
	"fluid_months":      {{"% eighteen months since the fluid was changed", "18"}},
	"travel":            {{"% bottoms out", "bottoms out"}, {"% gives full travel", "full"}, {"% is short of travel", "short"}},
	"metres":            {{"% one point eight metres in all", "1.8"}},
	"tightened_nm":      {{"% put on with five newton metres", "5"}},
	"inside":            {{"% runs on loose balls", "loose-balls"}, {"% runs on cartridges", "cartridges"}},
	"wanted":            {{"%: three wanted", "3"}},
}

// named is what a place is called, as it is said: "left front hub bearing".
func named(site substitution.Site) string {
	if site.Place == "bench.bolt" {
		return "odd bolt" // a bolt alone may be any
	}
	name, side, _ := strings.Cut(site.Words, ", ")
	side = strings.TrimSuffix(side, " race")
	return strings.TrimSpace(side + " " + name)
}

// Every place is read by its own name, for every action and every reading that it has.
func TestEveryPlaceIsRead(t *testing.T) {
	for _, site := range substitution.Sites() {
		record := substitution.Build{site.Place: nil}
		check := func(says, want string) {
			text := strings.ReplaceAll(says, "%", named(site))
			got := claimsOf(note.Read(text, record))
			if len(got) != 1 || got[0] != string(site.Place)+" "+want {
				t.Errorf("%-55s want %s, got %q", text, want, got)
			}
		}
		for _, a := range []struct{ says, want string }{{"replace the %", "replace"}, {"new %", "replace"}, {"% shot", "replace"}, {"% needs replacing", "replace"}, {"% fine", "keep"}, {"% needs cleaning", "clean"}, {"adjust the %", "adjust"}} {
			check(a.says, a.want)
		}
		for _, r := range inspection.ReadingsOf(site.Family) {
			ways, known := asRead[r.Name]
			require.True(t, known, "%s: say how %s is said", site.Family, r.Name)
			for _, w := range ways {
				check(w.says, r.Name+"="+w.value)
			}
		}
	}
}

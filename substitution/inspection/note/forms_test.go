package note_test

import (
	"slices"
	"strings"
	"testing"

	"stead/substitution"
	"stead/substitution/inspection"
	"stead/substitution/inspection/note"
)

// wordsOf are a reading's words: said of a part, had by it, and denied. A part without one of them cannot be said to
// have it.
var wordsOf = map[string][]struct{ is, has, value, denied string }{
	"stiff":            {{"stiff", "", "yes", "no"}, {"dragging", "", "yes", "no"}},
	"skips_under_load": {{"skipping under load", "", "yes", ""}},
	"hooked_teeth":     {{"hooked", "hooked teeth", "yes", "no"}, {"sharkfinned", "pointed teeth", "yes", "no"}},
	"damaged":          {{"damaged", "damage", "yes", "no"}, {"split", "a split", "yes", "no"}, {"torn", "a tear", "yes", "no"}, {"snapped", "", "yes", "no"}, {"cracked", "a crack", "yes", "no"}, {"kinked", "a kink", "yes", "no"}},
	"cracked":          {{"cracked", "a crack", "yes", "no"}},
	"feel":             {{"rough", "", "rough", ""}, {"gritty", "", "rough", ""}, {"notchy", "", "notchy", ""}, {"smooth", "", "smooth", ""}},
	"play":             {{"", "slight play", "slight", ""}, {"", "a bit of play", "slight", ""}, {"", "loads of play", "marked", ""}},
	"shifting":         {{"shifting well", "", "good", ""}, {"slow to shift", "", "slow", ""}},
	"frayed":           {{"frayed", "frayed strands", "yes", "no"}},
	"pitted":           {{"pitted", "pitting", "yes", "no"}},
	"worn_to_mark":     {{"worn to the line", "", "yes", "no"}, {"down to the wear line", "", "yes", "no"}},
	"contaminated":     {{"contaminated", "oil on it", "yes", "no"}, {"oily", "", "yes", "no"}},
	"runs_out":         {{"bent", "a bend in it", "yes", "no"}, {"warped", "a wobble", "yes", "no"}},
	"alignment":        {{"bent", "", "bent", ""}, {"slightly out", "", "slightly out", ""}},
	"leaking":          {{"leaking", "a leak", "yes", "no"}, {"weeping", "", "yes", "no"}},
	"lever_feel":       {{"spongy", "", "spongy", ""}, {"firm", "", "firm", ""}},
	"lit":              {{"dim", "", "dim", ""}, {"working", "", "bright", ""}},
	"tension":          {{"slack", "", "slack", ""}, {"", "even tension", "even", ""}, {"", "uneven tension", "uneven", ""}},
	"gears_hold":       {{"slipping in third", "", "one slips", ""}},
	"travel":           {{"bottoming out", "", "bottoms out", ""}, {"short of travel", "", "short", ""}},
}

// forms are the sentences in which something is said of a part: "%" is the part, "#" what is said.
var (
	formsIs  = []string{"% #", "% is #", "the %'s #", "%: #", "% - #", "the % is looking #", "the % has gone #", "the % that's on is #", "the %, it's #", "found the % #", "I can see the % is #", "looks #, the %", "#, the %", "as for the %, #", "and the % is a bit of a mess, #", "% very #", "% proper #", "the % was found #"}
	formsHas = []string{"% has #", "the %'s got #", "there's # in the %", "# in the %", "# on the %", "the % has got #", "%: #", "% with #", "found # in the %", "there is # on the %", "the % shows #", "I found # in the %", "the %, there's # in it", "got # in the %"}
	formsNot = []string{"% isn't #", "the % is not #", "% not #", "the %'s not #", "the % ain't #"}
	formsNo  = []string{"no # in the %", "% hasn't got #", "the % has no #", "there's no # in the %", "couldn't find any # in the %", "%: no #", "% has no #", "no sign of # on the %"}
)

func TestEveryFormIsRead(t *testing.T) {
	for _, site := range substitution.Sites() {
		record := substitution.Build{site.Place: nil}
		check := func(form, words, want string) {
			text := strings.ReplaceAll(strings.ReplaceAll(form, "%", named(site)), "#", words)
			got := claimsOf(note.Read(text, record))
			if len(got) != 1 || got[0] != string(site.Place)+" "+want {
				t.Errorf("%-60s want %s, got %q", text, want, got)
			}
		}
		for _, r := range inspection.ReadingsOf(site.Family) {
			for k, w := range wordsOf[r.Name] {
				check := func(form, words, want string) {
					if k == 0 || len(form)%3 == k%3 { // further words in some of the forms
						check(form, words, want)
					}
				}
				saidIn(formsIs, w.is, r.Name+"="+w.value, check)
				saidIn(formsHas, w.has, r.Name+"="+w.value, check)
				if w.denied != "" {
					saidIn(formsNot, w.is, r.Name+"="+w.denied, check)
					saidIn(formsNo, strings.TrimPrefix(w.has, "a "), r.Name+"="+w.denied, check)
				}
			}
		}
	}
}

// measuredForms are those of a figure, "#".
var measuredForms = []string{"% #", "%: #", "%'s at #", "the % is at #", "% measures #", "% measured #", "% measured at #", "the % is down to #", "% at #", "# on the %", "got # on the %", "I make the % #", "the % came out at #", "the % reads #", "% - #", "the %, #", "% is #", "% now #", "I get # on the %", "% down at #", "% only #", "that % is #", "% showing #", "% = #"}

// figuresOf are figures of the readings that are measured, as they are said.
var figuresOf = map[string][]struct{ said, value string }{
	"wear_percent": {{"0.8", "0.8"}, {"point eight", "0.8"}, {"nought point seven five", "0.75"}, {"0.5%", "0.5"}, {"three quarters of a percent", "0.75"}},
	"lining_mm":    {{"1.2", "1.2"}, {"one point two", "1.2"}, {"0.8 mm", "0.8"}, {"two mil", "2"}, {"half a mil", "0.5"}, {"a mil", "1"}, {"a mil and a half", "1.5"}},
	"thickness_mm": {{"1.6", "1.6"}, {"one point six five", "1.65"}, {"1.75 mm", "1.75"}},
	"run_out_mm":   {{"2 mm out", "2"}, {"a mil out", "1"}, {"half a mil out", "0.5"}},
	"gap_mm":       {{"4 mm over the tyre", "4"}, {"five mil over the tyre", "5"}},
	"hours":        {{"120 hours", "120"}, {"ninety hours", "90"}},
}

func TestEveryFigureIsReadInEveryForm(t *testing.T) {
	for _, site := range substitution.Sites() {
		record := substitution.Build{site.Place: nil}
		for _, r := range inspection.ReadingsOf(site.Family) {
			for _, f := range figuresOf[r.Name] {
				for _, form := range measuredForms {
					text := strings.ReplaceAll(strings.ReplaceAll(form, "%", named(site)), "#", f.said)
					got := claimsOf(note.Read(text, record))
					if len(got) != 1 || got[0] != string(site.Place)+" "+r.Name+"="+f.value {
						t.Errorf("%-60s want %s, got %q", text, r.Name+"="+f.value, got)
					}
				}
			}
		}
	}
}

// formsOfEnds say something of what is at both ends, "%": "#" of the front, "~" of the rear.
var (
	formsOfBoth = []string{"both %s #", "the %s are both #", "%s # front and rear", "front and rear %s #", "%s both #", "%s: both #", "front and rear %s are #", "%s front and rear are #", "% # front and rear", "# %s front and rear", "front % #, rear the same", "front % #, same at the back", "front % #, ditto rear", "front % # and so is the rear", "each % is #", "%s # at both ends", "both the %s are #", "%s: front #, rear #"}
	formsOfEach = []string{"front % #, rear % ~", "front % #, rear ~", "front % is # and the rear one is ~", "front %'s #, rear's ~", "%s: front #, rear ~", "front % # but rear ~", "the % at the front is #, the one at the back ~", "% front #, % rear ~", "% front #, rear ~", "front %: #\nrear %: ~", "front: % #. rear: % ~", "% up front #, % at the back ~", "F % #, R % ~", "front % #. Rear one ~.", "front % # and rear ~", "front % # while the rear is ~", "front % # whereas the rear is ~", "front: % #; rear: % ~"}
)

func TestEveryEndIsReadInEveryForm(t *testing.T) {
	for _, of := range []struct{ part, place, x, isX, y, isY string }{
		{"tyre", "tyre", "cut", "damaged=yes", "fine", "keep"}, {"hub", "hub", "rough", "feel=rough", "smooth", "feel=smooth"}, {"rim", "rim", "cracked", "damaged=yes", "worn to the line", "worn_to_mark=yes"},
		{"brake cable", "brake-cable", "frayed", "frayed=yes", "stiff", "stiff=yes"}, {"gear cable", "gear-cable", "stiff", "stiff=yes", "fine", "keep"}, {"rotor", "rotor", "bent", "runs_out=yes", "fine", "keep"},
		{"rotor", "rotor", "1.7", "thickness_mm=1.7", "1.55", "thickness_mm=1.55"}, {"pad", "pads", "1.4", "lining_mm=1.4", "0.7", "lining_mm=0.7"}, {"pad", "pads", "contaminated", "contaminated=yes", "shot", "replace"},
		{"mudguard", "mudguard", "split", "damaged=yes", "fine", "keep"}, {"brake", "caliper", "leaking", "leaking=yes", "fine", "keep"}, {"brake lever", "lever", "spongy", "lever_feel=spongy", "firm", "lever_feel=firm"},
		{"tube", "tube", "punctured", "damaged=yes", "fine", "keep"}, {"lamp", "lamp", "dim", "lit=dim", "bright", "lit=bright"}, {"hose", "hose", "kinked", "damaged=yes", "leaking", "leaking=yes"}, {"brake housing", "brake-housing", "split", "damaged=yes", "OK", "keep"},
	} {
		record := substitution.Build{}
		for _, end := range []string{"front.", "rear."} {
			record[substitution.Place(end+of.place)] = nil
		}
		check := func(form, isX, isY string) {
			text := strings.NewReplacer("%", of.part, "#", of.x, "~", of.y, "\\n", "\n").Replace(form)
			got := claimsOf(note.Read(text, record))
			if len(got) != 2 || !slices.Contains(got, "front."+of.place+" "+isX) || !slices.Contains(got, "rear."+of.place+" "+isY) {
				t.Errorf("%-60s want %s and %s, got %q", text, isX, isY, got)
			}
		}
		for _, form := range formsOfBoth {
			check(form, of.isX, of.isX)
		}
		for _, form := range formsOfEach {
			check(form, of.isX, of.isY)
		}
	}
}

func saidIn(forms []string, words, want string, check func(form, words, want string)) {
	for _, form := range forms {
		if words != "" {
			check(form, words, want)
		}
	}
}

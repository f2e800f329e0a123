package substitution

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// mistyped are texts that a dimension cannot mean, by what is wrong with them.
func mistyped(d Dimension) map[string]string {
	high := fmt.Sprint(d.High)
	switch d.Form {
	case Number, Int:
		bad := map[string]string{
			"absurd": fmt.Sprintf("%.0f", d.High*10+1), "no figure": "about so", "unit mistaken": high + " parsecs", "two figures": "12 34 56",
			"a list": "1,2,3,4,5", "empty": "  ",
		}
		if d.Low >= 0 {
			bad["negative"] = "-" + high
		}
		if d.Low > 0 && d.Low*2 < d.High {
			bad["zero"] = "0"
		}
		if d.Form == Int && !slices.Contains(sizesNamed, d.Name) {
			bad["half of one"], bad["half of one, with a comma"] = fmt.Sprint(math.Floor((d.Low+d.High)/2)+0.5), strings.Replace(fmt.Sprint(math.Floor((d.Low+d.High)/2)+0.5), ".", ",", 1)
		}
		return bad
	case Ints:
		return map[string]string{"negative": "-8", "absurd": "8000", "no figure": "many", "half of one": "8.5", "empty": " "}
	case Flag:
		return map[string]string{"a guess": "perhaps", "a figure": "12.5", "empty": " "}
	}
	if len(d.Words) > 0 {
		bad := map[string]string{"no word of the list": "quokka", "a figure": "-1.25", "empty": " "}
		if i := slices.IndexFunc(d.Words, func(w string) bool { return w[0] >= '0' && w[0] <= '9' }); i >= 0 {
			bad["below nothing"] = "-" + d.Words[i]
		}
		return bad
	}
	return map[string]string{"empty": " "}
}

// sizesNamed are counts that stand for sizes with names, of which some have halves: 27.5 is a wheel.
var sizesNamed = []string{"bead_mm", "width_mm", "width_min_mm", "width_max_mm"}

// expected is how a sentence says what would be right: bounds, words to choose from, a form or a unit.
var expected = regexp.MustCompile(`lies between|is one of|is none of|is yes or no|is a number|is a whole number|is a list|is a short text|says nothing|leave it out|such as`)

// What no part of any family can have is refused in one sentence that names the dimension and what was expected:
// negative and absurd figures, zero where nothing measures nothing, a unit of something else, text in the place of a
// figure, a word that is none of the list. The readings of every family are held to the same.
func TestNoFamilyTakesWhatCannotBeMeant(t *testing.T) {
	asked := 0
	refuses := func(family Family, d Dimension) {
		for wrong, text := range mistyped(d) {
			got, err := d.Parse(text)
			require.Error(t, err, "%s takes %s=%q (%s) as %v", family, d.Name, text, wrong, got)
			says := err.Error()
			require.True(t, strings.Contains(says, d.Name) || strings.Contains(says, d.Plain()), "%s %s=%q: %s", family, d.Name, text, says)
			require.Regexp(t, expected, says, "%s %s=%q (%s)", family, d.Name, text, wrong)
			require.NotContains(t, says, "\n")
			asked++
		}
		if d.Form == Number || d.Form == Int {
			for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
				_, err := d.Check(Num(x))
				require.ErrorContains(t, err, d.Name, "%s", family)
			}
		}
	}
	for _, table := range tables {
		for _, list := range [][]Dimension{table.Dimensions, shared} {
			for _, d := range list {
				refuses(table.Family, d)
			}
		}
		for _, r := range table.Readings {
			refuses(table.Family, r.Dimension)
		}
	}
	t.Logf("%d texts that cannot be meant", asked)
}

// A decimal comma is a decimal point, whatever is measured.
func TestEveryMeasureTakesADecimalComma(t *testing.T) {
	for _, table := range tables {
		for _, d := range table.Dimensions {
			if d.Form != Number || d.High-d.Low < 2 {
				continue
			}
			x := math.Floor((d.Low+d.High)/2) + 0.5
			point, err := d.Parse(fmt.Sprint(x))
			if err != nil {
				continue // sizes of which no half is made
			}
			comma, err := d.Parse(strings.Replace(fmt.Sprint(x), ".", ",", 1))
			require.NoError(t, err, "%s %s", table.Family, d.Name)
			require.Equal(t, point, comma, "%s %s", table.Family, d.Name)
		}
	}
}

// No family takes a dimension that is another's: the sentence names it, and those that the family has.
func TestNoFamilyTakesAnothersDimension(t *testing.T) {
	for i, table := range tables {
		for next := range 7 { // its neighbours in the list, which are the most alike, and with them all that there are
			for _, d := range tables[(i+1+next)%len(tables)].Dimensions {
				if _, own := table.Dimension(d.Name); own {
					continue
				}
				_, err := Part{Family: table.Family, Spec: Spec{d.Name: {Value: valuesOf(d)[0], Origin: Measured}}}.Check()
				require.ErrorContains(t, err, d.Name, "%s", table.Family)
				require.ErrorContains(t, err, "it has", "%s", table.Family)
			}
		}
	}
}

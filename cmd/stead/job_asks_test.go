package main

import (
	"bytes"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/require"

	"stead/pricing"
)

// Three candidates for one place are asked the same of themselves and of the bike: each question stands once, beside those
// parts that it is asked of.
func TestEachQuestionIsAskedOnce(t *testing.T) {
	bead := func(part int64) pricing.Ask {
		return pricing.Ask{Place: "rear.tyre", PartID: part, Dimension: "bsd_mm"}
	}
	rim := pricing.Ask{Place: "rear.rim", Dimension: "inner_mm"}
	tyre := func(part int64, name string, asks ...pricing.Ask) pricing.UnsurePart {
		measure := map[string]string{"bsd_mm": "read the bead seat", "inner_mm": "measure the rim"}
		u := pricing.UnsurePart{Place: "rear.tyre", PartID: part, Name: name, Asks: asks}
		for _, a := range asks {
			u.Measure = append(u.Measure, measure[a.Dimension])
		}
		return u
	}
	for _, c := range []struct {
		name   string
		unsure []pricing.UnsurePart
		want   []string
	}{
		{"one part", []pricing.UnsurePart{tyre(4, "Gravel tyre", bead(4), rim)},
			[]string{"Gravel tyre as rear tyre: read the bead seat; measure the rim", "  `stead job answer 101 4 bsd_mm=…`", "  `stead job answer 101 rear.rim inner_mm=…`"}},
		{"two alike", []pricing.UnsurePart{tyre(4, "Gravel tyre", bead(4), rim), tyre(7, "Road tyre", bead(7), rim)},
			[]string{"4 Gravel tyre, 7 Road tyre as rear tyre: read the bead seat; measure the rim", "  `stead job answer 101 PART bsd_mm=…`", "  `stead job answer 101 rear.rim inner_mm=…`"}},
		{"one asked more", []pricing.UnsurePart{tyre(4, "Gravel tyre", rim), tyre(7, "Road tyre", bead(7), rim)},
			[]string{"4 Gravel tyre, 7 Road tyre as rear tyre: measure the rim", "  `stead job answer 101 rear.rim inner_mm=…`", "Road tyre as rear tyre: read the bead seat", "  `stead job answer 101 7 bsd_mm=…`"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var out bytes.Buffer
			cmd := &cobra.Command{}
			cmd.SetOut(&out)
			for _, b := range questionsOf(c.unsure) {
				printInquiry(cmd, 101, b)
			}
			require.Equal(t, strings.Join(c.want, "\n"), strings.TrimSpace(strings.ReplaceAll(out.String(), "\n    ", " ")))
		})
	}
}

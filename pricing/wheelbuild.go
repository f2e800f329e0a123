package pricing

import (
	"slices"

	"github.com/shopspring/decimal"

	"stead/substitution"
	"stead/substitution/inspection"
)

// builtWithin makes work on a wheel free that other work on it comes with: who builds a wheel with a new rim laces and
// trues it, and who changes spokes on both sides, or nipples too, trues it once. The lines stay, so that each finding
// has its own. Common practice, no source.
func builtWithin(lines []LabourLine, findings []inspection.Finding) []LabourLine {
	replaced := map[substitution.Place]bool{}
	for _, f := range findings {
		replaced[f.Place] = f.Action == inspection.Replace
	}
	out := slices.Clone(lines)
	for _, end := range []substitution.Place{"front", "rear"} {
		covered := ""
		if replaced[end+".rim"] {
			covered = "in building the wheel"
		}
		for _, part := range []substitution.Place{".spokes-left", ".spokes-right", ".nipples"} {
			i := slices.IndexFunc(out, func(l LabourLine) bool { return l.Place == end+part && l.Work == 0 })
			switch {
			case i < 0 || !replaced[end+part]:
			case covered == "":
				covered = "in truing once"
			default:
				out[i].Words += " (" + covered + ")"
				out[i].Minutes, out[i].net, out[i].Amount = 0, decimal.Zero, decimal.Zero
			}
		}
	}
	return out
}

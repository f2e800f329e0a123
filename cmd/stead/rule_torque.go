package main

import (
	"strings"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/terminal"
	"stead/substitution"
)

// torqueRow is a joint with its published figures; without any it is put on by its maker's.
type torqueRow struct {
	Family string   `json:"family"`
	Places []string `json:"places"`
	Joint  string   `json:"joint"`
	Low    float64  `json:"low_nm,omitempty"`
	High   float64  `json:"high_nm,omitempty"`
	Differ string   `json:"lists_differ,omitempty"`
	Sure   string   `json:"sure"`
	Source string   `json:"source"`
}

func newRuleTorque() *cobra.Command {
	return &cobra.Command{
		Use: "torque", Short: "List how tight joints are put on, by published lists", Args: exactly(), Example: "  stead rule torque",
		Long: `Lists the joints of which a published figure can be cited, in newton metres,
and those that hold the rider and have none: they are put on by their makers'.
What is marked on the part counts before any list, then its maker's manual;
where lists differ by more than twice none of them is to be gone by. Two people
check what holds the rider.`,
		RunE: func(cmd *cobra.Command, _ []string) error {
			var out []torqueRow
			var rows [][]string
			for _, t := range substitution.Torques() {
				row := torqueRow{Family: string(t.Family), Joint: t.Joint, Low: t.Low, High: t.High, Differ: t.Differ, Sure: t.Source.Confidence.String(), Source: t.Source.Text}
				for _, place := range t.Places() {
					row.Places = append(row.Places, string(place))
				}
				out = append(out, row)
				rows = append(rows, []string{strings.Join(row.Places, " "), t.Joint, t.Range(), t.Grade(), t.Source.Text})
			}
			return show(cmd, out, func() {
				say(cmd, "what is marked on the part counts first, then its maker's manual, then a list")
				terminal.Table(cmd.OutOrStdout(), []string{"AT", "JOINT", "N·m", "GRADE", "SOURCE"}, rows)
			})
		},
	}
}

package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/terminal"
	"stead/substitution"
)

// torqueRow is a joint with its published figures.
type torqueRow struct {
	Family string  `json:"family"`
	Joint  string  `json:"joint"`
	Low    float64 `json:"low_nm"`
	High   float64 `json:"high_nm"`
	Source string  `json:"source"`
}

func newRuleTorque() *cobra.Command {
	return &cobra.Command{
		Use: "torque", Short: "List how tight joints are put on, by published lists", Args: exactly(), Example: "  stead rule torque",
		Long: `Lists the joints of which a published figure can be cited, in newton metres.
What is marked on the part counts before it, then its maker's manual; lists
differ by as much as twice. Two people check what holds the rider.`,
		RunE: func(cmd *cobra.Command, _ []string) error {
			var out []torqueRow
			var rows [][]string
			for _, t := range substitution.Torques() {
				out = append(out, torqueRow{string(t.Family), t.Joint, t.Low, t.High, t.Source.Text})
				rows = append(rows, []string{string(t.Family), t.Joint, fmt.Sprintf("%g", t.Low), fmt.Sprintf("%g", t.High), t.Source.Text})
			}
			return show(cmd, out, func() {
				terminal.Table(cmd.OutOrStdout(), []string{"FAMILY", "JOINT", ">FROM", ">TO N·m", "SOURCE"}, rows)
			})
		},
	}
}

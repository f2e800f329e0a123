package main

import (
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/terminal"
	"stead/substitution"
)

func newPlace() *cobra.Command {
	list := &cobra.Command{
		Use: "list", Short: "List the places of a bike and the family that sits at each", Args: exactly(),
		Example: "  stead place list",
		RunE: func(cmd *cobra.Command, _ []string) error {
			type place struct {
				Place  substitution.Place  `json:"place"`
				Family substitution.Family `json:"family"`
				Words  string              `json:"words"`
				Safety bool                `json:"safety"`
			}
			var out []place
			var rows [][]string
			for _, s := range substitution.Sites() {
				out = append(out, place(s))
				rows = append(rows, []string{string(s.Place), string(s.Family), s.Words})
			}
			return show(cmd, out, func() {
				terminal.Table(cmd.OutOrStdout(), []string{"PLACE", "FAMILY", "WHAT IT IS"}, rows)
			})
		},
	}
	return group("place", "The places of a bike", list)
}

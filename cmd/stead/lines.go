package main

import (
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
)

// linesFlags are the flags by which the lines of a long list are asked for.
type linesFlags struct{ asked desk.LinesAsked }

func (f *linesFlags) add(cmd *cobra.Command) {
	cmd.Flags().IntVar(&f.asked.From, "from", 1, "the line to begin with")
	cmd.Flags().IntVar(&f.asked.Most, "most", desk.ScreenLines, "how many lines to show")
}

func (f *linesFlags) lines(cmd *cobra.Command) (desk.LinesAsked, error) {
	if err := f.asked.Check(); err != nil {
		return f.asked, usage(cmd, err)
	}
	return f.asked, nil
}

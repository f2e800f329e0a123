package main

import (
	"strings"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/measuring"
)

func newMeasure() *cobra.Command {
	var subjects []*cobra.Command
	for _, s := range measuring.Subjects() {
		subjects = append(subjects, newMeasuring(s))
	}
	cmd := group("measure", "What is in my hand? Name a part by what a tool reads on it", subjects...)
	cmd.Long = `Names the standard sizes that the readings allow, those that get confused with
them, and which further measurement tells them apart. Lengths are millimetres
unless they say otherwise: 14.98, "5/32" (a fraction is inches), "1.5 in".`
	return cmd
}

// newMeasuring makes the command for one kind of part, with its readings as flags.
func newMeasuring(s *measuring.Subject) *cobra.Command {
	cmd := &cobra.Command{Use: s.Name, Short: s.Short, Args: exactly(), Example: s.Example}
	cmd.Flags().AddFlagSet(s.Flags)
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		result, err := s.Identify()
		if err != nil {
			return usage(cmd, err)
		}
		return show(cmd, result, func() { say(cmd, "%s", strings.TrimSuffix(result.Words(), "\n")) })
	}
	return cmd
}

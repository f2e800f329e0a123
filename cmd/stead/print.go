package main

import (
	"encoding/json"
	"fmt"

	"github.com/spf13/cobra"
)

// show prints an answer: as JSON where --json was given, else as words writes it.
func show(cmd *cobra.Command, answer any, words func()) error {
	if asJSON, _ := cmd.Flags().GetBool("json"); asJSON {
		enc := json.NewEncoder(cmd.OutOrStdout())
		enc.SetEscapeHTML(false)
		enc.SetIndent("", "  ")
		return enc.Encode(answer)
	}
	words()
	return nil
}

func say(cmd *cobra.Command, format string, args ...any) {
	fmt.Fprintf(cmd.OutOrStdout(), format+"\n", args...)
}

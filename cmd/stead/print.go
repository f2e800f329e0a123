package main

import (
	"encoding/json"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/terminal"
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

// say prints running text. Lines too long for the terminal are folded under their own indent.
func say(cmd *cobra.Command, format string, args ...any) {
	for line := range strings.SplitSeq(fmt.Sprintf(format, args...), "\n") {
		words := strings.TrimLeft(line, " ")
		fmt.Fprintln(cmd.OutOrStdout(), terminal.Wrap(line[:len(line)-len(words)], words))
	}
}

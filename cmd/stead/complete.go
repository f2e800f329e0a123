package main

import (
	"github.com/spf13/cobra"

	"stead/substitution"
)

// complete offers the words of the vocabulary to the shell, one function for each argument in turn; nil offers nothing.
func complete(words ...func() []string) cobra.CompletionFunc {
	return func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
		if len(args) < len(words) && words[len(args)] != nil {
			return words[len(args)](), cobra.ShellCompDirectiveNoFileComp
		}
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
}

func placeNames() []string {
	var out []string
	for _, s := range substitution.Sites() {
		out = append(out, string(s.Place))
	}
	return out
}

func familyNames() []string {
	var out []string
	for _, f := range substitution.Families() {
		out = append(out, string(f))
	}
	return out
}

func ruleIDs() []string {
	var out []string
	for _, r := range substitution.Rules() {
		out = append(out, r.ID)
	}
	return out
}

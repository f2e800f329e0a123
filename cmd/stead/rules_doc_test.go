package main

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution"
)

var writeRules = flag.Bool("write-rules", false, "write substitution/RULES.md anew")

// The page of rules is what `stead rule show` tells, for those who read before they install.
func TestRulesAreInTheDocs(t *testing.T) {
	const file = "../../substitution/RULES.md"
	want := rulesPage()
	if *writeRules {
		require.NoError(t, os.WriteFile(file, []byte(want), 0o644))
	}
	got, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, want, string(got), "the rules have changed: go test ./cmd/stead -run RulesAreInTheDocs -write-rules")
}

func rulesPage() string {
	var b strings.Builder
	fmt.Fprintln(&b, `# What fits, and on whose authority

Each rule with its kind and its source, written from the tables of this package by a test of the program. Examples that
hold and break are with each rule in the program: `+"`stead rule show chainring.bcd`"+`.

A broken mating or safety rule means that the parts do not go together. A broken function or finish rule is a difference
that the customer accepts or declines. How sure a source is: a standard, a handbook, a maker's catalogue, common practice,
or memory, which never decides.

Stead compares dimensions. Makers' approval is not implied: follow their instructions and local rules, and have the work
checked by a competent mechanic.`)
	family := substitution.Family("")
	for _, r := range substitution.Rules() {
		if r.Family() != family {
			family = r.Family()
			fmt.Fprintf(&b, "\n## %s\n\n", family)
		}
		page := pageOf(r)
		fmt.Fprintf(&b, "- **%s** (%s): %s. *%s*\n", page.ID, page.Severity, page.Says, r.Source)
	}
	return b.String()
}

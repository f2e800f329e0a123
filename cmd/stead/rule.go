package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/substitution"
)

func newRule() *cobra.Command {
	return group("rule", "The rules that decide what fits, each with its source", newRuleList(), newRuleShow(), newRuleTorque(), newRuleCount())
}

// rulePage is a rule as it is told to a reader.
type rulePage struct {
	ID       string               `json:"id"`
	Family   substitution.Family  `json:"family"`
	Severity string               `json:"severity"`
	Says     string               `json:"says"`
	Source   string               `json:"source,omitempty"`
	Sure     string               `json:"sure"`
	Places   []substitution.Place `json:"places"`
	Examples []ruleExample        `json:"examples,omitempty"`
}

// ruleExample is a worked example with the words that the rule answers it by.
type ruleExample struct {
	substitution.Case
	Words string `json:"words"`
}

func pageOf(r *substitution.Rule) rulePage {
	return rulePage{ID: r.ID, Family: r.Family(), Severity: r.Severity.String(), Says: r.Says,
		Source: r.Source.Text, Sure: r.Source.Confidence.String(), Places: r.Places()}
}

func newRuleList() *cobra.Command {
	var family, severity string
	cmd := &cobra.Command{Use: "list", Short: "List the rules, family by family", Args: exactly(),
		Example: "  stead rule list\n  stead rule list --family chainring --severity mating"}
	cmd.Flags().StringVar(&family, "family", "", "only rules of this family")
	severities := []string{substitution.Mating.String(), substitution.Safety.String(), substitution.Function.String(), substitution.Finish.String()}
	kind := oneOf[string]{&severity, severities}
	cmd.Flags().Var(kind, "severity", "only rules of this kind: "+kind.List())
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		if family != "" {
			if _, err := substitution.TableOf(substitution.Family(family)); err != nil {
				return usage(cmd, err)
			}
		}
		pages := []rulePage{}
		var rows [][]string
		for _, r := range substitution.Rules() {
			if (family == "" || string(r.Family()) == family) && (severity == "" || r.Severity.String() == severity) {
				pages = append(pages, pageOf(r))
				rows = append(rows, []string{r.ID, r.Severity.String(), r.Says})
			}
		}
		return show(cmd, pages, func() {
			if len(rows) == 0 {
				say(cmd, "no such rule")
				return
			}
			terminal.Table(cmd.OutOrStdout(), []string{"RULE", "KIND", "SAYS"}, rows)
			say(cmd, "")
			terminal.Table(cmd.OutOrStdout(), []string{">RULES", "ON WHOSE WORD"}, onWhoseWord(pages))
		})
	}
	return cmd
}

// onWhoseWord counts rules by how sure their sources are.
func onWhoseWord(pages []rulePage) [][]string {
	var rows [][]string
	for _, c := range []substitution.Confidence{substitution.Standard, substitution.Catalogue, substitution.Handbook, substitution.TradePage, substitution.Practice,
		substitution.Arithmetic, substitution.Memory} {
		n := 0
		for _, p := range pages {
			if p.Sure == c.String() {
				n++
			}
		}
		if n > 0 {
			rows = append(rows, []string{strconv.Itoa(n), c.String()})
		}
	}
	return append(rows, []string{strconv.Itoa(len(pages)), "all"})
}

func newRuleShow() *cobra.Command {
	return &cobra.Command{Use: "show RULE", ValidArgsFunction: complete(ruleIDs), Short: "Show a rule: source, how sure, and examples that hold and break", Args: exactly("RULE"),
		Example: "  stead rule show chainring.bcd",
		RunE: func(cmd *cobra.Command, args []string) error {
			rule, err := substitution.RuleByID(args[0])
			if err != nil {
				return usage(cmd, err)
			}
			page := pageOf(rule)
			cases, err := substitution.ExamplesOf(rule)
			if err != nil {
				return err
			}
			for _, c := range cases {
				found, err := c.Try()
				if err != nil {
					return fmt.Errorf("example %q of rule %s: %w", c.Name, rule.ID, err)
				}
				page.Examples = append(page.Examples, ruleExample{c, found.Words})
			}
			return show(cmd, page, func() { printRule(cmd, rule, page) })
		}}
}

func printRule(cmd *cobra.Command, rule *substitution.Rule, page rulePage) {
	say(cmd, "%s\n", page.ID)
	say(cmd, "%s\n", page.Says)
	var places []string
	for _, p := range page.Places {
		places = append(places, string(p))
	}
	terminal.Table(cmd.OutOrStdout(), []string{"", ""}, [][]string{
		{"kind", page.Severity + ": " + desk.BrokenWords(rule.Severity)},
		{"source", rule.Source.String()},
		{"where", strings.Join(places, ", ")},
	})
	for _, group := range []struct {
		title  string
		answer substitution.Answer
	}{{"Holds", substitution.Holds}, {"Breaks", substitution.Breaks}, {"Can't tell", substitution.CantTell}} {
		title := "\n" + group.title
		for _, e := range page.Examples {
			if e.Answer != group.answer.String() {
				continue
			}
			if title != "" {
				say(cmd, "%s", title)
				title = ""
			}
			printExample(cmd, e)
		}
	}
	if len(page.Examples) == 0 {
		say(cmd, "\nno worked example is recorded")
	}
}

func printExample(cmd *cobra.Command, e ruleExample) {
	say(cmd, "  %s", e.Name)
	if len(e.Bike) > 0 {
		say(cmd, "    %s", "bike: "+desk.ExampleParts(e.Bike))
	}
	say(cmd, "    %s", "new: "+desk.ExampleParts(e.New))
	if e.Words != "" {
		say(cmd, "    %s", "→ "+e.Words)
	}
	if len(e.Brings) > 0 {
		say(cmd, "    %s", "needs beside it: "+strings.Join(e.Brings, ", "))
	}
	say(cmd, "    [%s; %s]", e.Source, e.Sure)
}

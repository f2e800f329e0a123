package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/terminal"
	"stead/inventory/pricelist/describe"
	"stead/substitution"
	"stead/testdata/pricelist"
)

// familyCount is what is known of a family, counted.
type familyCount struct {
	Family     string `json:"family"`
	Places     int    `json:"places"`
	Dimensions int    `json:"dimensions"`
	Readings   int    `json:"readings"`
	Work       int    `json:"labour_lines"`
	Standard   int    `json:"rules_by_standard"`
	Maker      int    `json:"rules_by_maker"`
	Handbook   int    `json:"rules_by_handbook"`
	TradePage  int    `json:"rules_by_trade_page"`
	Practice   int    `json:"rules_by_practice"`
	Arithmetic int    `json:"rules_by_arithmetic"`
	Cases      int    `json:"worked_cases"`
}

func newRuleCount() *cobra.Command {
	return &cobra.Command{
		Use: "count", Short: "Count what is known of each family, rules by source", Args: exactly(), Example: "  stead rule count",
		RunE: func(cmd *cobra.Command, _ []string) error {
			cases, err := substitution.Cases()
			if err != nil {
				return err
			}
			var out []familyCount
			var rows, rules [][]string
			all := familyCount{Family: "all"}
			for _, f := range substitution.Families() {
				table, err := substitution.TableOf(f)
				if err != nil {
					return err
				}
				c := familyCount{Family: string(f), Places: len(table.Sites), Dimensions: len(table.Dimensions), Readings: len(table.Readings), Work: len(table.Work), Cases: len(cases[f])}
				for _, r := range table.Rules {
					switch r.Source.Confidence {
					case substitution.Standard:
						c.Standard++
					case substitution.Catalogue:
						c.Maker++
					case substitution.Handbook:
						c.Handbook++
					case substitution.TradePage:
						c.TradePage++
					case substitution.Practice:
						c.Practice++
					case substitution.Arithmetic:
						c.Arithmetic++
					}
				}
				out = append(out, c)
				rows, rules = append(rows, c.row()), append(rules, c.rules())
				all.add(c)
			}
			languages, err := countLanguages()
			if err != nil {
				return err
			}
			return show(cmd, knownCount{out, languages}, func() {
				terminal.Table(cmd.OutOrStdout(), strings.Fields("FAMILY >PLACES >DIMENSIONS >READINGS >LABOUR >CASES"), append(rows, all.row()))
				say(cmd, "\nrules by whose word")
				terminal.Table(cmd.OutOrStdout(), strings.Fields("FAMILY >STANDARD >MAKER >HANDBOOK >PAGE >PRACTICE >ARITHMETIC"), append(rules, all.rules()))
				say(cmd, "\nwholesalers' lines whose truth is known, as they are read")
				terminal.Table(cmd.OutOrStdout(), []string{"LANGUAGE", ">LINES", ">FAMILY RIGHT", ">DIMENSIONS", ">RIGHT", ">WRONG"}, languageRows(languages))
			})
		},
	}
}

func (c *familyCount) add(o familyCount) {
	c.Places, c.Dimensions, c.Readings, c.Work, c.Cases = c.Places+o.Places, c.Dimensions+o.Dimensions, c.Readings+o.Readings, c.Work+o.Work, c.Cases+o.Cases
	c.Standard, c.Maker, c.Handbook, c.TradePage = c.Standard+o.Standard, c.Maker+o.Maker, c.Handbook+o.Handbook, c.TradePage+o.TradePage
	c.Practice, c.Arithmetic = c.Practice+o.Practice, c.Arithmetic+o.Arithmetic
}

func (c familyCount) row() []string {
	return counted(c.Family, c.Places, c.Dimensions, c.Readings, c.Work, c.Cases)
}

func (c familyCount) rules() []string {
	return counted(c.Family, c.Standard, c.Maker, c.Handbook, c.TradePage, c.Practice, c.Arithmetic)
}

func counted(name string, ns ...int) []string {
	row := []string{name}
	for _, n := range ns {
		row = append(row, strconv.Itoa(n))
	}
	return row
}

// knownCount is what is known, counted.
type knownCount struct {
	Families  []familyCount   `json:"families"`
	Languages []languageCount `json:"languages"`
}

// languageCount is how the lines of one language are read.
type languageCount struct {
	Language string `json:"language"`
	describe.Tally
}

func countLanguages() ([]languageCount, error) {
	var out []languageCount
	for _, l := range []struct{ name, code string }{
		{"English, UK", "uk"}, {"English, US", "us"}, {"German", "de"}, {"French", "fr"}, {"Dutch", "nl"}, {"Italian", "it"},
	} {
		c := languageCount{Language: l.name}
		for _, set := range []string{"tuning", "held", "fresh", "blind", "other", "second", "third"} {
			name := "truth-" + l.code + "-" + set + ".jsonl"
			file, err := pricelist.Files.Open(name)
			if err != nil {
				return nil, err
			}
			if err := c.Count(file); err != nil {
				return nil, fmt.Errorf("%s: %w", name, err)
			}
			if err := file.Close(); err != nil {
				return nil, err
			}
		}
		out = append(out, c)
	}
	return out, nil
}

func languageRows(all []languageCount) [][]string {
	var rows [][]string
	for _, c := range all {
		rows = append(rows, counted(c.Language, c.Lines, c.FamilyRight, c.Said, c.Right, c.Wrong))
	}
	return rows
}

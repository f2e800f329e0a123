package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/terminal"
	"stead/substitution"
	"stead/substitution/inspection"
)

func newPlace() *cobra.Command {
	return group("place", "The places of a bike: what sits there, and what to measure", newPlaceList(), newPlaceShow())
}

func newPlaceList() *cobra.Command {
	return &cobra.Command{
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
				out = append(out, place{s.Place, s.Family, s.Words, s.Safety})
				rows = append(rows, []string{string(s.Place), string(s.Family), s.Words})
			}
			return show(cmd, out, func() {
				terminal.Table(cmd.OutOrStdout(), []string{"PLACE", "FAMILY", "WHAT IT IS"}, rows)
			})
		},
	}
}

// toRead is a dimension or a reading as a mechanic is told of it.
type toRead struct {
	Name    string `json:"name"`
	Write   string `json:"write"` // what may be written for it
	Means   string `json:"means"`
	Measure string `json:"measure,omitempty"`
}

func toReads(dimensions []substitution.Dimension) []toRead {
	out := []toRead{}
	for _, d := range dimensions {
		out = append(out, toRead{d.Name, written(d), d.Plain(), d.Measure})
	}
	return out
}

// written is what may be written for a dimension.
func written(d substitution.Dimension) string {
	switch {
	case len(d.Words) > 0:
		return strings.Join(d.Words, ", ")
	case d.Form == substitution.Number && d.High > d.Low, d.Form == substitution.Int && d.High > d.Low:
		return figure(d.Low) + " to " + figure(d.High)
	case d.Form == substitution.Flag:
		return "yes or no"
	case d.Form == substitution.Ints:
		return "numbers: 9,10"
	case d.Form == substitution.Word:
		return "a word"
	}
	return d.Form.String()
}

func figure(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func newPlaceShow() *cobra.Command {
	return &cobra.Command{
		Use: "show PLACE", ValidArgsFunction: complete(placeNames), Short: "Show what to record and to read at a place, and how", Args: exactly("PLACE"),
		Example: "  stead place show crank.outer-ring",
		RunE: func(cmd *cobra.Command, args []string) error {
			site, err := substitution.SiteOf(substitution.Place(args[0]))
			if err != nil {
				return usage(cmd, err)
			}
			table, err := substitution.TableOf(site.Family)
			if err != nil {
				return err
			}
			answer := struct {
				Place      substitution.Place  `json:"place"`
				Family     substitution.Family `json:"family"`
				Words      string              `json:"words"`
				Safety     bool                `json:"safety"`
				Dimensions []toRead            `json:"dimensions"`
				Readings   []toRead            `json:"readings"`
			}{site.Place, site.Family, site.Words, site.Safety, toReads(dimensionsOf(table)), toReads(inspection.ReadingsOf(site.Family))}
			return show(cmd, answer, func() {
				what := "the " + site.Words + ", a " + string(site.Family)
				if site.Words == string(site.Family) {
					what = "a " + site.Words
				}
				say(cmd, "%s: %s", site.Place, what)
				if site.Safety {
					say(cmd, "the rider's safety hangs on it")
				}
				say(cmd, "\nTo record what is fitted (stead job record JOB %s NAME=VALUE …)", site.Place)
				printToRead(cmd, answer.Dimensions)
				if len(answer.Readings) > 0 {
					say(cmd, "\nTo inspect (stead job inspect JOB %s NAME=VALUE …)", site.Place)
					printToRead(cmd, answer.Readings)
				}
			})
		},
	}
}

// dimensionsOf are the dimensions that are asked of a family: its own and those that every family shares.
func dimensionsOf(t *substitution.Table) []substitution.Dimension {
	var out []substitution.Dimension
	for _, name := range t.Asked(nil) {
		if d, ok := t.Dimension(name); ok {
			out = append(out, d)
		}
	}
	return out
}

func printToRead(cmd *cobra.Command, list []toRead) {
	var rows [][]string
	for _, d := range list {
		how := d.Means
		if d.Measure != "" {
			how = fmt.Sprintf("%s: %s", d.Means, d.Measure)
		}
		rows = append(rows, []string{d.Name, d.Write, how})
	}
	terminal.Table(cmd.OutOrStdout(), []string{"NAME", "VALUE", "WHAT IT IS, AND HOW TO FIND IT OUT"}, rows)
}

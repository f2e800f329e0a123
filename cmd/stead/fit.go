package main

import (
	"errors"
	"fmt"
	"io"
	"strconv"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/substitution"
)

func newFit() *cobra.Command {
	return group("fit", "What fits a place, what stands in for a part, what goes together",
		newFitPlace(), newFitInstead(), newFitPair(), newFitJudge())
}

func newFitPlace() *cobra.Command {
	var part string
	limit := 40
	cmd := &cobra.Command{Use: "place JOB PLACE", ValidArgsFunction: complete(nil, placeNames), Short: "What fits this place on this bike", Args: exactly("JOB", "PLACE"),
		Example: "  stead fit place 101 crank.outer-ring\n  stead fit place 101 crank.outer-ring --part COR-R110-50O-S"}
	cmd.Flags().StringVar(&part, "part", "", "ask of one part, rule by rule")
	cmd.Flags().Var(count{&limit}, "limit", "at most so many parts")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		site, err := substitution.SiteOf(substitution.Place(args[1]))
		if err != nil {
			return usage(cmd, err)
		}
		fit, err := desk.LoadFitAtPlace(cmd.Context(), w, id, site, part, limit)
		if wrong := (desk.WrongFamilyError{}); errors.As(err, &wrong) {
			return usage(cmd, err)
		}
		if err != nil {
			return err
		}
		if part != "" {
			one := fit.Fittings[0]
			return show(cmd, one, func() { printVerdict(cmd.OutOrStdout(), one.Part.Name+" as "+site.Words, one.Verdict) })
		}
		return show(cmd, fit.Fittings, func() {
			say(cmd, "%s of job %d, %s's %s\n", site.Words, fit.Job.ID, fit.Job.Bike.Customer.Name, fit.Job.Bike.Words)
			printFittings(cmd, fit.Fittings)
		})
	})
	return cmd
}

func newFitInstead() *cobra.Command {
	limit := 40
	cmd := &cobra.Command{Use: "instead PART [OTHER]", Short: "What can stand in for a part, or whether OTHER can", Example: "  stead fit instead COR-R110-50O-B\n  stead fit instead COR-R110-50O-B ALD-R110-50O-S",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 2 {
				return nil
			}
			return exactly("PART")(cmd, args)
		}}
	cmd.Flags().Var(count{&limit}, "limit", "at most so many parts")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		other := ""
		if len(args) == 2 {
			other = args[1]
		}
		fit, err := desk.LoadFitInstead(cmd.Context(), w, args[0], other, limit)
		if err != nil {
			return err
		}
		if other != "" {
			one := fit.Fittings[0]
			return show(cmd, one, func() { printVerdict(cmd.OutOrStdout(), one.Part.Name+" in the stead of "+fit.Was.Name, one.Verdict) })
		}
		return show(cmd, fit.Fittings, func() {
			say(cmd, "in the stead of %s\n", fit.Was.Name)
			printFittings(cmd, fit.Fittings)
		})
	})
	return cmd
}

func newFitPair() *cobra.Command {
	cmd := &cobra.Command{Use: "pair PART PART", Short: "Whether two parts go together, and why", Args: exactly("PART", "PART"), Example: "  stead fit pair TAR-CH9 TAR-CS9-1132"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		fit, err := desk.LoadFitPair(cmd.Context(), w, args[0], args[1])
		if err != nil {
			return err
		}
		return show(cmd, fit.Verdict, func() {
			if len(fit.Verdict.Findings) == 0 {
				say(cmd, "%s", fit.NoRuleWords())
				return
			}
			printVerdict(cmd.OutOrStdout(), fit.A.Name+" with "+fit.B.Name, fit.Verdict)
		})
	})
	return cmd
}

// printFittings lists what fits, with what is different, then what might and what to measure.
func printFittings(cmd *cobra.Command, list []desk.Fitting) {
	var fits, unsure [][]string
	for _, f := range list {
		id := strconv.FormatInt(f.Part.ID, 10)
		switch f.Verdict.Fits {
		case substitution.Holds, substitution.NoRule:
			fits = append(fits, []string{id, f.Part.Name, desk.DifferentWords(f.Verdict), strconv.Itoa(f.Free), strconv.Itoa(f.Offers)})
		case substitution.CantTell:
			unsure = append(unsure, []string{id, f.Part.Name, desk.MissingWords(f.Verdict)})
		}
	}
	if len(fits) == 0 {
		say(cmd, "nothing in the catalogue fits for sure")
	} else {
		terminal.Table(cmd.OutOrStdout(), []string{">PART", "FITS", "DIFFERENT", ">FREE", ">OFFERS"}, fits)
	}
	if len(unsure) > 0 {
		say(cmd, "\nmight fit, measure first:")
		terminal.Table(cmd.OutOrStdout(), []string{">PART", "NAME", "MEASURE"}, unsure)
	}
}

// printVerdict gives the answer first, then every rule.
func printVerdict(out io.Writer, what string, v substitution.Verdict) {
	fmt.Fprintln(out, terminal.Wrap("", what+": "+desk.AnswerWords(v)))
	for _, f := range v.Stops() {
		fmt.Fprintln(out, terminal.Wrap("  ", f.Words))
		for _, m := range f.Missing {
			fmt.Fprintln(out, terminal.Wrap("    ", fmt.Sprintf("measure %s of the %s: %s", m.Dimension, m.Place, m.Measure)))
		}
	}
	if v.Fits != substitution.Breaks {
		for _, d := range v.Deviations() {
			fmt.Fprintln(out, terminal.Wrap("  ", fmt.Sprintf("different (%s): %s", d.Rule.Severity, d.Words)))
		}
		if beside := desk.BesideWords(v); beside != "" {
			fmt.Fprintln(out, terminal.Wrap("  ", beside))
		}
	}
	fmt.Fprintln(out)
	var rows [][]string
	for _, f := range v.Findings {
		rows = append(rows, []string{f.Answer.String(), f.Rule.Severity.String(), f.Words, f.Rule.Source.String()})
	}
	terminal.Table(out, []string{"ANSWER", "KIND", "FINDING", "SOURCE"}, rows)
	for _, c := range v.Cautions {
		fmt.Fprintln(out)
		fmt.Fprintln(out, terminal.Wrap("", "Caution: "+c))
	}
}

package main

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/pricing"
	"stead/substitution"
)

func newJobAmend() *cobra.Command {
	var anew []string
	cmd := &cobra.Command{Use: "amend JOB", Short: "Quote what has changed on a job since it was approved", Args: exactly("JOB"),
		Long: `Quotes what has changed on a job since it was approved, as a next version
beside what was agreed, which stays: parts that are held or ordered are kept.
It asks only about what is new. What was agreed beforehand with
` + "`stead job if-opened`" + `, up to its price, counts as approved at once. The
customer answers with ` + "`stead job approve`" + ` or ` + "`stead job decline`" + `.`,
		Example: "  stead job amend 101 --anew crank.outer-ring"}
	cmd.Flags().StringArrayVar(&anew, "anew", nil, "place for which another part is looked for than the agreed one")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		var places []substitution.Place
		for _, a := range anew {
			site, err := substitution.SiteOf(substitution.Place(a))
			if err != nil {
				return usage(cmd, err)
			}
			places = append(places, site.Place)
		}
		out, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (desk.Answered, error) {
			q, err := pricing.Amend(ctx, tx, id, places, now())
			return desk.Answered{Quote: desk.TellQuote(q, desk.At(now()))}, err
		})
		if err != nil {
			return err
		}
		return show(cmd, out, func() {
			printQuote(cmd, out.Quote)
			if out.State == pricing.Approved {
				say(cmd, "\nagreed beforehand, so it is approved")
				return
			}
			say(cmd, "\n%s", afterQuote(out.Quote))
		})
	})
	return cmd
}

func newJobDecline() *cobra.Command {
	var version int
	var by string
	var why pricing.WhyNot
	cmd := &cobra.Command{Use: "decline JOB", Short: "Record a no to a quote, or to an amendment: what was agreed stays", Args: exactly("JOB"),
		Long: `Records that the customer wants none of a quote, or none of an amendment: what
was agreed stays as it is. Why they say so is kept with their own words; what
was lost for its day or for a part counts as demand: see ` + "`stead job lost`" + `.`,
		Example: "  stead job amend 101 --anew crank.outer-ring\n  stead job decline 101 --version 2 --by \"Ines Falkner\""}
	cmd.Flags().IntVar(&version, "version", 0, "version that they were shown")
	cmd.Flags().StringVar(&by, "by", "", "who said so")
	whyNot(cmd, &why)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		if version == 0 || by == "" {
			return usage(cmd, fmt.Errorf("--version and --by are needed: what was shown, and who declined it"))
		}
		advised, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) ([]pricing.Advice, error) {
			return pricing.DeclineQuote(ctx, tx, id, version, by, why, now())
		})
		if err != nil {
			return err
		}
		return show(cmd, advised, func() {
			if advised == nil {
				say(cmd, "declined by %s: quote job %d again, or give it up", by, id)
				return
			}
			say(cmd, "declined by %s: what was agreed on job %d stays as it is", by, id)
			for _, a := range advised {
				say(cmd, "  advised, and remembered with the bike: %s", a.Words)
			}
		})
	})
	return cmd
}

// whyNot takes why a customer declines.
func whyNot(cmd *cobra.Command, why *pricing.WhyNot) {
	reasons := oneOf[pricing.Because]{&why.Because, pricing.CustomersReasons}
	cmd.Flags().Var(reasons, "because", "why they decline: "+reasons.List())
	cmd.Flags().StringVar(&why.Words, "words", "", "why, in their own words")
}

// printAgreed sets agreed lines as a table.
func printAgreed(cmd *cobra.Command, currency string, lines []pricing.AgreedLine) {
	var rows [][]string
	for _, l := range lines {
		words := l.Words
		if l.Pieces > 1 {
			words = fmt.Sprintf("%d × %s", l.Pieces, l.Words)
		}
		where := ""
		if l.Kind == pricing.PartsLine {
			where = desk.SiteWords(l.Place)
		}
		rows = append(rows, []string{"  " + words, where, pricing.Amount(currency, l.Amount)})
	}
	terminal.Table(cmd.OutOrStdout(), []string{"", "", ">"}, rows)
}

package main

import (
	"context"
	"errors"
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
)

// newListPreview shows what loading would do, before anything is written.
func newListPreview() *cobra.Command {
	var lines, jump int
	var tax percent
	cmd := &cobra.Command{Use: "preview SUPPLIER FILE", Short: "Show what loading a list would do, without doing it", Args: exactly("SUPPLIER", "FILE"),
		Example: "  stead pricelist preview harbour harbour-december.csv"}
	cmd.Flags().IntVar(&lines, "lines", 5, "how many of the first lines to show")
	jumpFlag(cmd, &jump)
	taxFlag(cmd, &tax)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		if err := checkJump(cmd, jump); err != nil {
			return err
		}
		l, err := openList(cmd.Context(), w, args[0], args[1])
		if err != nil {
			return err
		}
		defer l.File.Close() // only read from
		l.Mapping = tax.on(l.Mapping)
		view, err := previewList(cmd.Context(), w, l, lines, jump)
		if err != nil {
			return err
		}
		return show(cmd, view, func() { printPreview(cmd, view, tax.again()) })
	})
	return cmd
}

// previewList looks at a list in a transaction of which nothing is kept.
func previewList(ctx context.Context, w *workshop, l desk.ListFile, lines, jump int) (v desk.ListPreview, err error) {
	pool, err := w.open(ctx)
	if err != nil {
		return v, err
	}
	tx, err := pool.Begin(ctx)
	if err != nil {
		return v, fmt.Errorf("begin the preview of %s: %w", l.File.Name(), err)
	}
	defer func() { err = errors.Join(err, tx.Rollback(context.WithoutCancel(ctx))) }()
	line := newMeter("reading " + l.File.Name())
	defer line.end()
	return desk.LoadListPreview(ctx, tx, l, lines, jump, now(), line.lines())
}

// printPreview sets what loading would do; said are the flags by which it was said how the list is to be read.
func printPreview(cmd *cobra.Command, v desk.ListPreview, said string) {
	whose := "columns as they look, not confirmed yet"
	if v.Confirmed {
		whose = "columns as confirmed"
	}
	say(cmd, "%s (%s), %s\n", v.File, v.Form, whose)
	printColumns(cmd, v.Columns)
	if v.Load == nil {
		say(cmd, "\nsay which column is what:\n  stead pricelist columns %s FILE FIELD=COLUMN …", v.Supplier)
		return
	}
	var rows [][]string
	for _, r := range v.Rows {
		rows = append(rows, []string{placeWords(r.Sheet, r.Line), r.Code, strconv.Itoa(r.Pack), v.PriceWords(r), v.RetailWords(r), desk.ReadingWords(r.Read)})
	}
	if len(rows) > 0 {
		say(cmd, "")
		terminal.Table(cmd.OutOrStdout(), []string{">LINE", "CODE", ">PACK", ">A PACK", ">RETAIL", "READ AS"}, rows)
	}
	if words := v.TaxWords(); words != "" {
		say(cmd, "\n%s", words)
	}
	printProblems(cmd, v.Load.Bad)
	printLeftOut(cmd, v.Load.LeftOut)
	printJumps(cmd, v.Load.Jumps)
	printRetailDoubts(cmd, v.Currency, v.Tax, v.Load.Retail)
	say(cmd, "")
	if v.Load.Again {
		say(cmd, "this very list is loaded already: loading it would change nothing")
		return
	}
	if v.Load.Doubt != "" {
		say(cmd, "! %s", v.Load.Doubt)
	}
	say(cmd, "Loading it would give:")
	printCounts(cmd, *v.Load)
	if !v.Confirmed {
		say(cmd, "\nif a column is wrong:\n  stead pricelist columns %s FILE FIELD=COLUMN …", v.Supplier)
	}
	say(cmd, "\nnothing was written; to load it:\n  stead pricelist load %s FILE%s%s", v.Supplier, flagsFor(v), said)
}

// acceptFlags are the flags by which a person takes a list in spite of a doubt.
var acceptFlags = map[desk.Doubt]string{desk.DoubtColumns: confirmColumns, desk.DoubtTax: taxIn + " PERCENT", desk.DoubtPrices: acceptPrices, desk.DoubtGone: acceptGone,
	desk.DoubtBad: acceptGood, desk.DoubtJumps: acceptJumps}

// flagsFor are the flags with which the previewed list would be taken.
func flagsFor(v desk.ListPreview) string {
	var out string
	for _, d := range desk.ListDoubts(v.Confirmed, *v.Load) {
		out += " --" + acceptFlags[d]
	}
	return out
}

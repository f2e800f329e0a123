package main

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/terminal"
	"stead/inventory/catalogue"
	"stead/inventory/pricelist"
	"stead/inventory/pricelist/describe"
	"stead/pricing"
)

// previewRow is one line as it would be taken.
type previewRow struct {
	Line   int                 `json:"line"`
	Code   string              `json:"code"`
	Price  decimal.NullDecimal `json:"price"`  // a pack
	Retail decimal.NullDecimal `json:"retail"` // recommended, a pack, tax included
	Pack   int                 `json:"pack,omitempty"`
	Read   describe.Reading    `json:"read"`
}

type previewView struct {
	columnsView
	File string             `json:"file"`
	Form string             `json:"form"`
	Rows []previewRow       `json:"rows"`
	Load *catalogue.Summary `json:"load"` // what loading would do; null while a column is missing
	tax  decimal.Decimal
}

// newListPreview shows what loading would do, before anything is written.
func newListPreview() *cobra.Command {
	var lines, jump int
	cmd := &cobra.Command{Use: "preview SUPPLIER FILE", Short: "Show what loading a list would do, without doing it", Args: exactly("SUPPLIER", "FILE"),
		Example: "  stead pricelist preview harbour harbour-december.csv"}
	cmd.Flags().IntVar(&lines, "lines", 5, "how many of the first lines to show")
	jumpFlag(cmd, &jump)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		if err := checkJump(cmd, jump); err != nil {
			return err
		}
		l, err := openList(cmd.Context(), w, args[0], args[1])
		if err != nil {
			return err
		}
		defer l.file.Close() // only read from
		view := previewView{File: l.file.Name(), Form: l.file.Form(), Rows: []previewRow{},
			columnsView: columnsView{Supplier: l.supplier.Code, Confirmed: l.confirmed, Mapping: l.mapping, Doubts: l.doubts, Asks: l.asks}}
		if l.mapping.Complete() == nil {
			if view.Rows, err = firstRows(cmd, w, l, lines); err != nil {
				return err
			}
			if view.tax, err = taxPercent(cmd.Context(), w); err != nil {
				return err
			}
			s, err := previewLoad(cmd, w, l, jump, view.tax)
			if err != nil {
				return err
			}
			view.Load = &s
		}
		return show(cmd, view, func() { printPreview(cmd, l, view) })
	})
	return cmd
}

// firstRows reads the first lines, descriptions and all.
func firstRows(cmd *cobra.Command, w *workshop, l openedList, n int) ([]previewRow, error) {
	reader, err := catalogue.ReaderOf(cmd.Context(), w, l.supplier.ID)
	if err != nil {
		return nil, err
	}
	out := []previewRow{}
	if n < 1 {
		return out, nil
	}
	for row, err := range pricelist.Rows(l.file, l.mapping) {
		if err != nil {
			return nil, err
		}
		line := reader.Line(row)
		out = append(out, previewRow{Line: row.Line, Code: row.Code, Price: line.Price, Retail: line.Retail, Pack: line.Pack, Read: line.Read})
		if len(out) == n {
			break
		}
	}
	return out, nil
}

// previewLoad loads the list and takes it all back.
func previewLoad(cmd *cobra.Command, w *workshop, l openedList, jump int, tax decimal.Decimal) (s catalogue.Summary, err error) {
	pool, err := w.open(cmd.Context())
	if err != nil {
		return s, err
	}
	tx, err := pool.Begin(cmd.Context())
	if err != nil {
		return s, fmt.Errorf("begin the preview of %s: %w", l.file.Name(), err)
	}
	defer func() { err = errors.Join(err, tx.Rollback(context.WithoutCancel(cmd.Context()))) }()
	told, done := progress("reading " + l.file.Name())
	defer done()
	return catalogue.Load{SupplierID: l.supplier.ID, File: l.file, Mapping: l.mapping, AsOf: now(), Now: now(), Tax: tax, JumpPercent: jump, Progress: told}.Preview(cmd.Context(), tx)
}

func printPreview(cmd *cobra.Command, l openedList, v previewView) {
	whose := "columns as they look, not confirmed yet"
	if v.Confirmed {
		whose = "columns as confirmed"
	}
	say(cmd, "%s (%s), %s\n", v.File, v.Form, whose)
	printColumns(cmd, v.Mapping, v.Doubts, v.Asks)
	if v.Load == nil {
		say(cmd, "\nsay which column is what:\n  stead pricelist columns %s FILE FIELD=COLUMN …", v.Supplier)
		return
	}
	var rows [][]string
	for _, r := range v.Rows {
		price, retail := "?", ""
		if r.Price.Valid {
			price = pricing.Amount(l.supplier.Currency, r.Price.Decimal)
		}
		if r.Retail.Valid {
			retail = pricing.Amount(l.supplier.Currency, r.Retail.Decimal)
			if r.Price.Valid {
				retail += " (" + markUp(r.Price.Decimal, r.Retail.Decimal, v.tax) + ")"
			}
		}
		rows = append(rows, []string{strconv.Itoa(r.Line), r.Code, strconv.Itoa(r.Pack), price, retail, readingWords(r.Read)})
	}
	if len(rows) > 0 {
		say(cmd, "")
		terminal.Table(cmd.OutOrStdout(), []string{">LINE", "CODE", ">PACK", ">A PACK", ">RETAIL", "READ AS"}, rows)
	}
	printProblems(cmd, v.Load.Bad)
	printJumps(cmd, v.Load.Jumps)
	printRetailDoubts(cmd, l.supplier.Currency, v.tax, v.Load.Retail)
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
	say(cmd, "\nnothing was written; to load it:\n  stead pricelist load %s FILE%s", v.Supplier, flagsFor(v))
}

// readingWords is what a description was understood to say.
func readingWords(r describe.Reading) string {
	var out string
	switch {
	case r.Other != "":
		return "none of our parts: " + r.Other
	case r.Family == "":
		out = "no part that is known"
	case len(r.Spec) == 0:
		out = string(r.Family)
	default:
		out = string(r.Family) + ": " + r.Spec.String()
	}
	if len(r.Unread) > 0 {
		out += "; not read: " + strings.Join(r.Unread, ", ")
	}
	return out
}

// flagsFor are the flags with which the previewed list would be taken.
func flagsFor(v previewView) string {
	var out string
	for _, f := range []struct {
		need bool
		flag string
	}{{!v.Confirmed, confirmColumns}, {v.Load.Doubt != "", acceptPrices}, {v.Load.CutShort(), acceptGone}, {v.Load.Refused > 0, acceptGood}, {len(v.Load.Jumps) > 0, acceptJumps}} {
		if f.need {
			out += " --" + f.flag
		}
	}
	return out
}

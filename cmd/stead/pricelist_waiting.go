package main

import (
	"context"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/inventory/catalogue"
)

// newListWaiting lists the lines that are no offers yet.
func newListWaiting() *cobra.Command {
	limit := mostShown
	cmd := &cobra.Command{Use: "waiting SUPPLIER", Short: "List the lines of a list that wait, each with why", Args: exactly("SUPPLIER"),
		Example: "  stead pricelist waiting harbour --limit 100"}
	cmd.Flags().Var(count{&limit}, "limit", "at most so many lines")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		supplier, err := inventory.SupplierByCode(cmd.Context(), w, args[0])
		if err != nil {
			return err
		}
		v, err := desk.LoadReview(cmd.Context(), w, supplier)
		if err != nil {
			return err
		}
		list := v.Waiting
		return show(cmd, list, func() {
			if len(list) == 0 {
				say(cmd, "no line of the list of %s waits", supplier.Name)
				return
			}
			var rows [][]string
			for _, l := range list[:min(len(list), limit)] {
				rows = append(rows, []string{l.Code, l.Name, l.Reason})
			}
			terminal.Table(cmd.OutOrStdout(), []string{"CODE", "LINE", "WAITS BECAUSE"}, rows)
			if left := len(list) - len(rows); left > 0 {
				say(cmd, "and %s more", desk.Several(left, "line"))
			}
			say(cmd, "\nto say what one is: stead pricelist line %s CODE 'family NAME'\nto say what a word means: stead pricelist review %s WORD=MEANING", supplier.Code, supplier.Code)
		})
	})
	return cmd
}

// newListLine says what one line is, against what its words say.
func newListLine() *cobra.Command {
	var forget bool
	cmd := &cobra.Command{Use: "line SUPPLIER CODE [MEANING …]", Short: "Say what one line of a list is, or show how it was read",
		Long: `Says of one line of a supplier's list what it is, where its words were read
wrongly; it holds for the next list too. MEANING is "family NAME",
DIMENSION=VALUE, DIMENSION=none (what is read of it is not so), or "none" (it is
none of our parts). What was said before of the line is replaced.`,
		Example: "  stead pricelist line harbour HL10020\n  stead pricelist line harbour HL10020 'family chain-joiner' speeds=9/10\n  stead pricelist line harbour HL10020 --forget",
		Args:    atLeast("SUPPLIER", "CODE")}
	cmd.Flags().BoolVar(&forget, "forget", false, "take back what was said of the line")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		ctx := cmd.Context()
		supplier, err := inventory.SupplierByCode(ctx, w, args[0])
		if err != nil {
			return err
		}
		var did catalogue.Summary
		if len(args) > 2 || forget {
			did, err = change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (catalogue.Summary, error) {
				meanings := args[2:]
				if forget {
					meanings = nil
				}
				return catalogue.SayLine(ctx, tx, supplier.ID, args[1], meanings)
			})
			if err != nil {
				return err
			}
		}
		line, err := catalogue.LineOf(ctx, w, supplier.ID, args[1])
		if err != nil {
			return err
		}
		return show(cmd, line, func() {
			if did.Rows > 0 {
				say(cmd, "read again:")
			}
			say(cmd, "%s: %s", line.Code, line.Read.Text)
			if len(line.Said) > 0 {
				say(cmd, "said of it: %s", strings.Join(line.Said, ", "))
			}
			say(cmd, "read as %s", desk.ReadingWords(line.Read))
			switch {
			case line.Reason != "":
				say(cmd, "it waits: %s", line.Reason)
			case line.PartID > 0:
				say(cmd, "it is part %d: %s", line.PartID, line.Part)
			}
		})
	})
	return cmd
}

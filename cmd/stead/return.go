package main

import (
	"context"
	"fmt"
	"strconv"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/pricing"
)

func newReturn() *cobra.Command {
	return group("return", "Parts that go back to a supplier, or come back from a customer",
		newReturnSend(), newReturnCredit(), newReturnList(), newReturnCustomer())
}

func newReturnSend() *cobra.Command {
	var note string
	why := inventory.BackNotNeeded
	cmd := &cobra.Command{Use: "send ORDER LINE PIECES", Short: "Send pieces of an order back to its supplier", Args: exactly("ORDER", "LINE", "PIECES"),
		Long: `Sends pieces of an order back: those that came wrong or damaged and were never
on the shelf, else good ones off it. The credit expected is what was paid.`,
		Example: "  stead job cancel 101 --why \"sold the bike\"\n  stead return send 501 1 1 --why \"not needed\""}
	words := oneOf[inventory.WhyBack]{&why, []inventory.WhyBack{inventory.BackWrong, inventory.BackDamaged, inventory.BackNotNeeded}}
	cmd.Flags().Var(words, "why", "why they go back: "+words.List())
	cmd.Flags().StringVar(&note, "note", "", "a remark")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := orderNumber(cmd, args[0])
		if err != nil {
			return err
		}
		line, err := numbered(cmd, "line", args[1])
		if err != nil {
			return err
		}
		n, err := pieces(cmd, args[2])
		if err != nil {
			return err
		}
		order, err := inventory.OrderByID(cmd.Context(), w, id)
		if err != nil {
			return err
		}
		known := false
		for _, l := range order.Lines {
			known = known || l.ID == line
		}
		if !known {
			return &inventory.UnknownError{Kind: inventory.OfLine, Name: fmt.Sprintf("%d of order %d", line, id), Of: id}
		}
		r, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, key string) (inventory.Return, error) {
			return inventory.SendBack(ctx, tx, key, line, n, why, 0, note, now())
		})
		if err != nil {
			return err
		}
		return show(cmd, r, func() { say(cmd, "%s", desk.ReturnWords(r)) })
	})
	return cmd
}

func newReturnCredit() *cobra.Command {
	var reference string
	cmd := &cobra.Command{Use: "credit RETURN AMOUNT", Short: "Keep what a supplier credits for a return; 0 where it gives none", Args: exactly("RETURN", "AMOUNT"),
		Example: "  stead job cancel 101 --why \"sold the bike\" --parts return\n  stead return credit 701 24.57 --reference CN-118"}
	cmd.Flags().StringVar(&reference, "reference", "", "number of the supplier's credit note")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := numbered(cmd, "return", args[0])
		if err != nil {
			return err
		}
		credit, err := amount(cmd, "AMOUNT", args[1])
		if err != nil {
			return err
		}
		r, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (inventory.Return, error) {
			return inventory.CreditReturn(ctx, tx, id, credit.Decimal, reference, now())
		})
		if err != nil {
			return err
		}
		return show(cmd, r, func() { say(cmd, "%s", desk.ReturnWords(r)) })
	})
	return cmd
}

func newReturnList() *cobra.Command {
	var all bool
	cmd := &cobra.Command{Use: "list", Short: "List what is still to go back, and what no credit has come for", Args: exactly(), Example: "  stead return list --all"}
	cmd.Flags().BoolVar(&all, "all", false, "credited ones too")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		list, err := inventory.Returns(cmd.Context(), w, !all)
		if err != nil {
			return err
		}
		waits, err := inventory.Besides(cmd.Context(), w)
		if err != nil {
			return err
		}
		return show(cmd, list, func() {
			for _, b := range waits {
				say(cmd, "%s", desk.ToGoBackWords(b))
			}
			if len(list) == 0 {
				say(cmd, "no credit is awaited")
				return
			}
			var rows [][]string
			for _, r := range list {
				credited := ""
				if r.Credited.Valid {
					credited = pricing.Amount(r.Currency, r.Credited.Decimal)
				}
				rows = append(rows, []string{strconv.FormatInt(r.ID, 10), r.From, strconv.FormatInt(r.OrderID, 10), strconv.Itoa(r.Pieces), r.Part, string(r.Why), pricing.Amount(r.Currency, r.Expected), credited})
			}
			terminal.Table(cmd.OutOrStdout(), []string{">RETURN", "TO", ">ORDER", ">PIECES", "NAME", "WHY", ">EXPECTED", ">CREDITED"}, rows)
		})
	})
	return cmd
}

func newReturnCustomer() *cobra.Command {
	var job, bin, note string
	cmd := &cobra.Command{Use: "customer PART PIECES", Short: "Put back what a customer brings back from a job", Args: exactly("PART", "PIECES"),
		Long: `Puts back on the shelf what was used on a job and is brought back: no more than
was used. The money is given back by a credit note.`,
		Example: "  stead return customer R110-50 1 --job 101 --bin A1"}
	cmd.Flags().StringVar(&job, "job", "", "the job from which it comes back")
	needed(cmd, "job")
	cmd.Flags().StringVar(&bin, "bin", "", "the bin it goes into (default where it belongs)")
	cmd.Flags().StringVar(&note, "note", "", "a remark")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, job)
		if err != nil {
			return err
		}
		n, err := pieces(cmd, args[1])
		if err != nil {
			return err
		}
		if _, err := pricing.JobByID(cmd.Context(), w, id); err != nil {
			return err
		}
		return stockChange(cmd, w, args[0], func(ctx context.Context, tx pgx.Tx, key string, p inventory.Part) (string, error) {
			return fmt.Sprintf("%d of %s back from job %d", n, p.Name, id), inventory.BringBack(ctx, tx, key, id, p.ID, bin, n, note)
		})
	})
	return cmd
}

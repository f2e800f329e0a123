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
)

func newStock() *cobra.Command {
	return group("stock", "What is on the shelf and how it came there",
		newStockList(), newStockReceive(), newStockUse(), newStockSell(), newStockMove(), newStockScrap(), newStockCount(), newStockHistory(),
		newStockKeep())
}

// pieces reads a number of pieces.
func pieces(cmd *cobra.Command, text string) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < 0 {
		return 0, usage(cmd, fmt.Errorf("a number of pieces is a whole number, not %q", text))
	}
	if n > mostCount {
		return 0, usage(cmd, fmt.Errorf("%d pieces cannot be meant: count again", n))
	}
	return n, nil
}

func newStockList() *cobra.Command {
	cmd := &cobra.Command{Use: "list", Short: "List what is on the shelf, bin by bin", Args: exactly(), Example: "  stead stock list"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		shelf, err := desk.LoadShelf(cmd.Context(), w)
		if err != nil {
			return err
		}
		return show(cmd, shelf, func() {
			var rows [][]string
			for _, l := range shelf {
				level := ""
				if l.ReorderLevel != nil {
					level = strconv.Itoa(*l.ReorderLevel)
				}
				rows = append(rows, []string{l.Bin, strconv.FormatInt(l.Part, 10), l.Name, strconv.Itoa(l.Pieces), strconv.Itoa(l.Stock.Reserved), strconv.Itoa(l.Stock.OnOrder), level})
			}
			terminal.Table(cmd.OutOrStdout(), []string{"BIN", ">PART", "NAME", ">HERE", ">HELD", ">COMING", ">LOW AT"}, rows)
		})
	})
	return cmd
}

// newStockReceive puts in what came without an order; `stead order receive` books in an order.
func newStockReceive() *cobra.Command {
	var bin, note string
	reason := inventory.Opening
	cmd := &cobra.Command{Use: "receive PART PIECES", Short: "Put in pieces that came with no order: opening stock, returns",
		Args: exactly("PART", "PIECES"), Example: "  stead stock receive KES-B14-G25 144 --bin D2"}
	cmd.Flags().StringVar(&bin, "bin", "", "the bin they go into")
	needed(cmd, "bin")
	why := oneOf[inventory.Reason]{&reason, []inventory.Reason{inventory.Opening, inventory.Returned}}
	cmd.Flags().Var(why, "reason", "why they come: "+why.list())
	cmd.Flags().StringVar(&note, "note", "", "a remark")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		n, err := pieces(cmd, args[1])
		if err != nil {
			return err
		}
		return stockChange(cmd, w, args[0], func(ctx context.Context, tx pgx.Tx, key string, p inventory.Part) (string, error) {
			return fmt.Sprintf("%d of %s put into %s", n, p.Name, bin),
				inventory.PutIn(ctx, tx, key, p.ID, bin, n, reason, note)
		})
	})
	return cmd
}

func newStockUse() *cobra.Command {
	var job int64
	var place string
	cmd := &cobra.Command{Use: "use PART PIECES", Short: "Take pieces for a job; what is held for it goes first",
		Args: exactly("PART", "PIECES"), Example: "  stead stock use KES-B14-G25 18 --job 106 --place rear.hub.balls-left"}
	cmd.Flags().Int64Var(&job, "job", 0, "the job")
	cmd.Flags().StringVar(&place, "place", "bench", "where they go")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		n, err := pieces(cmd, args[1])
		if err != nil {
			return err
		}
		if job == 0 {
			return usage(cmd, fmt.Errorf("say for which job: --job NUMBER"))
		}
		return stockChange(cmd, w, args[0], func(ctx context.Context, tx pgx.Tx, key string, p inventory.Part) (string, error) {
			return fmt.Sprintf("%d of %s used on job %d", n, p.Name, job), inventory.UseOnJob(ctx, tx, key, job, p.ID, place, n)
		})
	})
	return cmd
}

func newStockSell() *cobra.Command {
	var note string
	cmd := &cobra.Command{Use: "sell PART PIECES", Short: "Take pieces that are sold over the counter, for no job", Args: exactly("PART", "PIECES"),
		Long: `Takes pieces off the shelf that a customer buys over the counter, for no job.
What is kept for a job is not sold. What comes back is put in as returned by
` + "`stead stock receive`" + `, and counts as not sold.`,
		Example: "  stead stock sell KES-B14-G25 2"}
	cmd.Flags().StringVar(&note, "note", "", "a remark")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		n, err := pieces(cmd, args[1])
		if err != nil {
			return err
		}
		return stockChange(cmd, w, args[0], func(ctx context.Context, tx pgx.Tx, key string, p inventory.Part) (string, error) {
			return fmt.Sprintf("%d of %s sold", n, p.Name), inventory.Sell(ctx, tx, key, p.ID, n, note)
		})
	})
	return cmd
}

func newStockMove() *cobra.Command {
	var from, to string
	cmd := &cobra.Command{Use: "move PART PIECES", Short: "Move pieces from bin to bin", Args: exactly("PART", "PIECES"),
		Example: "  stead stock move TAR-CH8 2 --from A1 --to A2"}
	cmd.Flags().StringVar(&from, "from", "", "the bin they are in")
	cmd.Flags().StringVar(&to, "to", "", "the bin they go to")
	needed(cmd, "from", "to")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		n, err := pieces(cmd, args[1])
		if err != nil {
			return err
		}
		return stockChange(cmd, w, args[0], func(ctx context.Context, tx pgx.Tx, key string, p inventory.Part) (string, error) {
			return fmt.Sprintf("%d of %s moved from %s to %s", n, p.Name, from, to), inventory.Move(ctx, tx, key, p.ID, from, to, n)
		})
	})
	return cmd
}

func newStockScrap() *cobra.Command {
	var bin, note string
	cmd := &cobra.Command{Use: "scrap PART PIECES", Short: "Take out pieces for good: broken, or past their time", Args: exactly("PART", "PIECES"),
		Long: `Takes pieces out of a bin for good: broken, or past their time. Pieces held for
a job are not scrapped, and what is scrapped counts as no sale.`,
		Example: "  stead stock scrap KES-B14-G25 4 --bin D2 --note \"rusted\""}
	cmd.Flags().StringVar(&bin, "bin", "", "the bin they are in")
	cmd.Flags().StringVar(&note, "note", "", "why they are scrapped")
	needed(cmd, "bin", "note")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		n, err := pieces(cmd, args[1])
		if err != nil {
			return err
		}
		return stockChange(cmd, w, args[0], func(ctx context.Context, tx pgx.Tx, key string, p inventory.Part) (string, error) {
			return fmt.Sprintf("%d of %s scrapped from %s: %s", n, p.Name, bin, note), inventory.Scrap(ctx, tx, key, p.ID, bin, n, note)
		})
	})
	return cmd
}

func newStockCount() *cobra.Command {
	var bin, note string
	cmd := &cobra.Command{Use: "count PART PIECES", Short: "Record a stocktake: what was counted in a bin", Args: exactly("PART", "PIECES"),
		Example: "  stead stock count KES-B14-G25 190 --bin D2 --note \"six rolled under the bench\""}
	cmd.Flags().StringVar(&bin, "bin", "", "the bin")
	needed(cmd, "bin")
	cmd.Flags().StringVar(&note, "note", "", "what explains the difference")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		n, err := pieces(cmd, args[1])
		if err != nil {
			return err
		}
		return stockChange(cmd, w, args[0], func(ctx context.Context, tx pgx.Tx, key string, p inventory.Part) (string, error) {
			difference, err := inventory.CountStock(ctx, tx, key, p.ID, bin, n, note)
			switch {
			case difference == 0:
				return fmt.Sprintf("%s in %s: %d, as the ledger says", p.Name, bin, n), err
			case difference > 0:
				return fmt.Sprintf("%s in %s: %d, %d more than the ledger said", p.Name, bin, n, difference), err
			}
			return fmt.Sprintf("%s in %s: %d, %d fewer than the ledger said", p.Name, bin, n, -difference), err
		})
	})
	return cmd
}

// stockChange books a change to one part's stock.
func stockChange(cmd *cobra.Command, w *workshop, part string, do func(ctx context.Context, tx pgx.Tx, key string, p inventory.Part) (string, error)) error {
	p, err := inventory.PartNamed(cmd.Context(), w, part)
	if err != nil {
		return err
	}
	type done struct {
		Part  int64  `json:"part"`
		Words string `json:"done"`
	}
	out, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, key string) (done, error) {
		words, err := do(ctx, tx, key, p)
		return done{p.ID, words}, err
	})
	if err != nil {
		return err
	}
	return show(cmd, out, func() { say(cmd, "%s", out.Words) })
}

func newStockHistory() *cobra.Command {
	cmd := &cobra.Command{Use: "history PART", Short: "Show every movement of a part", Args: exactly("PART"), Example: "  stead stock history KES-B14-G25"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		p, err := inventory.PartNamed(cmd.Context(), w, args[0])
		if err != nil {
			return err
		}
		movements, err := inventory.History(cmd.Context(), w, p.ID)
		if err != nil {
			return err
		}
		return show(cmd, movements, func() {
			say(cmd, "%s", p.Name)
			var rows [][]string
			for _, m := range movements {
				why := string(m.Reason)
				if m.JobID != nil {
					why += fmt.Sprintf(" on job %d", *m.JobID)
				}
				if m.OrderID != nil {
					why += fmt.Sprintf(" with order %d", *m.OrderID)
				}
				if m.Note != "" {
					why += ": " + m.Note
				}
				rows = append(rows, []string{m.At.In(zone()).Format("2006-01-02 15:04"), m.Bin, fmt.Sprintf("%+d", m.Pieces), strconv.Itoa(m.OnHand), why})
			}
			terminal.Table(cmd.OutOrStdout(), []string{"WHEN", "BIN", ">PIECES", ">ON HAND", "WHY"}, rows)
		})
	})
	return cmd
}

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
	"stead/pricing/billing"
	"stead/substitution"
)

func newStock() *cobra.Command {
	return group("stock", "What is on the shelf and how it came there",
		newStockList(), newStockReceive(), newStockUse(), newStockSell(), newStockMove(), newStockScrap(), newStockCount(), newStockHistory(), newStockOpen(), newStockTubs(),
		newStockKeep(), newStockLimit(), newStockExcess(), newStockSheet(), newStockTake())
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
				rows = append(rows, []string{l.Bin, strconv.FormatInt(l.PartID, 10), l.Name, strconv.Itoa(l.Pieces), strconv.Itoa(l.Stock.Reserved), strconv.Itoa(l.Stock.OnOrder), level})
			}
			if len(rows) == 0 {
				say(cmd, "nothing is on the shelf: `stead stock receive PART PIECES --bin BIN` puts in what is there")
				return
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
	cmd.Flags().Var(why, "reason", "why they come: "+why.List())
	cmd.Flags().StringVar(&note, "note", "", "a remark")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		n, err := pieces(cmd, args[1])
		if err != nil {
			return err
		}
		return stockChange(cmd, w, args[0], func(ctx context.Context, tx pgx.Tx, key string, p inventory.Part) (string, error) {
			return desk.PutInWords(n, p.Name, bin),
				inventory.PutIn(ctx, tx, key, p.ID, bin, n, reason, note)
		})
	})
	return cmd
}

func newStockUse() *cobra.Command {
	var job int64
	var place string
	var free bool
	cmd := &cobra.Command{Use: "use PART PIECES", Short: "Take pieces for a job; what is held for it goes first",
		Long: `Takes pieces for an approved job. What is held for it goes first. More than
that is beyond what was agreed: it is charged, and only as far as the customer
allowed it with ` + "`stead job approve --allow`" + `; --free gives it away.`,
		Args: exactly("PART", "PIECES"), Example: "  stead stock use KES-B14-G25 18 --job 106 --place rear.hub.balls-left"}
	cmd.Flags().Int64Var(&job, "job", 0, "the job")
	cmd.Flags().StringVar(&place, "place", string(inventory.Bench), "where they go")
	cmd.Flags().BoolVar(&free, "free", false, "what is beyond what was agreed costs the customer nothing")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		n, err := pieces(cmd, args[1])
		if err != nil {
			return err
		}
		if job == 0 {
			return usage(cmd, fmt.Errorf("say for which job: --job NUMBER"))
		}
		at := substitution.Place(place)
		if at != inventory.Bench {
			if _, err := substitution.SiteOf(at); err != nil {
				return usage(cmd, err)
			}
		}
		p, err := inventory.PartNamed(cmd.Context(), w, args[0])
		if err != nil {
			return err
		}
		return useOnJob(cmd, w, p, pricing.Use{JobID: job, PartID: p.ID, Place: at, Pieces: n, Free: free})
	})
	return cmd
}

func newStockSell() *cobra.Command {
	var note, paid string
	var dated billing.Dated
	cmd := &cobra.Command{Use: "sell PART PIECES [PART PIECES …]", Short: "Take pieces that are sold over the counter, for no job",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 2 && len(args)%2 == 0 {
				return nil
			}
			return exactly("PART", "PIECES")(cmd, args)
		},
		Long: `Takes pieces off the shelf that a customer buys over the counter, for no job.
What is kept for a job is not sold. With --paid it writes the till slip, which
is a bill with tax by rate and the next number. What comes back is put in as
returned by ` + "`stead stock receive`" + `, and counts as not sold.`,
		Example: "  stead stock sell KES-B14-G25 2\n  stead stock sell KES-B14-G25 2 TAR-CH9 1 --paid cash"}
	cmd.Flags().StringVar(&note, "note", "", "a remark")
	cmd.Flags().StringVar(&paid, "paid", "", "how it is paid: cash, card; writes the till slip")
	datedFlag(cmd, &dated)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		var sold []billing.Sold
		for i := 0; i < len(args); i += 2 {
			n, err := pieces(cmd, args[i+1])
			if err != nil {
				return err
			}
			p, err := inventory.PartNamed(cmd.Context(), w, args[i])
			if err != nil {
				return err
			}
			sold = append(sold, billing.Sold{Part: p, Pieces: n})
		}
		type slip struct {
			Words []string   `json:"done"`
			Slip  *desk.Bill `json:"slip,omitempty"`
		}
		out, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, key string) (out slip, err error) {
			for _, s := range sold {
				out.Words = append(out.Words, desk.SoldWords(s.Pieces, s.Part.Name))
				if paid == "" {
					if err := inventory.Sell(ctx, tx, key, s.Part.ID, s.Pieces, note); err != nil {
						return out, err
					}
				}
			}
			if paid == "" {
				return out, nil
			}
			b, err := billing.Sell(ctx, tx, key, sold, paid, billing.Moment{Now: now(), Dated: dated})
			if err != nil {
				return out, err
			}
			v, err := desk.LoadPaid(ctx, tx, b, now())
			out.Slip = &v
			return out, err
		})
		if err != nil {
			return err
		}
		return show(cmd, out, func() {
			for _, words := range out.Words {
				say(cmd, "%s", words)
			}
			if out.Slip != nil {
				say(cmd, "")
				printBill(cmd, *out.Slip)
			}
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
			return desk.MovedWords(n, p.Name, from, to), inventory.Move(ctx, tx, key, p.ID, from, to, n)
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
			return desk.ScrappedWords(n, p.Name, bin, note), inventory.Scrap(ctx, tx, key, p.ID, bin, n, note)
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
			return desk.CountedWords(n, p.Name, bin, difference), err
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
		PartID int64  `json:"part_id"`
		Words  string `json:"done"`
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
		v, err := desk.LoadLedger(cmd.Context(), w, args[0], now())
		if err != nil {
			return err
		}
		return show(cmd, v.Movements, func() {
			say(cmd, "%s", v.Part.Name)
			var rows [][]string
			for _, m := range v.Movements {
				rows = append(rows, []string{v.Stamp(m.At), m.Bin, fmt.Sprintf("%+d", m.Pieces), strconv.Itoa(m.OnHand), desk.MovementWords(m)})
			}
			terminal.Table(cmd.OutOrStdout(), []string{"WHEN", "BIN", ">PIECES", ">ON HAND", "WHY"}, rows)
		})
	})
	return cmd
}

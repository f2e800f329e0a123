package main

import (
	"strconv"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/pricing"
)

// newListHistory shows what a part has cost.
func newListHistory() *cobra.Command {
	cmd := &cobra.Command{Use: "history PART", Short: "Show what a part has cost at each supplier, and when", Args: exactly("PART"),
		Long: `Shows what a part has cost at each supplier and from which day on, a pack and a
piece. PART is its number, GTIN, the maker's or a supplier's code.`,
		Example: "  stead pricelist history HL10020"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		v, err := desk.LoadPrices(cmd.Context(), w, args[0], now())
		if err != nil {
			return err
		}
		return show(cmd, v, func() {
			say(cmd, "part %d: %s", v.Part.ID, v.Part.Name)
			if len(v.Sold) == 0 {
				say(cmd, "no supplier has offered it")
				return
			}
			say(cmd, "")
			printSold(cmd, v, true)
		})
	})
	return cmd
}

// printSold sets offers side by side: each one's price now or, with all, every price that it had.
func printSold(cmd *cobra.Command, v desk.Prices, all bool) {
	var rows [][]string
	for _, s := range v.Sold {
		prices := s.Prices
		if !all {
			prices = prices[:1]
		}
		for i, was := range prices {
			supplier, code, note := s.Supplier, s.Code, ""
			if i > 0 {
				supplier, code = "", ""
			} else if s.GoneAt != nil {
				note = "gone " + v.Date(*s.GoneAt)
			}
			rows = append(rows, []string{supplier, code, v.Date(was.AsOf), strconv.Itoa(was.Pack),
				pricing.Amount(s.Currency, was.Price), desk.PieceWords(s.Currency, was.APiece()), note})
		}
	}
	terminal.Table(cmd.OutOrStdout(), []string{"SUPPLIER", "CODE", "FROM", ">PACK", ">A PACK", ">A PIECE", "NOTE"}, rows)
	rows = nil
	for _, s := range v.Sold {
		for i, was := range s.Retail {
			if !all && i > 0 {
				break
			}
			rows = append(rows, []string{s.Supplier, s.Code, v.Date(was.AsOf), strconv.Itoa(was.Pack), pricing.Amount(s.Currency, was.Price), desk.PieceWords(s.Currency, was.APiece())})
		}
	}
	if len(rows) > 0 {
		say(cmd, "\nrecommended, with tax:")
		terminal.Table(cmd.OutOrStdout(), []string{"SUPPLIER", "CODE", "FROM", ">PACK", ">A PACK", ">A PIECE"}, rows)
	}
}

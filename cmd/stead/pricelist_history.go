package main

import (
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/inventory/catalogue"
	"stead/pricing"
)

// newListHistory shows what a part has cost.
func newListHistory() *cobra.Command {
	cmd := &cobra.Command{Use: "history PART", Short: "Show what a part has cost at each supplier, and when", Args: exactly("PART"),
		Long: `Shows what a part has cost at each supplier and from which day on, a pack and a
piece. PART is its number, GTIN, the maker's or a supplier's code.`,
		Example: "  stead pricelist history HL10020"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		part, err := inventory.PartNamed(cmd.Context(), w, args[0])
		if err != nil {
			return err
		}
		sold, err := catalogue.SoldBy(cmd.Context(), w, part.ID)
		if err != nil {
			return err
		}
		answer := struct {
			Part inventory.Part   `json:"part"`
			Sold []catalogue.Sold `json:"offers"`
		}{part, append([]catalogue.Sold{}, sold...)}
		return show(cmd, answer, func() {
			say(cmd, "part %d: %s", part.ID, part.Name)
			if len(sold) == 0 {
				say(cmd, "no supplier has offered it")
				return
			}
			say(cmd, "")
			printSold(cmd, sold, true)
		})
	})
	return cmd
}

// printSold sets offers side by side: each one's price now or, with all, every price that it had.
func printSold(cmd *cobra.Command, sold []catalogue.Sold, all bool) {
	var rows [][]string
	for _, s := range sold {
		prices := s.Prices
		if !all {
			prices = prices[:1]
		}
		for i, was := range prices {
			supplier, code, note := s.Supplier, s.Code, ""
			if i > 0 {
				supplier, code = "", ""
			} else if s.GoneAt != nil {
				note = "gone " + s.GoneAt.In(zone()).Format("2006-01-02")
			}
			rows = append(rows, []string{supplier, code, was.AsOf.In(zone()).Format("2006-01-02"), strconv.Itoa(was.Pack),
				pricing.Amount(s.Currency, was.Price), aPiece(s.Currency, was), note})
		}
	}
	terminal.Table(cmd.OutOrStdout(), []string{"SUPPLIER", "CODE", "FROM", ">PACK", ">A PACK", ">A PIECE", "NOTE"}, rows)
	rows = nil
	for _, s := range sold {
		for i, was := range s.Retail {
			if !all && i > 0 {
				break
			}
			rows = append(rows, []string{s.Supplier, s.Code, was.AsOf.In(zone()).Format("2006-01-02"), strconv.Itoa(was.Pack), pricing.Amount(s.Currency, was.Price), aPiece(s.Currency, was)})
		}
	}
	if len(rows) > 0 {
		say(cmd, "\nrecommended, with tax:")
		terminal.Table(cmd.OutOrStdout(), []string{"SUPPLIER", "CODE", "FROM", ">PACK", ">A PACK", ">A PIECE"}, rows)
	}
}

// aPiece is the price of a piece; a ball costs less than a penny.
func aPiece(currency string, w catalogue.Was) string { return ofAPiece(currency, w.APiece()) }

// ofAPiece writes a price of one piece, with more decimals where a piece costs less than one of the currency.
func ofAPiece(currency string, piece decimal.Decimal) string {
	if piece.LessThan(decimal.NewFromInt(1)) && !piece.Equal(piece.Truncate(2)) {
		return strings.TrimSuffix(pricing.Amount(currency, decimal.Zero), "0.00") + piece.StringFixed(4)
	}
	return pricing.Amount(currency, piece)
}

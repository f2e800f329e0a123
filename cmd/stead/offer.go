package main

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/inventory"
)

// newSupplierOffer records one line of a supplier's list by hand.
func newSupplierOffer() *cobra.Command {
	var o inventory.Offer
	var prices string
	o.Stock, o.Pack, o.MinimumPacks = inventory.Unknown, 1, 1
	cmd := &cobra.Command{Use: "offer SUPPLIER CODE PART", Short: "Record a supplier's own code, price and stock for a part",
		Args:    exactly("SUPPLIER", "CODE", "PART"),
		Example: "  stead supplier offer harbour HL-4711 12 --prices 19.90\n  stead supplier offer gantry G-900 KES-B14-G25 --pack 144 \\\n      --prices 1:9.80,5:8.90 --stock in-stock"}
	cmd.Flags().StringVar(&prices, "prices", "", "price of a pack before tax, or prices by number of packs: 1:9.80,5:8.90")
	cmd.Flags().Var(count{&o.Pack}, "pack", "pieces in a pack")
	cmd.Flags().Var(count{&o.MinimumPacks}, "minimum", "fewest packs sold")
	signal := oneOf[inventory.Signal]{&o.Stock, []inventory.Signal{inventory.InStock, inventory.Low, inventory.ToOrder, inventory.Unknown}}
	cmd.Flags().Var(signal, "stock", "what it says of its stock: "+signal.List())
	cmd.Flags().StringVar(&o.GTIN, "gtin", "", "GTIN-13 (the bar code) in the supplier's list")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		var err error
		if o.Breaks, err = priceBreaks(cmd, prices); err != nil {
			return err
		}
		s, err := inventory.SupplierByCode(cmd.Context(), w, args[0])
		if err != nil {
			return err
		}
		part, err := inventory.PartNamed(cmd.Context(), w, args[2])
		if err != nil {
			return err
		}
		o.SupplierID, o.Code, o.PartID, o.AsOf = s.ID, args[1], part.ID, now()
		kept, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (inventory.Offer, error) {
			return inventory.PutOffer(ctx, tx, o)
		})
		if err != nil {
			return err
		}
		return show(cmd, kept, func() { say(cmd, "%s offers %s as %s", s.Name, part.Name, kept.Code) })
	})
	return cmd
}

// priceBreaks reads "19.90" or "1:9.80,5:8.90".
func priceBreaks(cmd *cobra.Command, text string) ([]inventory.Break, error) {
	if text == "" {
		return nil, usage(cmd, fmt.Errorf("--prices is needed: 19.90, or 1:9.80,5:8.90"))
	}
	var out []inventory.Break
	for _, item := range strings.Split(text, ",") {
		from, price, tiered := strings.Cut(item, ":")
		if !tiered {
			from, price = "1", item
		}
		packs, err := strconv.Atoi(from)
		if err != nil {
			return nil, usage(cmd, fmt.Errorf("--prices %q: a price holds from a whole number of packs on, not from %q", text, from))
		}
		amount, err := number(price)
		if err != nil || !amount.IsPositive() {
			return nil, usage(cmd, fmt.Errorf("--prices %q: %q is no price; write 19.90, or 1:9.80,5:8.90", text, price))
		}
		out = append(out, inventory.Break{FromPacks: packs, Price: amount})
	}
	return out, nil
}

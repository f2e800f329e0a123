package main

import (
	"context"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/catalogue"
)

// newListTakeBack undoes the last load of a supplier.
func newListTakeBack() *cobra.Command {
	cmd := &cobra.Command{Use: "takeback SUPPLIER", Short: "Take back the last list that was loaded", Args: exactly("SUPPLIER"),
		Long: `Undoes the last load of a supplier's list: offers, prices and what waits are as
they were before it. What has been measured, ordered or said since stays. Only
the last load can be taken back.`,
		Example: "  stead pricelist takeback harbour"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		supplier, err := inventory.SupplierByCode(cmd.Context(), w, args[0])
		if err != nil {
			return err
		}
		back, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (catalogue.TakenBack, error) {
			return catalogue.TakeBack(ctx, tx, supplier.ID)
		})
		if err != nil {
			return err
		}
		return show(cmd, back, func() {
			say(cmd, "%s", desk.TakenBackWords(supplier.Name, back, desk.At(now())))
		})
	})
	return cmd
}

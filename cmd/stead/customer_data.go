package main

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"slices"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/inventory"
	"stead/pricing/personal"
)

func newCustomerData() *cobra.Command {
	var out string
	var replace bool
	cmd := &cobra.Command{Use: "data CUSTOMER", Short: "Write all that is kept of a customer, for them to have", Args: exactly("CUSTOMER"),
		Long: `Writes all that the shop keeps of a customer into a .zip: data.json with their
bikes, jobs, quotes, bills and whatever was said, and the photos of their bikes.`,
		Example: "  stead customer data 1 --out falkner.zip"}
	cmd.Flags().StringVar(&out, "out", "", "where to write it, such as falkner.zip")
	cmd.Flags().BoolVar(&replace, "replace", false, "write over a file that is there already")
	needed(cmd, "out")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := numbered(cmd, "customer", args[0])
		if err != nil {
			return err
		}
		pool, err := w.open(cmd.Context())
		if err != nil {
			return err
		}
		var known personal.Known
		if err := pgx.BeginTxFunc(cmd.Context(), pool, pgx.TxOptions{IsoLevel: pgx.RepeatableRead, AccessMode: pgx.ReadOnly}, func(tx pgx.Tx) error {
			known, err = personal.Data(cmd.Context(), tx, id)
			return err
		}); err != nil {
			return err
		}
		content, err := zipKnown(known)
		if err != nil {
			return err
		}
		if err := writeWhole(out, content, replace); err != nil {
			return err
		}
		return show(cmd, map[string]any{"file": out, "customer": id, "photos": len(known.Photos)}, func() { say(cmd, "all that is kept of customer %d is in %s", id, out) })
	})
	return cmd
}

func zipKnown(known personal.Known) ([]byte, error) {
	data, err := json.MarshalIndent(known.Sections, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("write what is kept: %w", err)
	}
	files := map[string][]byte{"data.json": data}
	maps.Copy(files, known.Photos)
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, name := range slices.Sorted(maps.Keys(files)) {
		f, err := z.Create(name)
		if err == nil {
			_, err = f.Write(files[name])
		}
		if err != nil {
			return nil, fmt.Errorf("write %s: %w", name, err)
		}
	}
	if err := z.Close(); err != nil {
		return nil, fmt.Errorf("write what is kept: %w", err)
	}
	return out.Bytes(), nil
}

func newCustomerForget() *cobra.Command {
	var yes bool
	cmd := &cobra.Command{Use: "forget CUSTOMER", Short: "Forget a customer who asks for it, as far as bills allow", Args: exactly("CUSTOMER"),
		Long: `Forgets a customer for good: name, telephone and address, their words, their
photos, to where messages went, and the history's mention of them. Bills, credit
notes and payments must be kept and name whom they were written for; what was
found and fitted stays without a name. It is kept that it was done, by whom and
when, and not what it was. Backups made before still hold it. A name of fewer
than six letters, or one that another customer, a supplier or a part goes by
too, is taken out of what concerned their jobs and bikes, and not out of free
words about something else, such as the reason of an order: look for those
yourself. Nothing is done while a job is open or money is due, nor without
--yes.`,
		Example: "  stead customer forget 1 --yes"}
	cmd.Flags().BoolVar(&yes, "yes", false, "do it: it cannot be taken back")
	by := addHand(cmd)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := numbered(cmd, "customer", args[0])
		if err != nil {
			return err
		}
		if !yes {
			return usage(cmd, fmt.Errorf("this cannot be taken back: add --yes to forget customer %d", id))
		}
		if _, err := correct(cmd, w, by, func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) (bool, error) {
			return true, personal.Forget(ctx, tx, id, hand, now())
		}); err != nil {
			return err
		}
		return show(cmd, map[string]int64{"forgotten": id}, func() { say(cmd, "customer %d is forgotten; their bills and payments are kept, as they must be", id) })
	})
	return cmd
}

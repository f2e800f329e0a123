package main

import (
	"context"
	"fmt"
	"strconv"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/inventory/catalogue"
)

// newListAlike proposes parts of two suppliers that may be one.
func newListAlike() *cobra.Command {
	limit := mostShown
	cmd := &cobra.Command{Use: "alike SUPPLIER", Short: "List parts that may be the same as other suppliers'", Args: exactly("SUPPLIER"),
		Example: "  stead pricelist alike northmoor"}
	cmd.Flags().Var(count{&limit}, "limit", "at most so many")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		supplier, err := inventory.SupplierByCode(cmd.Context(), w, args[0])
		if err != nil {
			return err
		}
		list, err := catalogue.Likely(cmd.Context(), w, supplier.ID, limit)
		if err != nil {
			return err
		}
		if list == nil {
			list = []catalogue.Alike{}
		}
		return show(cmd, list, func() {
			if len(list) == 0 {
				say(cmd, "no part of %s's looks like another supplier's that it is not joined with", supplier.Name)
				return
			}
			var rows [][]string
			for _, a := range list {
				rows = append(rows, []string{strconv.FormatInt(a.PartID, 10), a.Name, strconv.FormatInt(a.OtherID, 10), a.Other, strconv.Itoa(a.Shared)})
			}
			terminal.Table(cmd.OutOrStdout(), []string{">PART", "NAME", ">OTHER", "NAME", ">AGREE IN"}, rows)
			say(cmd, "\nif two are one: stead pricelist same OTHER PART\nif they differ: stead pricelist differ OTHER PART")
		})
	})
	return cmd
}

// twoParts are the two parts that a command names.
func twoParts(ctx context.Context, w *workshop, args []string) (a, b inventory.Part, err error) {
	if a, err = inventory.PartNamed(ctx, w, args[0]); err != nil {
		return a, b, err
	}
	b, err = inventory.PartNamed(ctx, w, args[1])
	return a, b, err
}

// newListSame makes one part of two.
func newListSame() *cobra.Command {
	cmd := &cobra.Command{Use: "same KEEP OTHER", Short: "Confirm that two parts are one, and keep the first", Args: exactly("KEEP", "OTHER"),
		Example: "  stead pricelist same 12 431"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		ctx := cmd.Context()
		keep, other, err := twoParts(ctx, w, args)
		if err != nil {
			return err
		}
		_, err = change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (int64, error) {
			return catalogue.Merge(ctx, tx, keep.ID, other.ID)
		})
		if err != nil {
			return err
		}
		sold, err := catalogue.SoldBy(ctx, w, keep.ID)
		if err != nil {
			return err
		}
		answer := struct {
			Part  inventory.Part   `json:"part"`
			Other int64            `json:"other_id"`
			Sold  []catalogue.Sold `json:"offers"`
		}{keep, other.ID, sold}
		return show(cmd, answer, func() {
			say(cmd, "parts %d and %d are one: part %d, %s\n", keep.ID, other.ID, keep.ID, keep.Name)
			printSold(cmd, sold, false)
			say(cmd, "\nto undo it: stead pricelist split %d", other.ID)
		})
	})
	return cmd
}

// newListDiffer notes that two parts only look like one.
func newListDiffer() *cobra.Command {
	cmd := &cobra.Command{Use: "differ PART OTHER", Short: "Say that two parts are not one, so that they are not listed again", Args: exactly("PART", "OTHER"),
		Example: "  stead pricelist differ 12 431"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		a, b, err := twoParts(cmd.Context(), w, args)
		if err != nil {
			return err
		}
		ids, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) ([]int64, error) {
			return []int64{a.ID, b.ID}, catalogue.Differ(ctx, tx, a.ID, b.ID)
		})
		if err != nil {
			return err
		}
		return show(cmd, map[string][]int64{"differ": ids}, func() { say(cmd, "parts %d and %d stay two", a.ID, b.ID) })
	})
	return cmd
}

// newListSplit undoes a merge.
func newListSplit() *cobra.Command {
	cmd := &cobra.Command{Use: "split [PART]", Short: "Make two parts again of what was made one, or list such parts",
		Example: "  stead pricelist split\n  stead pricelist split 431",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return usage(cmd, fmt.Errorf("%q is one argument too many", args[1]))
			}
			return nil
		}}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		if len(args) == 0 {
			return showMerges(cmd, w)
		}
		part, err := inventory.PartNamed(cmd.Context(), w, args[0])
		if err != nil {
			return err
		}
		m, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (catalogue.Merged, error) {
			m, ok, err := catalogue.MergeOf(ctx, tx, part.ID)
			if err != nil {
				return m, err
			}
			if !ok {
				return m, fmt.Errorf("part %d was not made one with another: `stead pricelist split` lists those that were", part.ID)
			}
			return m, catalogue.Split(ctx, tx, m.ID)
		})
		if err != nil {
			return err
		}
		return show(cmd, m, func() { say(cmd, "part %d stands for itself again; part %d is %s", m.OtherID, m.PartID, m.Name) })
	})
	return cmd
}

func showMerges(cmd *cobra.Command, w *workshop) error {
	list, err := catalogue.Merges(cmd.Context(), w)
	if err != nil {
		return err
	}
	if list == nil {
		list = []catalogue.Merged{}
	}
	return show(cmd, list, func() {
		if len(list) == 0 {
			say(cmd, "no two parts were made one")
			return
		}
		var rows [][]string
		for _, m := range list {
			rows = append(rows, []string{strconv.FormatInt(m.OtherID, 10), m.Other, strconv.FormatInt(m.PartID, 10), m.Name, m.MergedAt.Local().Format("2006-01-02")})
		}
		terminal.Table(cmd.OutOrStdout(), []string{">PART", "NAME", ">IS NOW", "NAME", "SINCE"}, rows)
	})
}

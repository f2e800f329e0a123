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
				say(cmd, "no part from %s looks like another supplier's that it is not joined with", supplier.Name)
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
		Example: "  stead pricelist same 230 232"}
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
		v, err := desk.LoadPrices(ctx, w, strconv.FormatInt(keep.ID, 10), now())
		if err != nil {
			return err
		}
		answer := struct {
			Part  inventory.Part   `json:"part"`
			Other int64            `json:"other_id"`
			Sold  []catalogue.Sold `json:"offers"`
		}{keep, other.ID, v.Sold}
		return show(cmd, answer, func() {
			say(cmd, "parts %d and %d are one: part %d, %s\n", keep.ID, other.ID, keep.ID, keep.Name)
			printSold(cmd, v, false)
			say(cmd, "\nto undo it: stead pricelist split %d", other.ID)
		})
	})
	return cmd
}

// newListDiffer notes that two parts only look like one.
func newListDiffer() *cobra.Command {
	cmd := &cobra.Command{Use: "differ PART OTHER", Short: "Say that two parts are not one, so that they are not listed again", Args: exactly("PART", "OTHER"),
		Example: "  stead pricelist differ 230 232"}
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

// newListSplit undoes a merge, or parts what a list joined.
func newListSplit() *cobra.Command {
	cmd := &cobra.Command{Use: "split [PART | SUPPLIER CODE]", Short: "Part what was made one; list what was joined wrongly",
		Long: `Without arguments lists the parts that were made one, and the lines that a list
joined with a part that they cannot be of. PART, the number of a part that was
made one with another, stands for itself again; a supplier's line, named by
SUPPLIER and CODE, gets a part of its own.`,
		Example: "  stead pricelist split\n  stead pricelist split 232\n  stead pricelist split harbour HL10020",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 2 {
				return usage(cmd, fmt.Errorf("%q is one argument too many", args[2]))
			}
			return nil
		}}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		switch len(args) {
		case 0:
			return showMerges(cmd, w)
		case 2:
			return splitOffer(cmd, w, args[0], args[1])
		}
		m, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (catalogue.Merged, error) {
			m, ok, err := catalogue.MergeNamed(ctx, tx, args[0])
			if err != nil {
				return m, err
			}
			if !ok {
				return m, fmt.Errorf("part %s was not made one with another: `stead pricelist split` lists those that were", args[0])
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

// splitOffer gives a supplier's line a part of its own.
func splitOffer(cmd *cobra.Command, w *workshop, code, line string) error {
	supplier, err := inventory.SupplierByCode(cmd.Context(), w, code)
	if err != nil {
		return err
	}
	own, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (inventory.Part, error) {
		return catalogue.PartOffer(ctx, tx, supplier.ID, line)
	})
	if err != nil {
		return err
	}
	return show(cmd, own, func() { say(cmd, "%s of %s is part %d now: %s", line, supplier.Name, own.ID, own.Name) })
}

func showMerges(cmd *cobra.Command, w *workshop) error {
	merges, err := catalogue.Merges(cmd.Context(), w)
	if err != nil {
		return err
	}
	joined, err := catalogue.Joined(cmd.Context(), w)
	if err != nil {
		return err
	}
	answer := struct {
		Merged []catalogue.Merged       `json:"merged"`
		Joined []catalogue.DoubtfulJoin `json:"joined"` // by a list, and doubtful
	}{append([]catalogue.Merged{}, merges...), append([]catalogue.DoubtfulJoin{}, joined...)}
	return show(cmd, answer, func() {
		if len(merges) == 0 {
			say(cmd, "no two parts were made one")
		} else {
			var rows [][]string
			for _, m := range merges {
				rows = append(rows, []string{strconv.FormatInt(m.OtherID, 10), m.Other, strconv.FormatInt(m.PartID, 10), m.Name, desk.At(now()).Date(m.MergedAt)})
			}
			terminal.Table(cmd.OutOrStdout(), []string{">PART", "NAME", ">IS NOW", "NAME", "SINCE"}, rows)
		}
		if len(joined) == 0 {
			return
		}
		say(cmd, "\n! joined by a code that they share, and not one by what they say:")
		var rows [][]string
		for _, j := range joined {
			rows = append(rows, []string{strconv.FormatInt(j.PartID, 10), j.Part, j.Supplier, j.Code, j.Description, j.Why})
		}
		terminal.Table(cmd.OutOrStdout(), []string{">PART", "NAME", "SUPPLIER", "CODE", "LINE", "WHICH"}, rows)
		say(cmd, "\nto part one: stead pricelist split SUPPLIER CODE")
	})
}

package main

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/calendar"
)

func newShopClosed() *cobra.Command {
	return closedCommand("Record days on which the workshop is closed",
		"  stead shop closed 2026-12-24 2027-01-02 --why stocktaking", "FIRST", "LAST")
}

func newSupplierClosed() *cobra.Command {
	return closedCommand("Record days on which a supplier is closed",
		"  stead supplier closed harbour 2026-12-24 2027-01-02 --why stocktaking", "CODE", "FIRST", "LAST")
}

func newShopReopen() *cobra.Command {
	return reopenCommand("  stead shop reopen 2026-12-28", "DAY")
}

func newSupplierReopen() *cobra.Command {
	return reopenCommand("  stead supplier reopen harbour 2026-12-28", "CODE", "DAY")
}

// closedCommand is the workshop's, or with a CODE among the names of its arguments a supplier's.
func closedCommand(short, example string, names ...string) *cobra.Command {
	var why string
	cmd := &cobra.Command{Use: "closed " + strings.Join(names[:len(names)-1], " ") + " [LAST]", Short: short, Example: example,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == len(names)-1 {
				return nil // a single day
			}
			return exactly(names...)(cmd, args)
		}}
	cmd.Flags().StringVar(&why, "why", "", "the reason, such as stocktaking")
	needed(cmd, "why")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		code, days := args[:len(names)-2], args[len(names)-2:]
		first, err := calendar.ParseDay(days[0])
		if err != nil {
			return usage(cmd, fmt.Errorf("FIRST: %w", err))
		}
		last, err := calendar.ParseDay(days[len(days)-1])
		if err != nil {
			return usage(cmd, fmt.Errorf("LAST: %w", err))
		}
		closure := calendar.Closure{First: first, Last: last, Reason: why}
		_, err = change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (calendar.Closure, error) {
			supplier, err := supplierNamed(ctx, tx, code)
			if err != nil {
				return closure, err
			}
			return closure, inventory.Close(ctx, tx, supplier, closure)
		})
		if err != nil {
			return err
		}
		if asJSON, _ := cmd.Flags().GetBool("json"); asJSON {
			return show(cmd, closure, nil)
		}
		say(cmd, "closed %s", closure.Words(today()))
		return printLate(cmd, w)
	})
	return cmd
}

func reopenCommand(example string, names ...string) *cobra.Command {
	cmd := &cobra.Command{Use: "reopen " + strings.Join(names, " "), Short: "Take back or shorten a closure: open again from DAY on", Example: example,
		Args: exactly(names...)}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		code := args[:len(names)-1]
		day, err := calendar.ParseDay(args[len(code)])
		if err != nil {
			return usage(cmd, fmt.Errorf("DAY: %w", err))
		}
		_, err = change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (calendar.Day, error) {
			supplier, err := supplierNamed(ctx, tx, code)
			if err != nil {
				return day, err
			}
			return day, inventory.Reopen(ctx, tx, supplier, day)
		})
		if err != nil {
			return err
		}
		return show(cmd, map[string]calendar.Day{"open_from": day}, func() { say(cmd, "open again from %s", day.Words(today())) })
	})
	return cmd
}

// supplierNamed is the number of the supplier whose code is given, none where none is.
func supplierNamed(ctx context.Context, tx pgx.Tx, code []string) (*int64, error) {
	if len(code) == 0 {
		return nil, nil
	}
	s, err := inventory.SupplierByCode(ctx, tx, code[0])
	return &s.ID, err
}

// weekdays is a flag that takes days of the week by their names or the first three letters.
type weekdays struct{ into *[]time.Weekday }

func (w weekdays) String() string {
	if w.into == nil {
		return ""
	}
	var words []string
	for _, d := range *w.into {
		words = append(words, d.String())
	}
	return strings.Join(words, ",")
}

func (w weekdays) Type() string { return "weekdays" }

func (w weekdays) Set(text string) error {
	*w.into = []time.Weekday{}
	if text == "none" {
		return nil
	}
	for name := range strings.SplitSeq(text, ",") {
		name = strings.ToLower(strings.TrimSpace(name))
		i := slices.IndexFunc(desk.Week, func(d time.Weekday) bool {
			full := strings.ToLower(d.String())
			return name == full || name == full[:3]
		})
		if i < 0 {
			return fmt.Errorf("%q is no day of the week: write saturday,sunday or sat,sun, or none", name)
		}
		*w.into = append(*w.into, desk.Week[i])
	}
	return nil
}

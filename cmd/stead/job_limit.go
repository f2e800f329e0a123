package main

import (
	"context"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/calendar"
	"stead/pricing"
	"stead/substitution"
)

// newJobLimit sets what the customer, or the mechanic, will not have.
func newJobLimit() *cobra.Command {
	var given limitFlags
	cmd := &cobra.Command{Use: "limit JOB", Short: "Say what a job must keep to: date, money, parts, suppliers", Args: exactly("JOB"),
		Example: "  stead job limit 104 --same-finish=false --not-supplier northmoor"}
	f := cmd.Flags()
	f.StringVar(&given.latest, "latest", "", "parts must be here by this day; none for any day")
	f.StringVar(&given.most, "most", "", "most to spend on it, tax included; none for any sum")
	f.BoolVar(&given.sameFinish, "same-finish", false, "it must look as before")
	f.BoolVar(&given.sameFunction, "no-function-change", false, "it must ride and shift as before")
	f.StringArrayVar(&given.onlyParts, "only-part", nil, "PLACE=PART: this part for the place and no other")
	f.StringArrayVar(&given.notParts, "not-part", nil, "not this part")
	f.StringVar(&given.onlySupplier, "only-supplier", "", "what the shelf has not comes from here; shelf: all from the shelf")
	f.StringArrayVar(&given.notSuppliers, "not-supplier", nil, "nothing from here; shelf: nothing from the shelf")
	f.IntVar(&given.mostSuppliers, "most-suppliers", 0, "parts from so many at most; 0 for any number")
	f.BoolVar(&given.anew, "anew", false, "forget what was set before, what was declined too")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		if !anyFlag(cmd) {
			return showLimits(cmd, w, id)
		}
		if err := given.read(cmd); err != nil {
			return err
		}
		_, err = change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (pricing.Limits, error) {
			return pricing.Limit(ctx, tx, id, func(l pricing.Limits) (pricing.Limits, error) { return given.on(cmd, tx, l) })
		})
		if err != nil {
			return err
		}
		return showLimits(cmd, w, id)
	})
	return cmd
}

func showLimits(cmd *cobra.Command, w *workshop, id int64) error {
	v, err := desk.LoadLimits(cmd.Context(), w, id, now())
	if err != nil {
		return err
	}
	return show(cmd, v, func() {
		words := v.Words
		if len(words) == 0 {
			words = []string{"no limits"}
		}
		say(cmd, "job %d: %s", id, strings.Join(words, "; "))
	})
}

// limitFlags are the limits as they are typed.
type limitFlags struct {
	latest, most             string
	sameFinish, sameFunction bool
	onlyParts, notParts      []string
	onlySupplier             string
	notSuppliers             []string
	mostSuppliers            int
	anew                     bool

	latestDay *calendar.Day // what read makes of the texts
	mostMoney decimal.NullDecimal
	onlyAt    []substitution.Place // for each of onlyParts
	onlyNames []string
}

// read judges the texts, apart from the parts and suppliers that they name.
func (f *limitFlags) read(cmd *cobra.Command) (err error) {
	if f.latestDay, err = comingDay(cmd, "--latest", strings.TrimPrefix(f.latest, "none")); err != nil {
		return err
	}
	if f.mostMoney, err = amount(cmd, "--most", strings.TrimPrefix(f.most, "none")); err != nil {
		return err
	}
	for _, pin := range f.onlyParts {
		place, name, ok := strings.Cut(pin, "=")
		if !ok {
			return usage(cmd, fmt.Errorf("--only-part is PLACE=PART, such as crank.ring=COR-R110-50O-B, not %q", pin))
		}
		site, err := substitution.SiteOf(substitution.Place(place))
		if err != nil {
			return usage(cmd, err)
		}
		f.onlyAt, f.onlyNames = append(f.onlyAt, site.Place), append(f.onlyNames, name)
	}
	return nil
}

// anyFlag reports whether any flag of a command's own was typed.
func anyFlag(cmd *cobra.Command) bool {
	set := false
	cmd.LocalNonPersistentFlags().VisitAll(func(f *pflag.Flag) { set = set || f.Changed })
	return set
}

// on puts the limits that are given on top of those that are set.
func (f limitFlags) on(cmd *cobra.Command, db inventory.DB, l pricing.Limits) (pricing.Limits, error) {
	if f.anew {
		l = pricing.Limits{}
	}
	set := cmd.Flags().Changed
	if set("latest") {
		l.Latest = f.latestDay
	}
	if set("most") {
		l.MostToSpend = f.mostMoney
	}
	if set("same-finish") {
		l.SameFinish = f.sameFinish
	}
	if set("no-function-change") {
		l.NoFunctionChange = f.sameFunction
	}
	if set("only-supplier") {
		l.OnlySupplier = f.onlySupplier
	}
	if set("most-suppliers") {
		l.MostSuppliers = f.mostSuppliers
	}
	l.NotSuppliers = append(l.NotSuppliers, f.notSuppliers...)
	for _, name := range f.notParts {
		part, err := inventory.PartNamed(cmd.Context(), db, name)
		if err != nil {
			return l, err
		}
		l.NotParts = append(l.NotParts, part.ID)
	}
	for i, name := range f.onlyNames {
		part, err := inventory.PartNamed(cmd.Context(), db, name)
		if err != nil {
			return l, err
		}
		if l.OnlyParts == nil {
			l.OnlyParts = map[substitution.Place]int64{}
		}
		l.OnlyParts[f.onlyAt[i]] = part.ID
	}
	return l, nil
}

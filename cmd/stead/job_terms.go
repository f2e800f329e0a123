package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/spf13/cobra"

	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
	"stead/substitution/inspection"
)

// jobAndPlace reads the two arguments of a command about one place of a job.
func jobAndPlace(cmd *cobra.Command, args []string) (int64, substitution.Site, error) {
	id, err := jobNumber(cmd, args[0])
	if err != nil {
		return 0, substitution.Site{}, err
	}
	site, err := substitution.SiteOf(substitution.Place(args[1]))
	if err != nil {
		return 0, site, usage(cmd, err)
	}
	return id, site, nil
}

// done is what a command did, in words.
type done struct {
	Job   int64  `json:"job"`
	Words string `json:"done"`
}

// jobChange changes one thing about a job and says so.
func jobChange(cmd *cobra.Command, w *workshop, id int64, words string, do func(ctx context.Context, tx pgx.Tx) error) error {
	out, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (done, error) { return done{id, words}, do(ctx, tx) })
	if err != nil {
		return err
	}
	return show(cmd, out, func() { say(cmd, "%s", out.Words) })
}

func newJobLeaveOut() *cobra.Command {
	var why string
	var back bool
	cmd := &cobra.Command{Use: "leave-out JOB PLACE", ValidArgsFunction: complete(nil, placeNames), Short: "Leave a place out of the quote, and remember it as advised",
		Args: exactly("JOB", "PLACE"), Example: "  stead job leave-out 101 crank.outer-ring --why \"next spring\"\n  stead job leave-out 101 crank.outer-ring --take-back"}
	cmd.Flags().StringVar(&why, "why", "", "why not now")
	cmd.Flags().BoolVar(&back, "take-back", false, "it is done now after all")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, site, err := jobAndPlace(cmd, args)
		if err != nil {
			return err
		}
		if back {
			return jobChange(cmd, w, id, site.Words+" is done now", func(ctx context.Context, tx pgx.Tx) error { return pricing.TakeIn(ctx, tx, id, site.Place) })
		}
		a, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (pricing.Advice, error) {
			return pricing.LeaveOut(ctx, tx, id, site.Place, why, now())
		})
		if err != nil {
			return err
		}
		return show(cmd, a, func() { say(cmd, "left out, and remembered as advised: %s", a.Words) })
	})
	return cmd
}

func newJobIfOpened() *cobra.Command {
	var most string
	cmd := &cobra.Command{Use: "if-opened JOB PLACE ACTION", ValidArgsFunction: complete(nil, placeNames), Short: "Agree beforehand on what is done only if it proves so",
		Long: `Says what is done at a place only if it proves so once it is opened, and for how
much at most, tax included. It stands on the quote; the customer who approves
the quote approves it too. What is read there after the approval decides:
` + "`stead job amend`" + ` is then approved at once, as long as it stays below.`,
		Args: exactly("JOB", "PLACE", "ACTION"), Example: "  stead job if-opened 101 chain replace --most 45\n  stead job if-opened 101 chain replace --most 0"}
	cmd.Flags().StringVar(&most, "most", "", "its price at most, tax included; 0 takes it away")
	needed(cmd, "most")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, site, err := jobAndPlace(cmd, args)
		if err != nil {
			return err
		}
		action, err := inspection.ParseAction(args[2])
		if err != nil {
			return usage(cmd, err)
		}
		price, err := amount(cmd, "--most", most)
		if err != nil {
			return err
		}
		o := pricing.IfOpened{Place: site.Place, Action: action, Most: price.Decimal}
		shop, err := inventory.LoadShop(cmd.Context(), w)
		if err != nil {
			return err
		}
		words := fmt.Sprintf("if it proves so once opened: %s the %s, at most %s", action, site.Words, pricing.Amount(shop.Currency, price.Decimal))
		if price.Decimal.IsZero() {
			words = "nothing is agreed beforehand of the " + site.Words
		}
		return jobChange(cmd, w, id, words, func(ctx context.Context, tx pgx.Tx) error { return pricing.SetIfOpened(ctx, tx, id, o, now()) })
	})
	return cmd
}

func newJobOwn() *cobra.Command {
	var o pricing.OwnPart
	var drop bool
	origin := substitution.Measured
	cmd := &cobra.Command{Use: "own JOB PLACE [DIMENSION=VALUE …]", ValidArgsFunction: complete(nil, placeNames), Short: "Record a part of the customer's own",
		Long: `Records a part of the customer's own at a place: brought to be fitted, or with
--put-back taken off and put back. Nothing is sold there; the work stays on the
quote. Of what was brought as much may be told as is known: the rest of the job
must go with it, and what cannot go on is refused.`,
		Args: atLeast("JOB", "PLACE"), Example: "  stead job own 101 crank.outer-ring teeth=48 \\\n      --words \"from my spares box\"\n  stead job own 101 crank.outer-ring --drop"}
	cmd.Flags().StringVar(&o.Words, "words", "", "the part in the customer's words")
	cmd.Flags().BoolVar(&o.Back, "put-back", false, "taken off and put back")
	cmd.Flags().BoolVar(&drop, "drop", false, "the workshop finds the part after all")
	addOrigin(cmd, &origin)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, site, err := jobAndPlace(cmd, args)
		if err != nil {
			return err
		}
		o.Place = site.Place
		if drop {
			return jobChange(cmd, w, id, "the workshop finds the "+site.Words, func(ctx context.Context, tx pgx.Tx) error { return pricing.DropOwnPart(ctx, tx, id, site.Place) })
		}
		if o.Words == "" {
			return usage(cmd, errors.New("--words is needed: the part in the customer's words"))
		}
		if len(args) > 2 {
			spec, err := dimensions(cmd, site.Family, args[2:], origin)
			if err != nil {
				return err
			}
			o.Part = &substitution.Part{Family: site.Family, Spec: spec}
		}
		return jobChange(cmd, w, id, o.Said(), func(ctx context.Context, tx pgx.Tx) error { return pricing.SetOwnPart(ctx, tx, id, o, now()) })
	})
	return cmd
}

func newJobWork() *cobra.Command {
	var place, price, tax string
	var drop int64
	var added pricing.AddedWork
	cmd := &cobra.Command{Use: "work JOB [WORDS]", Short: "Add work that no finding asks for: bleed, true, test-ride, …",
		Long: `Adds work that no finding asks for. align, bleed, puncture, test-ride, true,
tubeless and wash have their usual times (common practice, no source); anything
else is named in your own words, with its minutes or its price. Without a price
it costs its minutes at the shop's hour. What was added is numbered; --drop
takes it off.

tubeless is of one wheel, by --place front.tyre or rear.tyre: the quote then has
its tape, valve and sealant, and says what of tyre and rim is to be measured.`,
		Args:    atLeast("JOB"),
		Example: "  stead job work 102 bleed --place front.caliper\n  stead job work 102 \"fit the child seat\" --price 12.50"}
	cmd.Flags().StringVar(&place, "place", "", "where, if it is at one place")
	cmd.Flags().Var(count{&added.Minutes}, "minutes", "how long it takes")
	cmd.Flags().StringVar(&price, "price", "", "its price before tax")
	cmd.Flags().StringVar(&tax, "tax", "", "its rate of tax where it is not that of work, such as \"VAT 5\"")
	cmd.Flags().Int64Var(&drop, "drop", 0, "take this added work off again, by its number")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		if drop != 0 {
			return jobChange(cmd, w, id, fmt.Sprintf("work %d is off job %d", drop, id), func(ctx context.Context, tx pgx.Tx) error { return pricing.DropWork(ctx, tx, id, drop, now()) })
		}
		if len(args) != 2 {
			return usage(cmd, errors.New("say what is done, in one argument: bleed, or \"fit the child seat\""))
		}
		added.Words = args[1]
		if place != "" {
			site, err := substitution.SiteOf(substitution.Place(place))
			if err != nil {
				return usage(cmd, err)
			}
			added.Place = site.Place
		}
		net, err := amount(cmd, "--price", price)
		if err != nil {
			return err
		}
		if tax != "" {
			if added.Tax, err = taxNamed(cmd, tax); err != nil {
				return err
			}
		}
		out, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (pricing.AddedWork, error) {
			return pricing.AddWork(ctx, tx, id, added, net, now())
		})
		if err != nil {
			return err
		}
		shop, err := inventory.LoadShop(cmd.Context(), w)
		if err != nil {
			return err
		}
		return show(cmd, out, func() {
			say(cmd, "work %d on job %d: %s, %d min, %s before tax", out.ID, id, out.Words, out.Minutes, pricing.Amount(shop.Currency, out.Price))
		})
	})
	return cmd
}

func newJobDiscount() *cobra.Command {
	var place, percent, money string
	var drop int64
	var d pricing.Discount
	cmd := &cobra.Command{Use: "discount JOB", Short: "Give something off a job, or do it under warranty",
		Args: exactly("JOB"), Example: "  stead job discount 102 --percent 10 --why \"club member\"\n  stead job discount 102 --amount 5 --place chain --why scratched\n" +
			"  stead job discount 102 --warranty --place chain --why \"fitted in June\""}
	cmd.Flags().StringVar(&percent, "percent", "", "so much in the hundred")
	cmd.Flags().StringVar(&money, "amount", "", "so much money, tax included")
	cmd.Flags().BoolVar(&d.Warranty, "warranty", false, "all of it: work and parts are free under warranty")
	cmd.Flags().StringVar(&place, "place", "", "of the lines at this place (default the whole)")
	cmd.Flags().StringVar(&d.Why, "why", "", "the reason, as it stands on the quote")
	cmd.Flags().Int64Var(&drop, "drop", 0, "take this discount back, by its number")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		if drop != 0 {
			return jobChange(cmd, w, id, fmt.Sprintf("discount %d is off job %d", drop, id), func(ctx context.Context, tx pgx.Tx) error { return pricing.DropDiscount(ctx, tx, id, drop, now()) })
		}
		if d.Percent, err = amount(cmd, "--percent", percent); err != nil {
			return err
		}
		if d.Amount, err = amount(cmd, "--amount", money); err != nil {
			return err
		}
		if d.Warranty && !d.Percent.Valid && !d.Amount.Valid {
			d.Percent = decimal.NewNullDecimal(decimal.NewFromInt(100))
		}
		if place != "" {
			site, err := substitution.SiteOf(substitution.Place(place))
			if err != nil {
				return usage(cmd, err)
			}
			d.Place = site.Place
		}
		out, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (pricing.Discount, error) {
			return pricing.AddDiscount(ctx, tx, id, d, now())
		})
		if err != nil {
			return err
		}
		return show(cmd, out, func() { say(cmd, "discount %d on job %d: %s", out.ID, id, out.Words()) })
	})
	return cmd
}

// useOnJob takes pieces for a job: what is held for it, and beyond that extras that the customer allowed.
func useOnJob(cmd *cobra.Command, w *workshop, part inventory.Part, use pricing.Use) error {
	out, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, key string) (pricing.Used, error) {
		return pricing.UsePart(ctx, tx, key, use, now())
	})
	if err != nil {
		return err
	}
	shop, err := inventory.LoadShop(cmd.Context(), w)
	if err != nil {
		return err
	}
	return show(cmd, out, func() {
		say(cmd, "%d of %s used on job %d", use.Pieces, part.Name, use.JobID)
		if x := out.Extra; x != nil && x.Amount.IsPositive() {
			say(cmd, "  %d of them beyond what was agreed, %s", x.Pieces, pricing.Amount(shop.Currency, x.Amount))
		}
	})
}

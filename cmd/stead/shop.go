package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/inventory/calendar"
	"stead/pricing"
	"stead/pricing/money"
	"stead/substitution"
	"stead/substitution/inspection"
)

func newShop() *cobra.Command {
	return group("shop", "The workshop's own settings: name, tax, labour prices", newShopStart(), newShopShow(), newShopSet(), newShopTax(), newShopLabour(), newShopBin(), newShopRate(), newShopWeigh(), newShopShelf(), newShopClosed(), newShopReopen())
}

func newShopShow() *cobra.Command {
	cmd := &cobra.Command{Use: "show", Short: "Show the settings", Args: exactly(), Example: "  stead shop show"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		all, err := desk.LoadShop(cmd.Context(), w, now())
		if err != nil {
			return err
		}
		return show(cmd, all, func() { printShop(cmd, all) })
	})
	return cmd
}

func printShop(cmd *cobra.Command, s desk.Shop) {
	say(cmd, "%s\ntime zone %s, prices in %s", s.Name, s.Zone, s.Currency)
	for _, words := range slices.Concat(s.Closed, s.Rules(), s.ShelfWords()) {
		say(cmd, "%s", words)
	}
	if s.Tax == nil {
		say(cmd, "no tax is recorded, and nothing is quoted without: `stead shop tax NAME PERCENT`")
	}
	for _, words := range s.TaxWords() {
		say(cmd, "%s", words)
	}
	if len(s.Bins) == 0 {
		say(cmd, "no bin yet: `stead shop bin NAME`")
	} else {
		say(cmd, "bins %s", strings.Join(s.Bins, ", "))
	}
	if len(s.Labour) == 0 && s.Hourly.Valid {
		return
	}
	if len(s.Labour) == 0 {
		say(cmd, "no labour price yet: `stead shop labour FAMILY ACTION`")
		return
	}
	say(cmd, "")
	var rows [][]string
	for _, l := range s.Labour {
		rows = append(rows, []string{string(l.Family), string(l.Action), l.Words, strconv.Itoa(l.Minutes), l.Price.StringFixed(2)})
	}
	terminal.Table(cmd.OutOrStdout(), []string{"FAMILY", "WORK", "ON THE QUOTE", ">MIN", ">BEFORE TAX"}, rows)
}

func newShopSet() *cobra.Command {
	var name, country, zone, currency, markUp, overbuy, carriage, hourly, address, taxNumber string
	var wheel int
	var confidence float64
	var quoteDays int
	var closed []time.Weekday
	cmd := &cobra.Command{Use: "set", Short: "Change the settings that are given", Args: exactly(), Example: "  stead shop set --name \"Tannery Yard\" --confidence 0.9"}
	cmd.Flags().StringVar(&name, "name", "", "name on paper")
	cmd.Flags().StringVar(&country, "country", "", "whose bank holidays are kept, such as GB or DE")
	cmd.Flags().Var(weekdays{&closed}, "closed", "days closed every week, such as sunday,monday; none for none")
	cmd.Flags().StringVar(&zone, "zone", "", "time zone, such as Europe/London")
	cmd.Flags().StringVar(&currency, "currency", "", "ISO 4217 code, such as GBP")
	cmd.Flags().StringVar(&markUp, "mark-up", "", "on the supplier's price where no retail price is known: 0.4 is 40 %")
	cmd.Flags().StringVar(&overbuy, "overbuy", "", "how many times what is needed may be bought for a price break or a minimum order: 2")
	cmd.Flags().StringVar(&carriage, "carriage", "", "what a job pays of its parts' carriage: full, shared, none, or a fixed amount such as 3.50")
	cmd.Flags().Float64Var(&confidence, "confidence", 0, "how sure a promised date is: 0.9 is nine times in ten")
	cmd.Flags().IntVar(&quoteDays, "quote-days", 0, "how many days a quote stands")
	cmd.Flags().StringVar(&address, "address", "", "as it stands on a bill; a comma begins a new line")
	cmd.Flags().StringVar(&taxNumber, "tax-number", "", "number under which the shop pays its tax, as it stands on a bill")
	cmd.Flags().StringVar(&hourly, "hourly", "", "what an hour of work costs, before tax: for work without a price of its own")
	cmd.Flags().IntVar(&wheel, "wheel-minutes", 0, "minutes to take a wheel off and put it on, which work on one wheel shares")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		if !anyFlag(cmd) {
			return usage(cmd, errors.New("nothing is given to change"))
		}
		rate, err := amount(cmd, "--mark-up", markUp)
		if err != nil {
			return err
		}
		most, err := amount(cmd, "--overbuy", overbuy)
		if err != nil {
			return err
		}
		hour, err := amount(cmd, "--hourly", hourly)
		if err != nil {
			return err
		}
		charge, fixed, err := carriageCharge(cmd, carriage)
		if err != nil {
			return err
		}
		shop, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (inventory.Shop, error) {
			return inventory.ChangeShop(ctx, tx, func(shop *inventory.Shop) {
				if charge != "" {
					shop.CarriageCharge, shop.CarriageFixed = charge, fixed
				}
				for _, f := range []struct {
					from string
					to   *string
				}{{name, &shop.Name}, {country, &shop.Country}, {zone, &shop.Zone}, {currency, &shop.Currency}, {lines(address), &shop.Address}, {taxNumber, &shop.TaxNumber}} {
					if f.from != "" {
						*f.to = f.from
					}
				}
				if rate.Valid {
					shop.MarkUp = rate.Decimal
				}
				if most.Valid {
					shop.Overbuy = most.Decimal
				}
				if hour.Valid {
					shop.Hourly = hour
				}
				if cmd.Flags().Changed("wheel-minutes") {
					shop.WheelMinutes = wheel
				}
				if closed != nil {
					shop.ClosedOn = closed
				}
				if cmd.Flags().Changed("confidence") {
					shop.Confidence = confidence
				}
				if cmd.Flags().Changed("quote-days") {
					shop.QuoteDays = quoteDays
				}
			})
		})
		if err != nil {
			return err
		}
		return show(cmd, shop, func() { say(cmd, "settings of %s saved", shop.Name) })
	})
	return cmd
}

// lines puts what stands after each comma on a line of its own.
func lines(address string) string {
	parts := strings.Split(address, ",")
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i])
	}
	return strings.Join(parts, "\n")
}

// carriageCharge reads what a job pays of carriage: full, shared, none, or a fixed amount.
func carriageCharge(cmd *cobra.Command, text string) (charge inventory.Carriage, fixed decimal.NullDecimal, err error) {
	switch charge = inventory.Carriage(text); charge {
	case "", inventory.CarriageFull, inventory.CarriageShared, inventory.CarriageNone:
		return charge, fixed, nil
	}
	d, err := number(text)
	if err != nil || !d.IsPositive() {
		return "", fixed, usage(cmd, fmt.Errorf("--carriage is full, shared, none or an amount such as 3.50, not %q", text))
	}
	return inventory.CarriageFixed, decimal.NewNullDecimal(d), nil
}

func newShopTax() *cobra.Command {
	var from, on string
	cmd := &cobra.Command{Use: "tax NAME PERCENT", Short: "Record a rate of tax from a day on", Args: exactly("NAME", "PERCENT"),
		Long: `Records a rate of tax from a day on. --on gives one thing a rate of its own:
work, repairs (a job's work, the parts fitted and their carriage, and nothing
that is sold over the counter), or the parts of a family. A family's rate goes
before that of repairs. Which rates are due is for the local rules to say.`,
		Example: "  stead shop tax VAT 20 --from 2011-01-04\n  stead shop tax VAT 5 --on child-seat"}
	cmd.Flags().StringVar(&on, "on", "", "work, repairs or a family (default all that has none of its own)")
	cmd.Flags().StringVar(&from, "from", "", "first day of the rate (default today)")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		percent, err := number(args[1])
		if err != nil || percent.IsNegative() {
			return usage(cmd, fmt.Errorf("PERCENT is a number such as 20, not %q", args[1]))
		}
		day := calendar.DayOf(now())
		if from != "" {
			if day, err = calendar.ParseDay(from); err != nil {
				return usage(cmd, fmt.Errorf("--from: %w", err))
			}
		}
		tax := pricing.Tax{Name: args[0], Percent: percent}
		_, err = change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (pricing.Tax, error) {
			return tax, pricing.SetTax(ctx, tx, tax, pricing.Taxed(on), day.Time())
		})
		if err != nil {
			return err
		}
		return show(cmd, tax, func() { say(cmd, "%s %s %% from %s%s", tax.Name, tax.Percent, day, onWords(on)) })
	})
	return cmd
}

func onWords(on string) string {
	if on == "" {
		return ""
	}
	return ", on " + on
}

func newShopLabour() *cobra.Command {
	var words, price string
	var minutes int
	cmd := &cobra.Command{Use: "labour FAMILY ACTION", ValidArgsFunction: complete(familyNames), Short: "Record what a kind of work costs: clean, adjust or replace", Args: exactly("FAMILY", "ACTION"),
		Example: "  stead shop labour chain replace --price 12\n  stead shop labour chainring replace --words \"fit chainring\" \\\n      --minutes 20 --price 15"}
	cmd.Flags().StringVar(&words, "words", "", "the line on the quote (default the usual one)")
	cmd.Flags().IntVar(&minutes, "minutes", 0, "how long it takes (default as usual)")
	cmd.Flags().StringVar(&price, "price", "", "its price before tax")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		p, err := amount(cmd, "--price", price)
		if err != nil {
			return err
		}
		if _, err := substitution.TableOf(substitution.Family(args[0])); err != nil {
			return usage(cmd, err)
		}
		action, err := inspection.ParseAction(args[1])
		if err != nil {
			return usage(cmd, err)
		}
		l := pricing.Labour{Family: substitution.Family(args[0]), Action: action, Words: words, Minutes: minutes, Price: p.Decimal}
		if usual, known := substitution.WorkOn(l.Family, action); known {
			l.Words, l.Minutes = cmp.Or(words, usual.Words), cmp.Or(minutes, usual.Minutes)
		}
		switch {
		case minutes < 0:
			return usage(cmd, fmt.Errorf("--minutes is how long it takes, not %d", minutes))
		case !p.Valid:
			return usage(cmd, errors.New("--price is needed: what the work costs before tax"))
		case l.Words == "" || l.Minutes <= 0:
			return usage(cmd, fmt.Errorf("nobody knows what it usually is to %s a %s: say it with --words and --minutes", action, l.Family))
		}
		_, err = change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (pricing.Labour, error) {
			return l, pricing.SetLabour(ctx, tx, l)
		})
		if err != nil {
			return err
		}
		shop, err := inventory.LoadShop(cmd.Context(), w)
		if err != nil {
			return err
		}
		return show(cmd, l, func() {
			say(cmd, "%s: %s minutes, %s before tax", l.Words, strconv.Itoa(l.Minutes), pricing.Amount(shop.Currency, l.Price))
		})
	})
	return cmd
}

func newShopBin() *cobra.Command {
	cmd := &cobra.Command{Use: "bin NAME", Short: "Add a bin to the shelves", Args: exactly("NAME"), Example: "  stead shop bin D2"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		_, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (string, error) {
			return args[0], inventory.AddBin(ctx, tx, args[0])
		})
		if err != nil {
			return err
		}
		return show(cmd, map[string]string{"bin": args[0]}, func() { say(cmd, "bin %s", args[0]) })
	})
	return cmd
}

func newShopRate() *cobra.Command {
	var from string
	cmd := &cobra.Command{Use: "rate CURRENCY RATE", Short: "Record an exchange rate from a day on", Args: exactly("CURRENCY", "RATE"),
		Example: "  stead shop rate EUR 1.16 --from 2026-11-02"}
	cmd.Flags().StringVar(&from, "from", "", "first day of the rate (default today)")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		rate, err := amount(cmd, "RATE", args[1])
		if err != nil {
			return err
		}
		first, err := day(cmd, "--from", from)
		if err != nil {
			return err
		}
		if first == nil {
			d := today()
			first = &d
		}
		shop, err := inventory.LoadShop(cmd.Context(), w)
		if err != nil {
			return err
		}
		own := money.Unit(shop.Currency)
		_, err = change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (string, error) {
			return args[0], inventory.SetRate(ctx, tx, strings.ToUpper(args[0]), rate.Decimal, *first)
		})
		if err != nil {
			return err
		}
		return show(cmd, map[string]any{"currency": args[0], "rate": rate.Decimal, "from": first}, func() { say(cmd, "%s buys %s %s from %s", own, rate.Decimal, strings.ToUpper(args[0]), first) })
	})
	return cmd
}

func newShopWeigh() *cobra.Command {
	cmd := &cobra.Command{Use: "weigh OF WEIGHT", Short: "Say how much a difference counts: function, finish, or one rule", Args: exactly("OF", "WEIGHT"),
		ValidArgsFunction: complete(ruleIDs), Example: "  stead shop weigh finish 5\n  stead shop weigh chain.finish 0"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		weight, err := strconv.ParseInt(args[1], 10, 64)
		if err != nil {
			return usage(cmd, fmt.Errorf("WEIGHT is a whole number, not %q", args[1]))
		}
		_, err = change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (string, error) {
			return args[0], pricing.SetWeight(ctx, tx, args[0], weight)
		})
		if err != nil {
			return err
		}
		return show(cmd, map[string]any{"of": args[0], "weight": weight}, func() { say(cmd, "%s counts %d", args[0], weight) })
	})
	return cmd
}

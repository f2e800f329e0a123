package main

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/pricing"
)

func newCustomer() *cobra.Command {
	return group("customer", "Customers, how to reach them, and their bikes", newCustomerFind(), newCustomerShow(), newCustomerSet(), newCustomerData(), newCustomerForget())
}

// checkChanged tells whether one of some flags was given; without one there is nothing to correct.
func checkChanged(cmd *cobra.Command, flags ...string) error {
	for _, name := range flags {
		if cmd.Flags().Changed(name) {
			return nil
		}
	}
	return usage(cmd, fmt.Errorf("say what is to be corrected: --%s", strings.Join(flags, ", --")))
}

// numbered reads the number of a thing.
func numbered(cmd *cobra.Command, kind, text string) (int64, error) {
	id, err := strconv.ParseInt(text, 10, 64)
	if err != nil || id <= 0 {
		return 0, usage(cmd, fmt.Errorf("a %s is named by its number, not %q", kind, text))
	}
	return id, nil
}

func newCustomerFind() *cobra.Command {
	cmd := &cobra.Command{Use: "find WORDS …", Short: "Find a customer by name, telephone, e-mail, bike or frame number", Args: atLeast("WORDS"),
		Example: "  stead customer find falkner\n  stead customer find 01632 960001\n  stead customer find blue touring"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		text := strings.Join(args, " ")
		found, err := desk.FindCustomers(cmd.Context(), w, text)
		if err != nil {
			return err
		}
		like, err := pricing.CustomersSpeltLike(cmd.Context(), w, text)
		if err != nil {
			return err
		}
		return show(cmd, found, func() {
			if len(found) == 0 {
				say(cmd, "nobody found")
				for _, c := range like {
					say(cmd, "  spelt like it: %s", desk.CustomerWords(c))
				}
			}
			for _, c := range found {
				printCustomer(cmd, c)
			}
		})
	})
	return cmd
}

func newCustomerShow() *cobra.Command {
	cmd := &cobra.Command{Use: "show CUSTOMER", Short: "Show a customer with their bikes, jobs and wishes", Args: exactly("CUSTOMER"),
		Long:    "Shows a customer, by number, name, telephone number or e-mail address.",
		Example: "  stead customer show 1\n  stead customer show falkner"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		c, err := pricing.CustomerNamed(cmd.Context(), w, args[0])
		if err != nil {
			return err
		}
		v, err := desk.LoadCustomer(cmd.Context(), w, c.ID)
		if err != nil {
			return err
		}
		return show(cmd, v, func() {
			printCustomer(cmd, v)
			printTrail(cmd, v.Corrected)
		})
	})
	return cmd
}

func newCustomerSet() *cobra.Command {
	var name, phone, email, contact string
	cmd := &cobra.Command{Use: "set CUSTOMER", Short: "Correct a customer's name or how to reach them", Args: exactly("CUSTOMER"),
		Example: "  stead customer set 1 --phone \"01632 960001\"\n  stead customer set 1 --name \"Ines Falkner-Roe\" --why married"}
	f := cmd.Flags()
	f.StringVar(&name, "name", "", "the name")
	f.StringVar(&phone, "phone", "", "telephone number; empty takes it away")
	f.StringVar(&email, "email", "", "e-mail address; empty takes it away")
	f.StringVar(&contact, "contact", "", "whatever else says how to reach them")
	by := addHand(cmd)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		if err := checkChanged(cmd, "name", "phone", "email", "contact"); err != nil {
			return err
		}
		was, err := pricing.CustomerNamed(cmd.Context(), w, args[0])
		if err != nil {
			return err
		}
		c, err := correct(cmd, w, by, func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) (pricing.Customer, error) {
			return pricing.CorrectCustomer(ctx, tx, was.ID, hand, func(c *pricing.Customer) {
				for flag, to := range map[string]struct{ field, text *string }{
					"name": {&c.Name, &name}, "phone": {&c.Phone, &phone}, "email": {&c.Email, &email}, "contact": {&c.Contact, &contact},
				} {
					if cmd.Flags().Changed(flag) {
						*to.field = *to.text
					}
				}
			})
		})
		if err != nil {
			return err
		}
		return show(cmd, c, func() { say(cmd, "%s", desk.CustomerWords(c)) })
	})
	return cmd
}

func printCustomer(cmd *cobra.Command, v desk.Customer) {
	say(cmd, "%s", desk.CustomerWords(v.Customer))
	for _, b := range v.Bikes {
		say(cmd, "  %s", desk.BikeWords(b.ID, b.Words, b.FrameNumber))
		for _, j := range b.Jobs {
			say(cmd, "    %s", desk.PastJobWords(j))
		}
		for _, w := range b.Wishes {
			say(cmd, "    %s", "wished for: "+w.Words)
		}
	}
}

// printTrail tells who corrected what.
func printTrail(cmd *cobra.Command, trail []inventory.Correction) {
	for _, c := range trail {
		say(cmd, "  %s", desk.CorrectedWords(c, zone()))
	}
}

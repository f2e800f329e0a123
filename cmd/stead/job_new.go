package main

import (
	"context"
	"fmt"
	"strconv"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/pricing"
)

func newJobNew() *cobra.Command {
	var b pricing.Booking
	var customer, reach, phone, email, bike, wanted, latest, most, build string
	cmd := &cobra.Command{Use: "new", Short: "Book a bike in", Args: exactly(),
		Long: `Books a bike in. A customer who was here before is known by name, and their
bike by its words or its frame number; what was fitted, past jobs and wishes
come with it. --customer and --bike take numbers too.`,
		Example: "  stead job new --customer \"Ines Falkner\" --bike \"blue touring bike\" \\\n      --wanted-by 2026-12-11 --build bike.json --same-finish\n" +
			"  stead job new --customer \"Ines Falkner\" --phone \"01632 960001\" \\\n      --bike \"red folder\" --frame-number FT4471K"}
	f := cmd.Flags()
	f.StringVar(&customer, "customer", "", "whose bike it is: a name, or a customer's number")
	f.BoolVar(&b.NewCustomer, "new-customer", false, "somebody new, who is called like a customer on record")
	f.StringVar(&phone, "phone", "", "their telephone number")
	f.StringVar(&email, "email", "", "their e-mail address")
	f.StringVar(&reach, "contact", "", "how to reach them, whatever it is")
	f.StringVar(&bike, "bike", "", "a few words to know the bike by, or a bike's number")
	f.StringVar(&b.Bike.FrameNumber, "frame-number", "", "the number stamped on its frame")
	f.StringVar(&build, "build", "", "JSON file of what is fitted: {\"chain\": {\"family\": \"chain\", \"spec\": {\"speeds\": [9]}}, \"crank\": null}")
	readsFile(cmd, "build")
	f.StringVar(&b.Wish, "wish", "", "what the customer asks, in their words")
	f.StringVar(&wanted, "wanted-by", "", "when they would like it back (2026-12-11)")
	f.StringVar(&latest, "latest", "", "parts must be here by this day")
	f.StringVar(&most, "most", "", "most to spend on it, tax included")
	f.BoolVar(&b.Limits.SameFinish, "same-finish", false, "it must look as before")
	f.BoolVar(&b.Limits.NoFunctionChange, "no-function-change", false, "it must ride and shift as before")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		if id, err := strconv.ParseInt(bike, 10, 64); err == nil {
			b.Bike.ID = id
		}
		b.Bike.Words = bike
		if bike == "" || customer == "" && b.Bike.ID == 0 {
			return usage(cmd, fmt.Errorf("--customer and --bike are needed: whose bike it is, and a few words to know it by"))
		}
		if id, err := strconv.ParseInt(customer, 10, 64); err == nil {
			b.Customer.ID = id
		} else {
			b.Customer.Name = customer
		}
		if reach != "" {
			b.Customer = b.Customer.ReachedBy(reach)
		}
		if phone != "" {
			b.Customer.Phone = phone
		}
		if email != "" {
			b.Customer.Email = email
		}
		var err error
		if b.WantedBy, err = comingDay(cmd, "--wanted-by", wanted); err != nil {
			return err
		}
		if b.Limits.Latest, err = comingDay(cmd, "--latest", latest); err != nil {
			return err
		}
		if b.Limits.MostToSpend, err = amount(cmd, "--most", most); err != nil {
			return err
		}
		if build != "" {
			if b.Bike.Build, err = readBuild(build); err != nil {
				return usage(cmd, err)
			}
		}
		in, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (pricing.BookedIn, error) {
			return pricing.Book(ctx, tx, b, now())
		})
		if err != nil {
			return err
		}
		return show(cmd, in, func() { printBookedIn(cmd, in) })
	})
	return cmd
}

func printBookedIn(cmd *cobra.Command, in pricing.BookedIn) {
	say(cmd, "job %d: %s's %s", in.JobID, in.Customer.Name, in.Bike)
	if len(in.Before) == 0 && in.Bikes == 0 {
		return
	}
	if reach := in.Customer.Reach(); reach != "" {
		say(cmd, "  %s", "on record: "+reach)
	}
	if in.Bikes > 0 {
		say(cmd, "  %s", fmt.Sprintf("customer %d has %s besides", in.Customer.ID, desk.Several(in.Bikes, "bike")))
	}
	if len(in.Before) > 0 {
		say(cmd, "  %s", fmt.Sprintf("bike %d was here before: %s", in.BikeID, desk.PastJobWords(in.Before[0])))
		say(cmd, "  %s", fmt.Sprintf("what is fitted is known at %s", desk.Several(in.Known, "place")))
	}
	for _, a := range in.Advised {
		say(cmd, "  %s", fmt.Sprintf("advised in job %d: %s", a.JobID, a.Words))
	}
	for _, w := range in.Wishes {
		words := "wished for: " + w.Words
		for _, g := range in.Granted {
			if g.Wish.ID == w.ID {
				words += fmt.Sprintf("; %s, %s", g.Part.Name, g.Source)
			}
		}
		say(cmd, "  %s", words)
	}
}

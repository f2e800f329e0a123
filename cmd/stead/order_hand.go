package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/calendar"
	"stead/pricing"
	"stead/substitution"
)

// newOrderByHand sets how a part is ordered where the planner is not to decide.
func newOrderByHand() *cobra.Command {
	var from, putOff, standIn string
	var asPlanned bool
	cmd := &cobra.Command{Use: "by-hand PART", Args: exactly("PART"), Short: "Buy a part from one supplier, as another, or put it off",
		Long: `Says how a part is ordered where the plan is not to decide: from one supplier
alone, not before a day, or as another part that stands in for it. It stands
until it is taken back with --as-planned, or until the day has come; its reason
is on the plan and in the part's trail.

A stand-in is judged by the rules of fit. The shelf gets it from now on. A job
that wants the part and for which nobody has ordered it gets an amendment: where
it costs the customer no more, comes as soon and is no different from what was
agreed, it is approved at once, else it is theirs to answer.`,
		Example: "  stead order by-hand TAR-CH9 --stand-in MAR-CH9 \\\n      --why \"grey ones rust\"\n  stead order by-hand COR-R110-50O-S --put-off 2027-01-04 \\\n      --why \"the new list comes in January\""}
	cmd.Flags().StringVar(&from, "from", "", "the `supplier` from which alone it is bought")
	cmd.Flags().StringVar(&putOff, "put-off", "", "the `day` before which it is not ordered")
	cmd.Flags().StringVar(&standIn, "stand-in", "", "the `part` that is bought in its stead")
	cmd.Flags().BoolVar(&asPlanned, "as-planned", false, "wherever and whenever the plan says")
	by := addHand(cmd)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		given := 0
		for _, flag := range []string{"from", "put-off", "stand-in", "as-planned"} {
			if cmd.Flags().Changed(flag) {
				given++
			}
		}
		if given != 1 {
			return usage(cmd, errors.New("say one of --from SUPPLIER, --put-off DAY, --stand-in PART and --as-planned"))
		}
		until, err := day(cmd, "--put-off", putOff)
		if err != nil {
			return err
		}
		part, err := inventory.PartNamed(cmd.Context(), w, args[0])
		if err != nil {
			return err
		}
		if *by.why == "" {
			return usage(cmd, errors.New("say why: --why \"the list price is wrong\""))
		}
		if standIn != "" {
			return standInFor(cmd, w, by, part, standIn)
		}
		h := inventory.ByHand{PartID: part.ID, Until: until}
		if from != "" {
			s, err := inventory.SupplierByCode(cmd.Context(), w, from)
			if err != nil {
				return err
			}
			h.SupplierID = &s.ID
		}
		if _, err := correct(cmd, w, by, func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) (int64, error) {
			return part.ID, inventory.OrderByHand(ctx, tx, h, calendar.DayOf(now()), hand)
		}); err != nil {
			return err
		}
		return show(cmd, h, func() {
			say(cmd, "%s", desk.At(now()).ByHandWords(part.Name, from, until))
		})
	})
	return cmd
}

// standInFor buys another part in the stead of one, and tells what became of the jobs that want it.
func standInFor(cmd *cobra.Command, w *workshop, by handFlags, part inventory.Part, name string) error {
	other, err := inventory.PartNamed(cmd.Context(), w, name)
	if err != nil {
		return err
	}
	jobs, err := correct(cmd, w, by, func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) ([]pricing.StoodIn, error) {
		return pricing.StandIn(ctx, tx, part, other, hand, now())
	})
	if err != nil {
		return err
	}
	ordered, err := inventory.OrderedClaims(cmd.Context(), w, part.ID)
	if err != nil {
		return err
	}
	return show(cmd, map[string]any{"part_id": part.ID, "stand_in_id": other.ID, "jobs": jobs, "ordered": ordered}, func() {
		say(cmd, "%s", desk.StandInWords(part, other))
		if v, err := substitution.Instead(&part.Part, &other.Part); err == nil {
			for _, d := range v.Deviations() {
				say(cmd, "  different (%s): %s", d.Rule.Severity, d.Words)
			}
		}
		for _, j := range jobs {
			words := desk.StoodInWords(j)
			if j.Quote.State != pricing.Approved {
				words += fmt.Sprintf(": `stead job show %d` shows quote %d", j.JobID, j.Quote.Version)
			}
			say(cmd, "  %s", words)
		}
		for _, o := range ordered {
			say(cmd, "  job %d waits for %s on order %d: `stead order cancel %d %d`, and this again, or leave it so", o.JobID, part.Name, o.OrderID, o.OrderID, o.LineID)
		}
	})
}

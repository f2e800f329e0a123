package main

import (
	"strconv"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/inventory/calendar"
	"stead/pricing"
	"stead/pricing/ordering"
)

func newJobShow() *cobra.Command {
	cmd := &cobra.Command{Use: "show JOB", Short: "Show a job: bike, findings, quote and what it waits for", Args: exactly("JOB"), Example: "  stead job show 101\n  stead job show 101 --json"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		return showJob(cmd, w, id)
	})
	return cmd
}

// jobView is all that `job show` tells.
type jobView struct {
	pricing.Job
	Quote    *pricing.Quote          `json:"quote,omitempty"`
	Approval *pricing.Approval       `json:"approval,omitempty"`
	Held     []inventory.Reservation `json:"held"`
	Claims   []inventory.Claim       `json:"claims"`
	Expected []ordering.Late         `json:"expected,omitempty"` // what it still waits for, and when that is here as things stand
	Notes    []pricing.Note          `json:"notes,omitempty"`
	Wishes   []pricing.Granted       `json:"wishes_that_can_be_met,omitempty"`
}

func showJob(cmd *cobra.Command, w *workshop, id int64) error {
	ctx := cmd.Context()
	job, err := pricing.JobByID(ctx, w, id)
	if err != nil {
		return err
	}
	v := jobView{Job: job}
	q, found, err := pricing.LastQuote(ctx, w, id)
	if err != nil {
		return err
	}
	if found {
		v.Quote = &q
	}
	if _, a, err := pricing.ApprovedQuote(ctx, w, id); err == nil {
		v.Approval = &a
	}
	if v.Held, err = inventory.ReservationsOf(ctx, w, id); err != nil {
		return err
	}
	if v.Claims, err = inventory.ClaimsOfJob(ctx, w, id); err != nil {
		return err
	}
	if v.Expected, err = ordering.Expected(ctx, w, id, now()); err != nil {
		return err
	}
	if v.Notes, err = pricing.NotesOf(ctx, w, id); err != nil {
		return err
	}
	granted, err := pricing.GrantableWishes(ctx, w, now())
	if err != nil {
		return err
	}
	for _, g := range granted {
		if g.Wish.BikeID == job.Bike.ID {
			v.Wishes = append(v.Wishes, g)
		}
	}
	parts, err := inventory.Parts(ctx, w, partsOf(v))
	if err != nil {
		return err
	}
	return show(cmd, v, func() { printJob(cmd, v, parts) })
}

func partsOf(v jobView) []int64 {
	ids := v.Limits.Parts()
	for _, h := range v.Held {
		ids = append(ids, h.PartID)
	}
	for _, c := range v.Claims {
		ids = append(ids, c.PartID)
	}
	return ids
}

// dayOrNone is a day as it stands in a table.
func dayOrNone(d *calendar.Day) string {
	if d == nil {
		return ""
	}
	return d.String()
}

func newJobList() *cobra.Command {
	var all bool
	cmd := &cobra.Command{Use: "list", Short: "List the jobs in the workshop", Args: exactly(), Example: "  stead job list --all"}
	cmd.Flags().BoolVar(&all, "all", false, "closed ones too")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error { return listJobs(cmd, w, all) })
	return cmd
}

func listJobs(cmd *cobra.Command, w *workshop, all bool) error {
	jobs, err := pricing.Jobs(cmd.Context(), w, all)
	if err != nil {
		return err
	}
	return show(cmd, jobs, func() {
		var rows [][]string
		for _, j := range jobs {
			rows = append(rows, []string{strconv.FormatInt(j.ID, 10), string(j.State), j.Customer, j.Bike, dayOrNone(j.WantedBy), dayOrNone(j.Promised), strconv.Itoa(j.Waits)})
		}
		terminal.Table(cmd.OutOrStdout(), []string{">JOB", "STATE", "CUSTOMER", "BIKE", "WANTED BY", "PROMISED", ">TO COME"}, rows)
	})
}

package main

import (
	"strconv"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/pricing"
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

func showJob(cmd *cobra.Command, w *workshop, id int64) error {
	job, err := desk.LoadJob(cmd.Context(), w, id, now())
	if err != nil {
		return err
	}
	return show(cmd, job, func() { printJob(cmd, job) })
}

func newJobList() *cobra.Command {
	var search pricing.JobSearch
	var on, customer string
	cmd := &cobra.Command{Use: "list", Short: "List jobs: open ones, of a day, in a state or of a customer", Args: exactly(),
		Example: "  stead job list --all\n  stead job list --day 2026-12-11\n  stead job list --state approved\n  stead job list --customer falkner"}
	cmd.Flags().BoolVar(&search.All, "all", false, "ended ones too")
	cmd.Flags().StringVar(&on, "day", "", "booked in, wanted, promised or ended on this day")
	states := oneOf[pricing.JobState]{&search.State, []pricing.JobState{pricing.Booked, pricing.Inspected, pricing.Quoted, pricing.JobApproved, pricing.Closed, pricing.Cancelled}}
	cmd.Flags().Var(states, "state", "only those in this state: "+states.List())
	cmd.Flags().StringVar(&customer, "customer", "", "all of one customer, by number, name or telephone")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		var err error
		if search.Day, err = day(cmd, "--day", on); err != nil {
			return err
		}
		if customer != "" {
			c, err := pricing.CustomerNamed(cmd.Context(), w, customer)
			if err != nil {
				return err
			}
			search.CustomerID, search.All = c.ID, true
		}
		return listJobs(cmd, w, search)
	})
	return cmd
}

func listJobs(cmd *cobra.Command, w *workshop, search pricing.JobSearch) error {
	jobs, err := pricing.Jobs(cmd.Context(), w, search)
	if err != nil {
		return err
	}
	return show(cmd, jobs, func() {
		var rows [][]string
		for _, j := range jobs {
			rows = append(rows, []string{strconv.FormatInt(j.ID, 10), string(j.State), j.Customer, j.Bike, desk.DayOrNone(j.WantedBy), desk.DayOrNone(j.Promised), strconv.Itoa(j.Waits)})
		}
		terminal.Table(cmd.OutOrStdout(), []string{">JOB", "STATE", "CUSTOMER", "BIKE", "WANTED BY", "PROMISED", ">TO COME"}, rows)
	})
}

package main

import (
	"strconv"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/inventory/calendar"
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

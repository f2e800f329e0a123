package pages

import (
	"stead/cmd/stead/internal/desk"
	"stead/pricing"
)

// jobsPage lists the bikes in the workshop, or all that ever were.
type jobsPage struct {
	All   bool
	Words string
	Jobs  []desk.OnStand
}

func showJobs(v *visit) (string, any, error) {
	p := jobsPage{All: v.asked("all") != "", Words: v.asked("q")}
	jobs, err := desk.LoadJobs(v.ctx, v.db(), pricing.JobSearch{All: p.All || p.Words != ""}, v.now)
	for _, j := range jobs {
		if j.Has(p.Words) {
			p.Jobs = append(p.Jobs, j)
		}
	}
	return "Jobs", p, err
}

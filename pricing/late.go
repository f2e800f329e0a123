package pricing

import (
	"context"
	"slices"

	"stead/inventory"
	"stead/pricing/ordering"
)

// LatePromises are the promises that will not be kept as things stand, with the customers to whom they were made.
func LatePromises(ctx context.Context, db inventory.DB, deliveries *inventory.Deliveries) ([]ordering.Late, error) {
	late, err := ordering.LatePromises(ctx, db, deliveries)
	if err != nil || len(late) == 0 {
		return late, err
	}
	jobs, err := Jobs(ctx, db, JobSearch{})
	if err != nil {
		return nil, err
	}
	for i, l := range late {
		if j := slices.IndexFunc(jobs, func(j JobSummary) bool { return j.ID == l.JobID }); j >= 0 {
			late[i].Customer, late[i].Reach = jobs[j].Customer, jobs[j].Reach
		}
	}
	return late, nil
}

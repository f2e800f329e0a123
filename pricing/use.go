package pricing

import (
	"context"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/substitution"
	"stead/substitution/inspection"
)

// UseHeld takes everything that is held for a job off the shelf and onto the bike, and says what it was.
func UseHeld(ctx context.Context, tx pgx.Tx, request string, jobID int64) ([]inventory.Reservation, error) {
	if _, err := lockJob(ctx, tx, jobID); err != nil {
		return nil, err
	}
	job, err := JobByID(ctx, tx, jobID)
	if err != nil {
		return nil, err
	}
	held, err := inventory.ReservationsOf(ctx, tx, jobID)
	if err != nil {
		return nil, err
	}
	parts := make([]int64, len(held))
	for i, r := range held {
		parts[i] = r.PartID
	}
	if err := inventory.Lock(ctx, tx, nil, parts); err != nil {
		return nil, err
	}
	for _, r := range held {
		if err := inventory.UseOnJob(ctx, tx, request, jobID, r.PartID, r.Place, r.Pieces); err != nil {
			return nil, err
		}
		if err := nowFitted(ctx, tx, job.Bike.ID, r); err != nil {
			return nil, err
		}
	}
	return held, takeSmears(ctx, tx, job)
}

// takeSmears takes what the job's work needs of greases, pastes, oils, brake fluid and sealant out of the tubs that are
// open on the bench; each once. What is not open is not counted.
func takeSmears(ctx context.Context, tx pgx.Tx, job Job) error {
	if job.State != JobApproved {
		return nil
	}
	terms, err := TermsOf(ctx, tx, job.ID)
	if err != nil {
		return err
	}
	agreed, err := AgreedOn(ctx, tx, job.ID)
	if err != nil {
		return err
	}
	for _, s := range inspection.Smears(job.Bike.Build, agreed.agreedOf(agreed.standingOn(terms, job.Findings))) {
		if _, err := inventory.TakeSmear(ctx, tx, inventory.Smear{JobID: job.ID, Place: string(s.Place), Family: string(s.Family), Purpose: s.Purpose, Fluid: s.Fluid, Grams: s.Grams}); err != nil {
			return err
		}
	}
	return nil
}

// nowFitted records a used part as what now sits at its place, so that the bike's next job starts from the truth. It may
// be what the customer had wished for.
func nowFitted(ctx context.Context, tx pgx.Tx, bikeID int64, r inventory.Reservation) error {
	site, err := substitution.SiteOf(substitution.Place(r.Place))
	if err != nil {
		return nil // the bench
	}
	part, err := inventory.PartByID(ctx, tx, r.PartID)
	if err != nil {
		return err
	}
	if err := setFitted(ctx, tx, bikeID, site.Place, &part.Part); err != nil {
		return err
	}
	return meetWishes(ctx, tx, bikeID, site.Place, part.Part)
}

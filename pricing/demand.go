package pricing

import (
	"context"
	"maps"
	"slices"

	"stead/inventory"
	"stead/inventory/calendar"
)

// demand is what is wanted of one part.
type demand struct {
	part     inventory.Part
	forJobs  int
	forShelf int
	due      *calendar.Day     // of the first claim
	claims   []inventory.Claim // the first due first
}

// demands sums up the wanted claims and the shortages by part.
func demands(ctx context.Context, db inventory.DB) (map[int64]*demand, error) {
	claims, err := inventory.OpenClaims(ctx, db)
	if err != nil {
		return nil, err
	}
	wanted := map[int64]*demand{}
	of := func(part int64) *demand {
		if wanted[part] == nil {
			wanted[part] = &demand{}
		}
		return wanted[part]
	}
	for _, c := range claims {
		if c.State != inventory.ClaimWanted {
			continue
		}
		d := of(c.PartID)
		d.forJobs += c.Pieces
		d.claims = append(d.claims, c)
		if due := c.DueOn; d.due == nil {
			d.due = &due
		}
	}
	short, err := inventory.BelowReorderLevel(ctx, db)
	if err != nil {
		return nil, err
	}
	for _, s := range short {
		of(s.Part.ID).forShelf = s.Order
	}
	parts, err := inventory.Parts(ctx, db, slices.Collect(maps.Keys(wanted)))
	if err != nil {
		return nil, err
	}
	for id, d := range wanted {
		d.part = parts[id]
	}
	return wanted, nil
}

// jobs are those that wait for the part, the first due first.
func (d demand) jobs() []int64 {
	var ids []int64
	for _, c := range d.claims {
		if !slices.Contains(ids, c.JobID) {
			ids = append(ids, c.JobID)
		}
	}
	return ids
}

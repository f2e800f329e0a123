package ordering

import (
	"context"
	"maps"
	"slices"
	"time"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/shelf"
)

// Demand is what is wanted of one part.
type Demand struct {
	Part     inventory.Part
	ForJobs  int
	ForShelf int
	Rides    bool              // for the shelf, and only because a parcel goes anyway
	Due      *calendar.Day     // of the first claim
	Claims   []inventory.Claim // the first due first
}

// Demands sums up the wanted claims and the shortages by part.
func Demands(ctx context.Context, db inventory.DB, now time.Time) (map[int64]*Demand, error) {
	claims, err := inventory.OpenClaims(ctx, db)
	if err != nil {
		return nil, err
	}
	wanted := map[int64]*Demand{}
	of := func(part int64) *Demand {
		if wanted[part] == nil {
			wanted[part] = &Demand{}
		}
		return wanted[part]
	}
	for _, c := range claims {
		if c.State != inventory.ClaimWanted {
			continue
		}
		d := of(c.PartID)
		d.ForJobs += c.Pieces
		d.Claims = append(d.Claims, c)
		if due := c.DueOn; d.Due == nil {
			d.Due = &due
		}
	}
	short, err := shelf.BelowReorderLevel(ctx, db, now)
	if err != nil {
		return nil, err
	}
	for _, s := range short {
		of(s.Part.ID).ForShelf = s.Order
	}
	parts, err := inventory.Parts(ctx, db, slices.Collect(maps.Keys(wanted)))
	if err != nil {
		return nil, err
	}
	for id, d := range wanted {
		d.Part = parts[id]
	}
	return wanted, nil
}

// jobs are those that wait for the part, the first due first.
func (d Demand) jobs() []int64 {
	var ids []int64
	for _, c := range d.Claims {
		if !slices.Contains(ids, c.JobID) {
			ids = append(ids, c.JobID)
		}
	}
	return ids
}

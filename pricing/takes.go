package pricing

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/substitution"
)

// Taker is a place of a customer's bike that a part would fit.
type Taker struct {
	Bike  Bike               `json:"bike"`
	Place substitution.Place `json:"place"`
}

// Builds are all bikes in the books with what is fitted to them.
func Builds(ctx context.Context, db inventory.DB) ([]Bike, error) {
	all, err := bikes(ctx, db, `ORDER BY b.id`)
	if err != nil {
		return nil, err
	}
	byID := map[int64]substitution.Build{}
	for _, b := range all {
		byID[b.ID] = b.Build
	}
	rows, err := db.Query(ctx, `SELECT bike_id, place, family, name, dims, origins, notes FROM fitted`)
	if err != nil {
		return nil, fmt.Errorf("loading what is fitted: %w", err)
	}
	var id int64
	var row fittedRow
	_, err = pgx.ForEachRow(rows, []any{&id, &row.Place, &row.Family, &row.Name, &row.Dims, &row.Origins, &row.Notes}, func() error {
		part, err := row.part()
		if build := byID[id]; build != nil {
			build[row.Place] = part
		}
		row = fittedRow{}
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("loading what is fitted: %w", err)
	}
	return all, nil
}

// Takers are the places of bikes where a part of the same family is on record and which this one would fit as things stand,
// without a difference in function.
func Takers(bikes []Bike, part *substitution.Part) []Taker {
	var out []Taker
	places := substitution.PlacesOf(part.Family)
	for _, b := range bikes {
		var build substitution.Build
		for _, place := range places {
			if _, there := b.Build[place]; !there {
				continue
			}
			if build == nil {
				build = b.Build.Complete()
			}
			scene := substitution.Scene{Was: build, Now: build, Open: map[substitution.Place]bool{place: true}}
			if scene.Choose(place, part).Check(place).WorksAlike() {
				out = append(out, Taker{b, place})
			}
		}
	}
	return out
}

// StandsInFor are those of some parts in whose stead a part does as well: a clear yes without a difference in function.
func StandsInFor(part *substitution.Part, others []inventory.Part) []inventory.Part {
	var out []inventory.Part
	for _, other := range others {
		if other.Family != part.Family {
			continue
		}
		if v, err := substitution.Instead(&other.Part, part); err == nil && v.WorksAlike() {
			out = append(out, other)
		}
	}
	return out
}

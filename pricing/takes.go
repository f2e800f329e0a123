package pricing

import (
	"context"
	"crypto/sha256"
	"encoding/json"
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

// Fleet is the bikes in the books, to be asked many questions: those that are recorded alike in all are asked once.
type Fleet struct {
	bikes []Bike
	kind  []int // of each bike, among the builds
	kinds []kindOfBike
}

// kindOfBike is what bikes have on record that are alike, and that with what follows from it.
type kindOfBike struct{ recorded, complete substitution.Build }

// FleetOf tells which of the bikes are alike.
func FleetOf(bikes []Bike) (Fleet, error) {
	f := Fleet{bikes: bikes, kind: make([]int, len(bikes))}
	known := map[[sha256.Size]byte]int{}
	for i, b := range bikes {
		written, err := json.Marshal(b.Build)
		if err != nil {
			return f, fmt.Errorf("what is fitted to bike %d: %w", b.ID, err)
		}
		by := sha256.Sum256(written)
		n, there := known[by]
		if !there {
			n = len(f.kinds)
			known[by] = n
			f.kinds = append(f.kinds, kindOfBike{b.Build, b.Build.Complete()})
		}
		f.kind[i] = n
	}
	return f, nil
}

// Takers are the places of bikes where a part of the same family is on record and which this one would fit as things stand,
// without a difference in function.
func (f Fleet) Takers(part *substitution.Part) []Taker {
	places := substitution.PlacesOf(part.Family)
	taken := make([][]substitution.Place, len(f.kinds))
	for i, k := range f.kinds {
		taken[i] = k.takes(places, part)
	}
	var out []Taker
	for i, b := range f.bikes {
		for _, place := range taken[f.kind[i]] {
			out = append(out, Taker{b, place})
		}
	}
	return out
}

// takes are those of the places that would take the part.
func (k kindOfBike) takes(places []substitution.Place, part *substitution.Part) (out []substitution.Place) {
	for _, place := range places {
		if _, there := k.recorded[place]; !there {
			continue
		}
		scene := substitution.Scene{Was: k.complete, Now: k.complete, Open: map[substitution.Place]bool{place: true}}
		if scene.Choose(place, part).Check(place).WorksAlike() {
			out = append(out, place)
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

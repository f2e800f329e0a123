package pricing

import (
	"context"
	"fmt"
	"maps"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/inventory/leadtime"
	"stead/substitution"
)

// Wish is what a customer would rather have had: "fit the black one next time". It is remembered with the bike and shows
// up when such a part can be had.
type Wish struct {
	ID     int64                         `json:"id"`
	BikeID int64                         `json:"bike"`
	Place  substitution.Place            `json:"place"`
	Family substitution.Family           `json:"family"`
	Dims   map[string]substitution.Value `json:"dims"` // what the part must be
	Words  string                        `json:"words"`
}

// WishFor makes the wish that a deviation suggests: the part as it was, where it now differs.
func WishFor(bike Bike, d Deviation) (Wish, error) {
	part := bike.Build[d.Place]
	if part == nil {
		return Wish{}, fmt.Errorf("nothing is recorded of the %s, so there is nothing to wish back", siteWords(d.Place))
	}
	return Wish{BikeID: bike.ID, Place: d.Place, Family: part.Family, Dims: part.Spec.Values(),
		Words: fmt.Sprintf("%s as it was: %s", siteWords(d.Place), d.Was)}, nil
}

// AddWish remembers a wish.
func AddWish(ctx context.Context, tx pgx.Tx, w Wish) (Wish, error) {
	dims := maps.Clone(w.Dims)
	delete(dims, "pack") // how many are sold together is the supplier's affair
	err := tx.QueryRow(ctx, `INSERT INTO wish (bike_id, place, family, dims, words) VALUES ($1, $2, $3, $4, $5) RETURNING id`,
		w.BikeID, w.Place, w.Family, dims, w.Words).Scan(&w.ID)
	if err != nil {
		return Wish{}, fmt.Errorf("remembering %q: %w", w.Words, err)
	}
	return w, nil
}

// Granted is a wish that can be met now.
type Granted struct {
	Wish   Wish           `json:"wish"`
	Part   inventory.Part `json:"part"`
	Owner  string         `json:"owner"`
	Source string         `json:"source"` // "on the shelf", or a supplier with the date
}

// GrantableWishes are the open wishes that the shelf, or a supplier that has the part in stock, could meet now.
func GrantableWishes(ctx context.Context, db inventory.DB, now time.Time) ([]Granted, error) {
	rows, err := db.Query(ctx, `
		SELECT w.id, w.bike_id, w.place, w.family, w.dims, w.words, c.name
		FROM wish w JOIN bike b ON b.id = w.bike_id JOIN customer c ON c.id = b.customer_id
		WHERE w.met_at IS NULL ORDER BY w.id`)
	if err != nil {
		return nil, fmt.Errorf("loading wishes: %w", err)
	}
	var open []Granted
	open, err = pgx.CollectRows(rows, func(row pgx.CollectableRow) (g Granted, err error) {
		err = row.Scan(&g.Wish.ID, &g.Wish.BikeID, &g.Wish.Place, &g.Wish.Family, &g.Wish.Dims, &g.Wish.Words, &g.Owner)
		return g, err
	})
	if err != nil {
		return nil, fmt.Errorf("loading wishes: %w", err)
	}
	deliveries, err := inventory.LoadDeliveries(ctx, db, now)
	if err != nil {
		return nil, err
	}
	var out []Granted
	for _, g := range open {
		parts, err := inventory.FindParts(ctx, db, inventory.Search{Family: g.Wish.Family, Dims: g.Wish.Dims, Limit: 50})
		if err != nil {
			return nil, err
		}
		for _, p := range parts {
			source, err := sourceNow(ctx, db, deliveries, p.ID)
			if err != nil {
				return nil, err
			}
			if source != "" {
				g.Part, g.Source = p, source
				out = append(out, g)
				break
			}
		}
	}
	return out, nil
}

// sourceNow says where a part can be had at once: on the shelf, or in stock at a supplier; empty if nowhere.
func sourceNow(ctx context.Context, db inventory.DB, d *inventory.Deliveries, partID int64) (string, error) {
	stock, err := inventory.StockOf(ctx, db, []int64{partID})
	if err != nil {
		return "", err
	}
	if stock[partID].Free() > 0 {
		return "on the shelf", nil
	}
	offers, err := inventory.OffersOf(ctx, db, []int64{partID})
	if err != nil {
		return "", err
	}
	for _, o := range offers[partID] {
		if o.Stock != inventory.InStock {
			continue
		}
		promise, err := d.Promise([]leadtime.Shipment{d.Shipment(o.SupplierID, o.Stock)})
		if err == nil {
			return d.Supplier(o.SupplierID).Name + ", here by " + promise.Words(d.Today), nil
		}
	}
	return "", nil
}

package pricing

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/substitution"
)

// Wish is what a customer would rather have had: "fit the black one next time". It is remembered with the bike, shows up
// when a part that fits the bike and is so can be had, and is met when such a part is fitted.
type Wish struct {
	ID     int64                         `json:"id"`
	BikeID int64                         `json:"bike"`
	Place  substitution.Place            `json:"place"`
	Family substitution.Family           `json:"family"`
	Dims   map[string]substitution.Value `json:"dims"` // what the part must be, beside fitting
	Words  string                        `json:"words"`
}

// wishFor makes the wish that a deviation suggests: the part as it was in what the deviation's rule looks at, where it
// now differs. That the chain was cut to 108 links is nobody's wish.
func wishFor(bike Bike, d Deviation) (Wish, error) {
	part := bike.Build[d.Place]
	if part == nil {
		return Wish{}, fmt.Errorf("nothing is recorded of the %s, so there is nothing to wish back", siteWords(d.Place))
	}
	dims := map[string]substitution.Value{}
	for _, i := range substitution.Instances(d.Place) {
		if i.Rule().ID != d.Rule || i.At() != d.Place {
			continue
		}
		for _, r := range i.Reads() {
			if v, known := part.Get(r.Dimension); known && r.Place == d.Place {
				dims[r.Dimension] = v
			}
		}
	}
	if len(dims) == 0 {
		return Wish{}, fmt.Errorf("nothing is recorded of how the %s was, so there is nothing to wish back", siteWords(d.Place))
	}
	return Wish{BikeID: bike.ID, Place: d.Place, Family: part.Family, Dims: dims,
		Words: wishWords(d)}, nil
}

func wishWords(d Deviation) string { return fmt.Sprintf("%s as it was: %s", siteWords(d.Place), d.Was) }

// Against reports whether the wish is to have as it was what a difference changes.
func (w Wish) Against(d Deviation) bool { return w.Place == d.Place && w.Words == wishWords(d) }

// addWish remembers a wish.
func addWish(ctx context.Context, tx pgx.Tx, w Wish) (Wish, error) {
	err := tx.QueryRow(ctx, `INSERT INTO wish (bike_id, place, family, dims, words) VALUES ($1, $2, $3, $4, $5) RETURNING id`,
		w.BikeID, w.Place, w.Family, w.Dims, w.Words).Scan(&w.ID)
	if err != nil {
		return Wish{}, fmt.Errorf("remembering %q: %w", w.Words, err)
	}
	return w, nil
}

// meetWishes ends the wishes for a place that a part now fitted there grants.
func meetWishes(ctx context.Context, tx pgx.Tx, bikeID int64, place substitution.Place, part substitution.Part) error {
	_, err := tx.Exec(ctx, `UPDATE wish SET met_at = shop_clock() WHERE bike_id = $1 AND place = $2 AND met_at IS NULL AND gone_at IS NULL AND $3::jsonb @> dims`,
		bikeID, place, part.Spec.Values())
	if err != nil {
		return fmt.Errorf("the wishes for the %s: %w", siteWords(place), err)
	}
	return nil
}

// Granted is a wish that can be met now.
type Granted struct {
	Wish   Wish           `json:"wish"`
	Part   inventory.Part `json:"part"`
	Owner  string         `json:"owner"`
	Reach  string         `json:"reach,omitempty"` // how to reach them
	Bike   string         `json:"words"`
	Source string         `json:"source"` // "on the shelf", or a supplier with the date
}

// GrantableWishes are the open wishes that the shelf, or a supplier that has the part in stock, could meet now.
func GrantableWishes(ctx context.Context, db inventory.DB, deliveries *inventory.Deliveries) ([]Granted, error) {
	open, err := openWishes(ctx, db, `TRUE`)
	if err != nil {
		return nil, err
	}
	return grantable(ctx, db, deliveries, open)
}

// WishesOf are the open wishes of one bike that could be met now.
func WishesOf(ctx context.Context, db inventory.DB, bikeID int64, now time.Time) ([]Granted, error) {
	open, err := openWishes(ctx, db, `w.bike_id = $1`, bikeID)
	if err != nil || len(open) == 0 {
		return nil, err
	}
	deliveries, err := inventory.LoadDeliveries(ctx, db, now)
	if err != nil {
		return nil, err
	}
	return grantable(ctx, db, deliveries, open)
}

// WishesMetBy are the open wishes that parts which have just come could meet, as far as they are on the shelf and nobody's.
func WishesMetBy(ctx context.Context, db inventory.DB, partIDs []int64) ([]Granted, error) {
	parts, err := inventory.Parts(ctx, db, partIDs)
	if err != nil {
		return nil, err
	}
	stock, err := inventory.StockOf(ctx, db, partIDs)
	if err != nil {
		return nil, err
	}
	var families []string
	for id, p := range parts {
		if stock[id].Free() > 0 {
			families = append(families, string(p.Family))
		}
	}
	open, err := openWishes(ctx, db, `w.family = ANY($1)`, families)
	if err != nil {
		return nil, err
	}
	var out []Granted
	for _, g := range open {
		suit, err := suiting(ctx, db, g.Wish)
		if err != nil {
			return nil, err
		}
		for _, p := range suit {
			if _, came := parts[p.ID]; came && stock[p.ID].Free() > 0 {
				g.Part, g.Source = p, "on the shelf"
				out = append(out, g)
				break
			}
		}
	}
	return out, nil
}

// OpenWishes are the wishes of a bike that nothing has met yet.
func OpenWishes(ctx context.Context, db inventory.DB, bikeID int64) ([]Wish, error) {
	open, err := openWishes(ctx, db, `w.bike_id = $1`, bikeID)
	out := make([]Wish, len(open))
	for i, g := range open {
		out[i] = g.Wish
	}
	return out, err
}

// openWishes are the wishes that nothing has met yet, with whose they are and without a part.
func openWishes(ctx context.Context, db inventory.DB, where string, args ...any) ([]Granted, error) {
	rows, err := db.Query(ctx, `
		SELECT w.id, w.bike_id, w.place, w.family, w.dims, w.words, b.words, `+customerColumns+`
		FROM wish w JOIN bike b ON b.id = w.bike_id JOIN customer c ON c.id = b.customer_id
		WHERE w.met_at IS NULL AND w.gone_at IS NULL AND `+where+` ORDER BY w.id`, args...)
	if err == nil {
		var open []Granted
		open, err = pgx.CollectRows(rows, func(row pgx.CollectableRow) (g Granted, err error) {
			var c Customer
			err = row.Scan(&g.Wish.ID, &g.Wish.BikeID, &g.Wish.Place, &g.Wish.Family, &g.Wish.Dims, &g.Wish.Words, &g.Bike,
				&c.ID, &c.Name, &c.Phone, &c.Email, &c.Contact)
			g.Owner, g.Reach = c.Name, c.Reach()
			return g, err
		})
		if err == nil {
			return open, nil
		}
	}
	return nil, fmt.Errorf("loading wishes: %w", err)
}

// grantable are the open wishes that could be met now, each with the first part that would meet it.
func grantable(ctx context.Context, db inventory.DB, deliveries *inventory.Deliveries, open []Granted) (out []Granted, err error) {
	for _, g := range open {
		parts, err := suiting(ctx, db, g.Wish)
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

// suiting are the parts that are as a wish asks, fit its bike as it is now, and change nothing else in how it works.
func suiting(ctx context.Context, db inventory.DB, w Wish) ([]inventory.Part, error) {
	bike, err := BikeByID(ctx, db, w.BikeID)
	if err != nil {
		return nil, err
	}
	parts, err := inventory.FindParts(ctx, db, inventory.Search{Family: w.Family, Dims: w.Dims, Limit: mostCandidates})
	if err != nil {
		return nil, err
	}
	build := bike.Build.Complete()
	scene := substitution.Scene{Was: build, Now: build}
	return slices.DeleteFunc(parts, func(p inventory.Part) bool {
		v := scene.Choose(w.Place, &p.Part).Check(w.Place)
		return !v.Acceptable() || slices.ContainsFunc(v.Deviations(), w.unasked)
	}), nil
}

// unasked reports whether a difference in function is none that the wish is about.
func (w Wish) unasked(f substitution.Finding) bool {
	return f.Rule.Severity == substitution.Function && !slices.ContainsFunc(f.Rule.Reads(), func(r substitution.Ref) bool {
		_, asked := w.Dims[r.Dimension]
		return asked
	})
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
		promise, err := d.OfferPromise(o)
		if err == nil {
			return d.Supplier(o.SupplierID).Name + ", here by " + promise.Words(d.Today), nil
		}
	}
	return "", nil
}

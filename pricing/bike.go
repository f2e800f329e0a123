package pricing

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/substitution"
)

// Customer is whose bike it is.
type Customer struct {
	ID      int64  `json:"id"`
	Name    string `json:"name"`
	Contact string `json:"contact,omitempty"`
}

// Bike is a customer's bike with what is fitted to it, as far as it is known.
type Bike struct {
	ID       int64              `json:"id"`
	Customer Customer           `json:"customer"`
	Words    string             `json:"bike"`
	Build    substitution.Build `json:"build"`
}

// AddBike books a new bike of a new customer. Every place and part is checked against the vocabulary.
func AddBike(ctx context.Context, tx pgx.Tx, b Bike) (Bike, error) {
	b.Customer.Name, b.Words = strings.TrimSpace(b.Customer.Name), strings.TrimSpace(b.Words)
	if b.Customer.Name == "" || b.Words == "" {
		return Bike{}, errors.New("a bike needs an owner's name and a few words to know it by, such as \"blue touring bike\"")
	}
	err := tx.QueryRow(ctx, `INSERT INTO customer (name, contact) VALUES ($1, $2) RETURNING id`,
		b.Customer.Name, b.Customer.Contact).Scan(&b.Customer.ID)
	if err != nil {
		return Bike{}, fmt.Errorf("booking in customer %q: %w", b.Customer.Name, err)
	}
	err = tx.QueryRow(ctx, `INSERT INTO bike (customer_id, words) VALUES ($1, $2) RETURNING id`,
		b.Customer.ID, b.Words).Scan(&b.ID)
	if err != nil {
		return Bike{}, fmt.Errorf("booking in %s's bike: %w", b.Customer.Name, err)
	}
	for _, place := range b.Build.Places() {
		if err := SetFitted(ctx, tx, b.ID, place, b.Build[place]); err != nil {
			return Bike{}, err
		}
	}
	return b, nil
}

// SetFitted records what sits at a place of a bike; a nil part says that one is there and nothing is known of it yet.
func SetFitted(ctx context.Context, tx pgx.Tx, bikeID int64, place substitution.Place, part *substitution.Part) error {
	site, err := substitution.SiteOf(place)
	if err != nil {
		return err
	}
	var row fittedRow
	if part != nil {
		if part.Family != site.Family {
			return fmt.Errorf("%s takes a %s, not a %s", place, site.Family, part.Family)
		}
		checked, err := part.Check()
		if err != nil {
			return fmt.Errorf("%s: %w", place, err)
		}
		family := string(checked.Family)
		row = fittedRow{Family: &family, Name: checked.Name, Dims: checked.Spec.Values(), Origins: checked.Spec.Origins(), Notes: checked.Spec.Notes()}
	}
	_, err = tx.Exec(ctx, `
		INSERT INTO fitted (bike_id, place, family, name, dims, origins, notes)
		VALUES ($1, $2, $3, $4, coalesce($5::jsonb, '{}'), coalesce($6::jsonb, '{}'), coalesce($7::jsonb, '{}'))
		ON CONFLICT (bike_id, place) DO UPDATE
		SET family = excluded.family, name = excluded.name, dims = excluded.dims, origins = excluded.origins, notes = excluded.notes`,
		bikeID, place, row.Family, row.Name, row.Dims, row.Origins, row.Notes)
	if err != nil {
		return fmt.Errorf("recording the %s: %w", site.Words, err)
	}
	return nil
}

// fittedRow is a row of the table fitted.
type fittedRow struct {
	Place   substitution.Place
	Family  *string
	Name    string
	Dims    map[string]substitution.Value
	Origins map[string]substitution.Origin
	Notes   map[string]string
}

// part is nil where nothing is known. What an older vocabulary let in stays as it was.
func (r fittedRow) part() (*substitution.Part, error) {
	if r.Family == nil {
		return nil, nil
	}
	p, err := substitution.Part{Family: substitution.Family(*r.Family), Name: r.Name, Spec: substitution.MakeSpec(r.Dims, r.Origins, r.Notes)}.Recorded()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", r.Place, err)
	}
	return &p, nil
}

// BikeByID loads a bike with its owner and its build.
func BikeByID(ctx context.Context, db inventory.DB, id int64) (Bike, error) {
	b := Bike{ID: id, Build: substitution.Build{}}
	err := db.QueryRow(ctx, `
		SELECT b.words, c.id, c.name, c.contact
		FROM bike b JOIN customer c ON c.id = b.customer_id
		WHERE b.id = $1`, id).Scan(&b.Words, &b.Customer.ID, &b.Customer.Name, &b.Customer.Contact)
	if errors.Is(err, pgx.ErrNoRows) {
		return Bike{}, fmt.Errorf("there is no bike %d", id)
	}
	if err != nil {
		return Bike{}, fmt.Errorf("loading bike %d: %w", id, err)
	}
	rows, err := db.Query(ctx, `SELECT place, family, name, dims, origins, notes FROM fitted WHERE bike_id = $1`, id)
	if err != nil {
		return Bike{}, fmt.Errorf("loading the build of bike %d: %w", id, err)
	}
	fitted, err := pgx.CollectRows(rows, pgx.RowToStructByName[fittedRow])
	if err != nil {
		return Bike{}, fmt.Errorf("loading the build of bike %d: %w", id, err)
	}
	for _, f := range fitted {
		if b.Build[f.Place], err = f.part(); err != nil {
			return Bike{}, fmt.Errorf("loading the build of bike %d: %w", id, err)
		}
	}
	return b, nil
}

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

// Bike is a customer's bike with what is fitted to it, as far as it is known.
type Bike struct {
	ID          int64              `json:"id"`
	Customer    Customer           `json:"customer"`
	Words       string             `json:"bike"`
	FrameNumber string             `json:"frame_number,omitempty"` // as it is stamped
	Build       substitution.Build `json:"build"`
}

// AddBike puts a new bike on record, of a customer who has a number or of a new one. Every place and part is checked
// against the vocabulary.
func AddBike(ctx context.Context, tx pgx.Tx, b Bike) (Bike, error) {
	b.Customer.Name, b.Words, b.FrameNumber = strings.TrimSpace(b.Customer.Name), strings.TrimSpace(b.Words), strings.TrimSpace(b.FrameNumber)
	if b.Customer.Name == "" || b.Words == "" {
		return Bike{}, errors.New("a bike needs an owner's name and a few words to know it by, such as \"blue touring bike\"")
	}
	var err error
	if b.Customer.ID == 0 {
		if b.Customer, err = AddCustomer(ctx, tx, b.Customer); err != nil {
			return Bike{}, err
		}
	}
	err = tx.QueryRow(ctx, `INSERT INTO bike (customer_id, words, frame_number) VALUES ($1, $2, $3) RETURNING id`,
		b.Customer.ID, b.Words, b.FrameNumber).Scan(&b.ID)
	if err != nil {
		return Bike{}, fmt.Errorf("booking in %s's bike: %w", b.Customer.Name, err)
	}
	for _, place := range b.Build.Places() {
		if err := setFitted(ctx, tx, b.ID, place, b.Build[place]); err != nil {
			return Bike{}, err
		}
	}
	return b, nil
}

// BikesOf are a customer's bikes without their builds.
func BikesOf(ctx context.Context, db inventory.DB, customerID int64) ([]Bike, error) {
	return bikes(ctx, db, `WHERE b.customer_id = $1 ORDER BY b.id`, customerID)
}

// bikes are bikes with their owners and without their builds.
func bikes(ctx context.Context, db inventory.DB, rest string, args ...any) ([]Bike, error) {
	rows, err := db.Query(ctx, `SELECT b.id, b.words, b.frame_number, `+customerColumns+` FROM bike b JOIN customer c ON c.id = b.customer_id `+rest, args...)
	if err == nil {
		var list []Bike
		list, err = pgx.CollectRows(rows, func(row pgx.CollectableRow) (b Bike, err error) {
			b.Build = substitution.Build{}
			c := &b.Customer
			err = row.Scan(&b.ID, &b.Words, &b.FrameNumber, &c.ID, &c.Name, &c.Phone, &c.Email, &c.Contact)
			return b, err
		})
		if err == nil {
			return list, nil
		}
	}
	return nil, fmt.Errorf("loading bikes: %w", err)
}

// CorrectBike changes the words, the frame number or the owner of a bike and keeps the trail. What is fitted to it is
// recorded, not corrected.
func CorrectBike(ctx context.Context, tx pgx.Tx, id int64, hand inventory.Hand, change func(*Bike)) (Bike, error) {
	if _, err := tx.Exec(ctx, `SELECT FROM bike WHERE id = $1 FOR NO KEY UPDATE`, id); err != nil {
		return Bike{}, fmt.Errorf("loading bike %d: %w", id, err)
	}
	was, err := BikeByID(ctx, tx, id)
	if err != nil {
		return Bike{}, err
	}
	is := was
	change(&is)
	is.Words, is.FrameNumber = strings.TrimSpace(is.Words), strings.TrimSpace(is.FrameNumber)
	if is.Words == "" {
		return Bike{}, errors.New("a bike needs a few words to know it by, such as \"blue touring bike\"")
	}
	if is.Customer, err = CustomerByID(ctx, tx, is.Customer.ID); err != nil {
		return Bike{}, err
	}
	owner := func(c Customer) string { return fmt.Sprintf("%s (customer %d)", c.Name, c.ID) }
	err = inventory.Correct(ctx, tx, hand, inventory.OfBike, id, inventory.Change{What: "words", Was: was.Words, Became: is.Words},
		inventory.Change{What: "frame number", Was: was.FrameNumber, Became: is.FrameNumber},
		inventory.Change{What: "owner", Was: owner(was.Customer), Became: owner(is.Customer)})
	if err != nil {
		return Bike{}, err
	}
	if _, err := tx.Exec(ctx, `UPDATE bike SET words = $2, frame_number = $3, customer_id = $4 WHERE id = $1`, id, is.Words, is.FrameNumber, is.Customer.ID); err != nil {
		return Bike{}, fmt.Errorf("correcting bike %d: %w", id, err)
	}
	return is, nil
}

// frameLetters is a frame number as it is compared: letters and figures alone, as frame_letters in the schema has it.
func frameLetters(number string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, strings.ToLower(number))
}

// setFitted records what sits at a place of a bike; a nil part says that one is there and nothing is known of it yet.
func setFitted(ctx context.Context, tx pgx.Tx, bikeID int64, place substitution.Place, part *substitution.Part) error {
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
	found, err := bikes(ctx, db, `WHERE b.id = $1`, id)
	if err == nil && len(found) == 0 {
		err = &inventory.UnknownError{Kind: inventory.OfBike, Name: fmt.Sprint(id)}
	}
	if err != nil {
		return Bike{}, err
	}
	b := found[0]
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

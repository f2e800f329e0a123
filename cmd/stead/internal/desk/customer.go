package desk

import (
	"context"
	"fmt"
	"strings"

	"stead/inventory"
	"stead/inventory/photo"
	"stead/pricing"
	"stead/substitution"
)

// Customer is a customer with all that is on record of them.
type Customer struct {
	pricing.Customer
	Bikes     []CustomersBike        `json:"bikes"`
	Corrected []inventory.Correction `json:"corrected,omitempty"`
}

// CustomersBike is a bike with what was done to it and what is wished for it.
type CustomersBike struct {
	ID          int64                `json:"id"`
	Words       string               `json:"words"`
	FrameNumber string               `json:"frame_number,omitempty"`
	Jobs        []pricing.JobSummary `json:"jobs"` // the newest first
	Wishes      []pricing.Wish       `json:"wishes"`
}

// CustomerWords name a customer, with how to reach them.
func CustomerWords(c pricing.Customer) string {
	words := fmt.Sprintf("customer %d: %s", c.ID, c.Name)
	if reach := c.Reach(); reach != "" {
		words += ", " + reach
	}
	return words
}

// BikeWords name a bike, with the number stamped on its frame.
func BikeWords(id int64, words, frame string) string {
	words = fmt.Sprintf("bike %d: %s", id, words)
	if frame != "" {
		words += ", frame " + frame
	}
	return words
}

// PastJobWords are a job in the history of its bike.
func PastJobWords(j pricing.JobSummary) string {
	if j.EndedOn != nil {
		return fmt.Sprintf("job %d, %s on %s", j.ID, j.State, j.EndedOn)
	}
	return fmt.Sprintf("job %d, %s, booked in on %s", j.ID, j.State, j.BookedOn)
}

// LoadCustomer gathers all that a customer's screen tells.
func LoadCustomer(ctx context.Context, db inventory.DB, id int64) (v Customer, err error) {
	if v.Customer, err = pricing.CustomerByID(ctx, db, id); err != nil {
		return v, err
	}
	if v.Bikes, err = bikesOf(ctx, db, id); err != nil {
		return v, err
	}
	v.Corrected, err = inventory.Corrections(ctx, db, inventory.OfCustomer, id)
	return v, err
}

func bikesOf(ctx context.Context, db inventory.DB, customerID int64) ([]CustomersBike, error) {
	bikes, err := pricing.BikesOf(ctx, db, customerID)
	if err != nil {
		return nil, err
	}
	out := []CustomersBike{}
	for _, b := range bikes {
		one := CustomersBike{ID: b.ID, Words: b.Words, FrameNumber: b.FrameNumber}
		if one.Jobs, err = pricing.Jobs(ctx, db, pricing.JobSearch{All: true, BikeID: b.ID}); err != nil {
			return nil, err
		}
		if one.Wishes, err = pricing.OpenWishes(ctx, db, b.ID); err != nil {
			return nil, err
		}
		out = append(out, one)
	}
	return out, nil
}

// mostFound is how many customers are shown at once.
const mostFound = 20

// FindCustomers looks for customers by what one knows of them, each with their bikes.
func FindCustomers(ctx context.Context, db inventory.DB, text string) ([]Customer, error) {
	found, err := pricing.FindCustomers(ctx, db, text, mostFound)
	out := make([]Customer, len(found))
	for i, c := range found {
		if out[i], err = LoadCustomer(ctx, db, c.ID); err != nil {
			return nil, err
		}
	}
	return out, err
}

// Bike is a bike with all that is on record of it.
type Bike struct {
	pricing.Bike
	Jobs      []pricing.JobSummary   `json:"jobs"` // the newest first
	Wishes    []pricing.Wish         `json:"wishes"`
	Photos    []Photo                `json:"photos,omitempty"` // of its jobs too
	Corrected []inventory.Correction `json:"corrected,omitempty"`
}

// LoadBike gathers all that a bike's screen tells.
func LoadBike(ctx context.Context, db inventory.DB, id int64) (v Bike, err error) {
	if v.Bike, err = pricing.BikeByID(ctx, db, id); err != nil {
		return v, err
	}
	if v.Jobs, err = pricing.Jobs(ctx, db, pricing.JobSearch{All: true, BikeID: id}); err != nil {
		return v, err
	}
	if v.Wishes, err = pricing.OpenWishes(ctx, db, id); err != nil {
		return v, err
	}
	if v.Photos, err = LoadPhotos(ctx, db, photo.Of{BikeID: id}); err != nil {
		return v, err
	}
	v.Corrected, err = inventory.Corrections(ctx, db, inventory.OfBike, id)
	return v, err
}

// Receipt is a delivery that was booked in, with the customers who wished for what came.
type Receipt struct {
	inventory.Receipt
	Wishes []pricing.Granted `json:"wishes_that_can_be_met,omitempty"`
}

// LoadReceipt adds to a delivery what it means for wishes.
func LoadReceipt(ctx context.Context, db inventory.DB, r inventory.Receipt) (Receipt, error) {
	order, err := inventory.OrderByID(ctx, db, r.OrderID)
	if err != nil {
		return Receipt{}, err
	}
	var parts []int64
	for _, a := range r.Arrived {
		for _, l := range order.Lines {
			if l.ID == a.LineID {
				parts = append(parts, l.PartID)
			}
		}
	}
	wishes, err := pricing.WishesMetBy(ctx, db, parts)
	return Receipt{r, wishes}, err
}

// FittedWords is what is known of a part on a bike.
func FittedWords(p *substitution.Part) string {
	if p == nil {
		return "a part of which nothing is known"
	}
	words := p.Spec.String()
	if p.Name != "" {
		words = strings.TrimSpace(p.Name + ": " + words)
	}
	return words
}

// PlainWords are what is known of a part on a bike, each dimension as it is called at the bench.
func PlainWords(p *substitution.Part) string {
	if p == nil {
		return FittedWords(p)
	}
	table, err := substitution.TableOf(p.Family)
	if err != nil {
		return FittedWords(p)
	}
	var known []string
	for _, name := range p.Spec.Names() {
		if d, ok := table.Dimension(name); ok {
			known = append(known, d.Plain()+" "+d.Show(p.Spec[name].Value))
		}
	}
	words := strings.Join(known, ", ")
	if p.Name != "" {
		words = strings.TrimSuffix(p.Name+": "+words, ": ")
	}
	return words
}

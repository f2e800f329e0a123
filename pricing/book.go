package pricing

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory/calendar"
	"stead/substitution"
)

// Booking is what is said when a bike is brought in.
type Booking struct {
	Customer    Customer // by number, or by name with what else is said
	NewCustomer bool     // somebody else of that name
	Bike        Bike     // by number, or by words, with its frame number if that was read
	Wish        string   // in the customer's words
	WantedBy    *calendar.Day
	Limits      Limits
}

// BookedIn is a job just opened, with what the bike brings if it was here before.
type BookedIn struct {
	JobID    int64        `json:"job"`
	Customer Customer     `json:"customer"`
	BikeID   int64        `json:"bike"`
	Bike     string       `json:"words"`
	Known    int          `json:"places_known"`      // places of which something is on record
	Before   []JobSummary `json:"jobs_before"`       // of this bike, the newest first
	Bikes    int          `json:"other_bikes"`       // the customer's others
	Wishes   []Wish       `json:"wishes"`            // still open
	Advised  []Advice     `json:"advised,omitempty"` // in its earlier jobs, and not done since
	Granted  []Granted    `json:"wishes_that_can_be_met"`
}

// SeveralCustomersError says that more than one customer, or another one than is meant, may go by what was said.
type SeveralCustomersError struct {
	Name  string
	Among []Customer // five at most
	other bool       // the one of that name is reached otherwise
}

func (e *SeveralCustomersError) Error() string {
	var who []string
	for _, c := range e.Among {
		words := fmt.Sprintf("customer %d", c.ID)
		if reach := c.Reach(); reach != "" {
			words += " (" + reach + ")"
		}
		who = append(who, words)
	}
	if e.other {
		return fmt.Sprintf("%s is on record as %s, reached otherwise: say which customer it is by number, or that it is somebody new", e.Name, joinOr(who))
	}
	return fmt.Sprintf("several customers are called %s: %s; say which by number, or that it is somebody new", e.Name, joinOr(who))
}

// Book opens a job for a bike. A customer who was here before is known by name, where only one is called so and nothing said
// speaks against it, and their bike by its words or its frame number; who or what is not known yet is put on record.
func Book(ctx context.Context, tx pgx.Tx, b Booking, now time.Time) (BookedIn, error) {
	bike, err := whichBike(ctx, tx, b)
	if err != nil {
		return BookedIn{}, err
	}
	out := BookedIn{Customer: bike.Customer, BikeID: bike.ID, Bike: bike.Words, Before: []JobSummary{}, Wishes: []Wish{}, Granted: []Granted{}}
	if out.Before, err = Jobs(ctx, tx, JobSearch{All: true, BikeID: bike.ID}); err != nil {
		return BookedIn{}, err
	}
	for _, place := range b.Bike.Build.Places() {
		if err := setFitted(ctx, tx, bike.ID, place, b.Bike.Build[place]); err != nil {
			return BookedIn{}, err
		}
	}
	if out.JobID, err = OpenJob(ctx, tx, bike.ID, b.Wish, b.WantedBy, b.Limits, now); err != nil {
		return BookedIn{}, err
	}
	whole, err := BikeByID(ctx, tx, bike.ID)
	if err != nil {
		return BookedIn{}, err
	}
	out.Known = len(whole.Build)
	others, err := BikesOf(ctx, tx, bike.Customer.ID)
	if err != nil {
		return BookedIn{}, err
	}
	out.Bikes = len(others) - 1
	if out.Advised, err = AdvisedOn(ctx, tx, bike.ID); err != nil {
		return BookedIn{}, err
	}
	if out.Wishes, err = OpenWishes(ctx, tx, bike.ID); err != nil {
		return BookedIn{}, err
	}
	out.Granted, err = WishesOf(ctx, tx, bike.ID, now)
	return out, err
}

// whichBike is the bike that is brought in, put on record if it is not yet.
func whichBike(ctx context.Context, tx pgx.Tx, b Booking) (Bike, error) {
	if b.Bike.ID != 0 {
		bike, err := BikeByID(ctx, tx, b.Bike.ID)
		switch {
		case err != nil:
			return Bike{}, err
		case b.Customer.ID != 0 && b.Customer.ID != bike.Customer.ID, b.Customer.Name != "" && !strings.EqualFold(strings.TrimSpace(b.Customer.Name), bike.Customer.Name):
			return Bike{}, fmt.Errorf("bike %d is %s's: leave the customer out, or give the bike to its new owner first", bike.ID, bike.Customer.Name)
		}
		return bike, nil
	}
	customer, err := whichCustomer(ctx, tx, b)
	if err != nil {
		return Bike{}, err
	}
	known, err := BikesOf(ctx, tx, customer.ID)
	if err != nil {
		return Bike{}, err
	}
	same := func(bike Bike) bool {
		if b.Bike.FrameNumber != "" && bike.FrameNumber != "" {
			return frameLetters(b.Bike.FrameNumber) == frameLetters(bike.FrameNumber)
		}
		return strings.EqualFold(strings.TrimSpace(b.Bike.Words), bike.Words)
	}
	var found []Bike
	for _, bike := range known {
		if same(bike) {
			found = append(found, bike)
		}
	}
	switch {
	case len(found) > 1:
		return Bike{}, fmt.Errorf("%s has %d bikes called %q: say which by its number or frame number", customer.Name, len(found), b.Bike.Words)
	case len(found) == 1:
		bike := found[0]
		if bike.FrameNumber == "" && b.Bike.FrameNumber != "" {
			bike.FrameNumber = strings.TrimSpace(b.Bike.FrameNumber)
			if _, err := tx.Exec(ctx, `UPDATE bike SET frame_number = $2 WHERE id = $1`, bike.ID, bike.FrameNumber); err != nil {
				return Bike{}, fmt.Errorf("recording the frame number of bike %d: %w", bike.ID, err)
			}
		}
		return bike, nil
	}
	return AddBike(ctx, tx, Bike{Customer: customer, Words: b.Bike.Words, FrameNumber: b.Bike.FrameNumber, Build: substitution.Build{}})
}

// whichCustomer is the customer who brings a bike, put on record if they are not yet. What was said of how to reach them
// fills what was not known.
func whichCustomer(ctx context.Context, tx pgx.Tx, b Booking) (Customer, error) {
	if b.Customer.ID != 0 {
		return CustomerByID(ctx, tx, b.Customer.ID)
	}
	said, err := b.Customer.Check()
	if err != nil || b.NewCustomer {
		return said, err
	}
	all, err := customers(ctx, tx, `WHERE lower(c.name) = lower($1) ORDER BY c.id DESC`, said.Name)
	if err != nil {
		return Customer{}, err
	}
	var agree, silent []Customer
	for _, c := range all {
		switch agrees, against := c.reachedBy(said); {
		case agrees:
			agree = append(agree, c)
		case !against:
			silent = append(silent, c)
		}
	}
	switch {
	case len(all) == 0:
		return said, nil
	case len(agree) == 1:
		return completed(ctx, tx, agree[0], said)
	case len(agree) == 0 && len(silent) == 1 && len(all) == 1:
		return completed(ctx, tx, silent[0], said)
	}
	return Customer{}, &SeveralCustomersError{Name: said.Name, Among: all[:min(5, len(all))], other: len(all) == 1}
}

// reachedBy tells whether a customer on record is reached as was said, by telephone or by email, and whether by another
// number or address. Neither where there is nothing to compare.
func (c Customer) reachedBy(said Customer) (agrees, against bool) {
	phone := said.Phone != "" && lastFigures(figures(said.Phone)) == lastFigures(figures(c.Phone))
	email := said.Email != "" && strings.EqualFold(said.Email, c.Email)
	return phone || email, said.Phone != "" && c.Phone != "" && !phone || said.Email != "" && c.Email != "" && !email
}

// completed is a customer on record with what was not known of how to reach them.
func completed(ctx context.Context, tx pgx.Tx, c, said Customer) (Customer, error) {
	was := c
	for _, f := range []struct{ known, said *string }{{&c.Phone, &said.Phone}, {&c.Email, &said.Email}, {&c.Contact, &said.Contact}} {
		if *f.known == "" {
			*f.known = *f.said
		}
	}
	if c == was {
		return c, nil
	}
	if _, err := tx.Exec(ctx, `UPDATE customer SET phone = $2, email = $3, contact = $4 WHERE id = $1`, c.ID, c.Phone, c.Email, c.Contact); err != nil {
		return Customer{}, fmt.Errorf("recording how to reach %s: %w", c.Name, err)
	}
	return c, nil
}

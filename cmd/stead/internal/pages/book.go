package pages

import (
	"context"
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/pricing"
)

// bookPage books a bike in: a bike that was here, another of a customer who was, or both new.
type bookPage struct {
	Words    string
	Found    []desk.Customer
	Bike     *pricing.Bike     // one that was here
	Customer *pricing.Customer // who was here, with another bike
}

func showBook(v *visit) (string, any, error) {
	p := bookPage{Words: v.asked("q")}
	var err error
	switch bike, customer := v.askedNumber("bike"), v.askedNumber("customer"); {
	case bike != 0:
		var b pricing.Bike
		if b, err = pricing.BikeByID(v.ctx, v.db(), bike); err == nil {
			p.Bike = &b
		}
	case customer != 0:
		var c pricing.Customer
		if c, err = pricing.CustomerByID(v.ctx, v.db(), customer); err == nil {
			p.Customer = &c
		}
	case p.Words != "":
		p.Found, err = desk.FindCustomers(v.ctx, v.db(), p.Words)
	}
	return "Book in a bike", p, err
}

func bookIn(v *visit, t *typed) (string, error) {
	var b pricing.Booking
	if b.Bike.ID = v.askedNumber("bike"); b.Bike.ID == 0 {
		b.Bike.Words = t.needed("bike", "give a few words to know the bike by, such as “blue touring bike”")
		if b.Customer.ID = v.askedNumber("customer"); b.Customer.ID == 0 {
			b.Customer.Name = t.needed("customer", "say whose bike it is")
			b.Customer = b.Customer.ReachedBy(t.line("contact"))
			b.NewCustomer = t.ticked("new")
		}
		b.Bike.FrameNumber = t.line("frame")
	}
	b.Wish = t.text("wish")
	b.WantedBy = t.comingDay("wanted")
	b.Limits = pricing.Limits{SameFinish: t.ticked("same-finish"), NoFunctionChange: t.ticked("no-function-change"),
		Latest: t.comingDay("latest"), MostToSpend: t.amount("most")}
	if err := t.wrong(); err != nil {
		return "", err
	}
	in, err := change(v, "booked the bike in", func(ctx context.Context, tx pgx.Tx, _ string) (pricing.BookedIn, error) {
		return pricing.Book(ctx, tx, b, v.now)
	})
	var several *pricing.SeveralCustomersError
	if errors.As(err, &several) {
		t.mark("customer", several.Error())
		return "", errWrong
	}
	return v.done(fmt.Sprintf("/jobs/%d", in.JobID), fmt.Sprintf("job %d is booked in", in.JobID), err)
}

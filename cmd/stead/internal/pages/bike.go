package pages

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
)

// bikePage is a bike with what is fitted, what was done to it, and what is wished for it.
type bikePage struct {
	desk.Bike
	Trail []string
}

func showBike(v *visit) (string, any, error) {
	id, err := v.number("bike")
	if err != nil {
		return "", nil, err
	}
	p := bikePage{}
	if p.Bike, err = desk.LoadBike(v.ctx, v.db(), id); err != nil {
		return "", nil, err
	}
	p.Trail, err = v.trail(inventory.OfBike, id)
	return p.Words, p, err
}

// PlaceWords and FittedWords are a place, and what is on record there.
func (p bikePage) PlaceWords(place substitution.Place) string { return desk.SiteWords(place) }
func (p bikePage) FittedWords(part *substitution.Part) string { return desk.PlainWords(part) }

func correctBike(v *visit, t *typed) (string, error) {
	id, err := v.number("bike")
	if err != nil {
		return "", err
	}
	words, frame, hand := t.needed("words", "give a few words to know it by"), t.line("frame"), v.hand(t)
	var owner int64
	if t.line("owner") != "" {
		owner = int64(t.count("owner"))
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.done(fmt.Sprintf("/bikes/%d", id), "changed", v.do(fmt.Sprintf("changed bike %d", id), func(ctx context.Context, tx pgx.Tx, _ string) error {
		_, err := pricing.CorrectBike(ctx, tx, id, hand, func(b *pricing.Bike) {
			b.Words, b.FrameNumber = words, frame
			if owner != 0 {
				b.Customer.ID = owner
			}
		})
		return err
	}))
}

func forgetWish(v *visit, t *typed) (string, error) {
	id, err := v.number("bike")
	if err != nil {
		return "", err
	}
	wish, hand := t.number64("row"), v.hand(t)
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.done(fmt.Sprintf("/bikes/%d", id), "the wish is forgotten", v.do("forgot a wish", func(ctx context.Context, tx pgx.Tx, _ string) error {
		return pricing.ForgetWish(ctx, tx, wish, hand)
	}))
}

func correctCustomer(v *visit, t *typed) (string, error) {
	id, err := v.number("customer")
	if err != nil {
		return "", err
	}
	name, phone, email, contact, hand := t.needed("name", "give their name"), t.line("phone"), t.line("email"), t.line("contact"), v.hand(t)
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.done(fmt.Sprintf("/customers/%d", id), "changed", v.do(fmt.Sprintf("changed customer %d", id), func(ctx context.Context, tx pgx.Tx, _ string) error {
		_, err := pricing.CorrectCustomer(ctx, tx, id, hand, func(c *pricing.Customer) {
			c.Name, c.Phone, c.Email, c.Contact = name, phone, email, contact
		})
		return err
	}))
}

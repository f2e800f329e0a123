package desk

import (
	"context"
	"errors"
	"time"

	"stead/inventory"
	"stead/pricing"
	"stead/substitution/solver"
)

// Shop is all that a shop has set once and for all.
type Shop struct {
	inventory.Shop
	Tax    *pricing.Tax     `json:"tax,omitempty"` // in force today; absent: none recorded yet
	Bins   []string         `json:"bins"`
	Labour []pricing.Labour `json:"labour"`

	Weights solver.Weights `json:"weights"` // how much differences count
}

// LoadShop gathers the settings as they stand at a moment.
func LoadShop(ctx context.Context, db inventory.DB, now time.Time) (s Shop, err error) {
	if s.Shop, err = inventory.LoadShop(ctx, db); err != nil {
		return s, err
	}
	tax, err := pricing.TaxOn(ctx, db, now)
	switch {
	case err == nil:
		s.Tax = &tax
	case !errors.Is(err, pricing.ErrNoTax):
		return s, err
	}
	if s.Bins, err = inventory.Bins(ctx, db); err != nil {
		return s, err
	}
	if s.Labour, err = pricing.LabourPrices(ctx, db); err != nil {
		return s, err
	}
	s.Weights, err = pricing.Weights(ctx, db)
	return s, err
}

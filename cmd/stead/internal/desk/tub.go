package desk

import (
	"context"
	"fmt"

	"github.com/shopspring/decimal"

	"stead/inventory"
)

// Tub is a tub that is open on the bench, by name and purpose.
type Tub struct {
	inventory.Tub
	Name    string `json:"name"`
	Purpose string `json:"purpose,omitempty"` // as the label says; absent: not known, and no smear is taken of it
}

// LoadTubs gathers what is open on the bench, the first opened first.
func LoadTubs(ctx context.Context, db inventory.DB) ([]Tub, error) {
	tubs, err := inventory.Tubs(ctx, db)
	if err != nil {
		return nil, err
	}
	var ids []int64
	for _, t := range tubs {
		ids = append(ids, t.PartID)
	}
	parts, err := inventory.Parts(ctx, db, ids)
	if err != nil {
		return nil, err
	}
	out := []Tub{}
	for _, t := range tubs {
		part := parts[t.PartID]
		v := Tub{Tub: t, Name: part.Name}
		if purpose, known := part.Get("purpose"); known {
			v.Purpose = purpose.String()
			if fluid, told := part.Get("fluid"); told {
				v.Purpose += ", " + fluid.String()
			}
		}
		out = append(out, v)
	}
	return out, nil
}

// LeftWords are what is left of a tub: "40 %".
func LeftWords(share decimal.Decimal) string { return fmt.Sprintf("%s %%", share.Shift(2).Round(0)) }

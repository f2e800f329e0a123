package pricing

import (
	"context"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/shelf"
)

// findUseUp finds the parts that jobs are to use up: what a person said of those of which too many lie on the shelf. A
// piece of them costs the workshop only what it brings otherwise, so that it is preferred where it fits. What the
// customer pays for it is as for any other.
func (s *Situation) findUseUp(ctx context.Context, db inventory.DB) error {
	said, err := shelf.LoadSaid(ctx, db)
	if err != nil {
		return err
	}
	s.UseUp = map[int64]bool{}
	for id := range s.Parts {
		if stay, useUp := said[id].Stay(); useUp && s.Stock[id].Free() > stay {
			s.UseUp[id] = true
		}
	}
	if len(s.UseUp) == 0 {
		return nil
	}
	policy, err := shelf.LoadPolicy(ctx, db)
	s.Reduced = decimal.NewFromFloat(policy.Excess.Reduced)
	return err
}

// usesUp is how many pieces an option takes of what is to be used up.
func (o Option) usesUp() (pieces int) {
	for _, p := range o.Parts {
		if p.UseUp {
			pieces += p.Pieces
		}
	}
	return pieces
}

package desk

import (
	"context"
	"fmt"
	"time"

	"stead/inventory"
	"stead/pricing"
)

// LoadWishes are the remembered wishes that can be met now.
func LoadWishes(ctx context.Context, db inventory.DB, now time.Time) ([]pricing.Granted, error) {
	deliveries, err := inventory.LoadDeliveries(ctx, db, now)
	if err != nil {
		return nil, err
	}
	return pricing.GrantableWishes(ctx, db, deliveries)
}

// WishWords say what was wished, and what would meet it.
func WishWords(g pricing.Granted) string {
	return fmt.Sprintf("%s — %s, %s", g.Wish.Words, g.Part.Name, g.Source)
}

// WhoseWish is a wish with whose it is and how to reach them.
func WhoseWish(g pricing.Granted) string {
	who := g.Owner
	if g.Reach != "" {
		who += " (" + g.Reach + ")"
	}
	return who + ": " + WishWords(g)
}

package pages

import (
	"stead/cmd/stead/internal/desk"
)

// cardPage is a job on one sheet for the bench, to print.
type cardPage struct{ desk.Card }

func showCard(v *visit) (string, any, error) {
	id, err := v.number("job")
	if err != nil {
		return "", nil, err
	}
	card, err := desk.LoadCard(v.ctx, v.db(), id, v.now)
	return "Card of job " + v.r.PathValue("job"), cardPage{card}, err
}
